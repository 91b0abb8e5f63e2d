import type { LabelContext } from './checklist-facet-fields.js';
import type { ReadLabel } from './checklist-label-reader.js';

const NUMBERED = /^(?:inspection|insp\.?|report|record|sheet|form|vehicle)s?\s*(?:no\.?|number|#)?\s*[:#]?\s*\d+(?:\s*of\s*\d+)?\s*[:.]*$/iu;
const LONGEST_HEADING = 60;

/**
 * What a label without a value means for the labels below it; null where it is no heading. A test in a heading puts an
 * end to the circuit of the heading before it.
 */
export function headingContext({ fields, facets }: ReadLabel, above: LabelContext): LabelContext | null {
  if (!facets || facets.moment !== null) return null;
  if (facets.test !== null) return { test: facets.test, circuit: facets.circuit };
  if (facets.circuit !== null && fields.length === 0) return { test: above.test, circuit: facets.circuit };
  return null;
}

/**
 * True for a heading that begins an inspection.
 *
 * @example isNumberedHeading('Inspection 2') // true
 */
export function isNumberedHeading(text: string): boolean {
  return text.length <= LONGEST_HEADING && NUMBERED.test(text);
}

/** True for a text that can be a heading, rather than something that was written down. */
export function looksLikeHeading(text: string): boolean {
  return text.length <= LONGEST_HEADING && /\p{L}/u.test(text) && !/\d/.test(text) && !/[.!?;]$|:\s*\S/u.test(text);
}
