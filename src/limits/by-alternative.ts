import { call } from '../expressions/call.js';
import type { Tree } from '../expressions/tree.js';
import { falseIfBlank } from './check-names.js';
import type { AlternativePlan, CheckPlan } from './compile-checks.js';

/** What is picked of the alternative that applies to the row: the first whose `when` holds. Blank where none does. */
export function byAlternative({ alternatives }: CheckPlan, pick: (alternative: AlternativePlan) => Tree): Tree {
  return alternatives.reduceRight<Tree | null>((otherwise, alternative) => {
    const { when } = alternative;
    if (when === null) return pick(alternative);
    if (otherwise === null) return call('only_if', falseIfBlank(when), pick(alternative));
    return call('choose', falseIfBlank(when), pick(alternative), otherwise);
  }, null)!;
}
