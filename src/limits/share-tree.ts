import { call } from '../expressions/call.js';
import type { Tree } from '../expressions/tree.js';
import { measureOf, part } from './check-names.js';
import type { CheckPlan } from './compile-checks.js';
import { isDecided } from './verdict-tree.js';

/** The share of the limit used: 1 is at the limit, above 1 is beyond it. Blank without a verdict of pass or fail. */
export function shareTree(plan: CheckPlan): Tree | null {
  const share = bareShare(plan);
  return share && call('only_if', isDecided(plan), share);
}

function bareShare(plan: CheckPlan): Tree | null {
  const [measure, limit] = [measureOf(plan), part(plan, 'limit')];
  switch (plan.comparator) {
    case 'at_most':
    case 'less_than':
      return call('divide', measure, limit);
    case 'at_least':
    case 'more_than':
      return call('divide', limit, measure);
    case 'between':
      return call('max', call('divide', measure, part(plan, 'limit_high')), call('divide', limit, measure));
    default:
      return null;
  }
}
