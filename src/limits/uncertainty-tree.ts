import { call } from '../expressions/call.js';
import { derivative } from '../expressions/derivative.js';
import { constant, isConstant, nameOf, namesIn, type Tree } from '../expressions/tree.js';
import type { Dictionary } from '../readings/dictionary.js';
import { HALF_WIDTH } from '../readings/field.js';

/** The name of a measure's standard uncertainty. */
export const uncertaintyName = (measure: string): string => `uncertainty:${measure}`;

/** The name of the smallest pressure difference that can be told on the gauge of the row, in psi. */
export const READABLE = 'working:readable';

/** What is known of the other names when an uncertainty is derived. */
export interface UncertaintyContext {
  readonly dictionary: Dictionary;
  /** Measures by internal name that have an uncertainty of their own. */
  readonly measured: ReadonlyMap<string, string>;
  /** Names of the half-width columns that the table has. */
  readonly halfWidths: ReadonlySet<string>;
}

/**
 * The standard uncertainty of a measure, from the readability of the gauge: the root of the sum of squares of
 * (derivative times standard uncertainty) over its readings (JCGM 100:2008, 5.1.2). A reading told apart to r is uniform
 * over plus or minus r/2, u = r/sqrt(12) (4.3.7); a reading written as a range of half-width a has u = a/sqrt(3).
 * The watch is taken as exact. Null when no pressure enters.
 */
export function uncertaintyTree(tree: Tree, context: UncertaintyContext): Tree | null {
  const terms: Tree[] = [];
  for (const name of namesIn(tree)) {
    const u = uncertaintyOf(name, context);
    if (u === null) continue;
    const slope = derivative(tree, name);
    if (slope === null) return null;
    terms.push(isConstant(slope, 1) ? u : call('multiply', slope, u));
  }
  if (terms.length === 0) return null;
  return terms.length === 1 ? call('abs', terms[0]!) : call('root_of_squares', ...terms);
}

function uncertaintyOf(name: string, context: UncertaintyContext): Tree | null {
  const measured = context.measured.get(name);
  if (measured !== undefined) return nameOf(measured, 'number');
  const position = context.dictionary.position.get(name);
  const field = position === undefined ? undefined : context.dictionary.fields[position];
  if (field?.kind !== 'pressure') return null;
  const read = call('divide', nameOf(READABLE, 'number'), call('sqrt', constant(12)));
  const halfWidth = name + HALF_WIDTH;
  if (!context.halfWidths.has(halfWidth)) return read;
  return call('or_else', call('divide', nameOf(halfWidth, 'number'), call('sqrt', constant(3))), read);
}
