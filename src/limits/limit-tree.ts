import { call } from '../expressions/call.js';
import { nameOf, type Tree } from '../expressions/tree.js';
import { falseIfBlank, FILLED } from './check-names.js';
import type { CheckPlan } from './compile-checks.js';

/** The limit that applies to the row, in the unit of the measure: that of the first alternative whose `when` holds. */
export function limitTree(plan: CheckPlan, end: 0 | 1 = 0): Tree {
  const chosen = plan.alternatives.reduceRight<Tree | null>((otherwise, { when, limits }) => {
    if (when === null) return limits[end]!;
    if (otherwise === null) return call('only_if', falseIfBlank(when), limits[end]!);
    return call('choose', falseIfBlank(when), limits[end]!, otherwise);
  }, null)!;
  return call('only_if', nameOf(FILLED, 'truth'), chosen);
}
