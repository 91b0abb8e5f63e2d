import { call } from '../expressions/call.js';
import { nameOf, type Tree } from '../expressions/tree.js';
import { byAlternative } from './by-alternative.js';
import { FILLED } from './check-names.js';
import type { CheckPlan } from './compile-checks.js';

/** The limit that applies to the row, in the unit of the measure: that of the first alternative whose `when` holds. */
export function limitTree(plan: CheckPlan, end: 0 | 1 = 0): Tree {
  return call('only_if', nameOf(FILLED, 'truth'), byAlternative(plan, ({ limits }) => limits[end]!));
}
