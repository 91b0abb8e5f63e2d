import type { Parts } from './read-parts.js';
import { defect } from './sheet-limits.js';

const CORE = 'docProps/core.xml';

/** Sets the dates of creation and of change, so that they do not depend on the clock. */
export function stampDates(parts: Parts, stamp: Date): void {
  if (Number.isNaN(stamp.getTime())) throw defect('the stamp', 'it is no date', 'give a valid date');
  const core = parts.get(CORE);
  if (core === undefined) return;
  const date = stamp.toISOString().replace(/\.[0-9]+Z$/, 'Z');
  // A raw "<" cannot stand in text or in an attribute, so these are the elements themselves.
  const stamped = core.toString('utf8').replace(/(<dcterms:(?:created|modified)\b[^/>]*>)[^<]*(?=<)/g, `$1${date}`);
  parts.set(CORE, Buffer.from(stamped));
}
