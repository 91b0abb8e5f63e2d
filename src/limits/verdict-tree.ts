import { call } from '../expressions/call.js';
import { constant, nameOf, type Tree } from '../expressions/tree.js';
import { anyOf, falseIfBlank, FILLED, measureOf, part } from './check-names.js';
import type { CheckPlan } from './compile-checks.js';

/** The verdict of a check, by simple acceptance: the measure against the limit with the printed comparator. */
export function verdictTree(plan: CheckPlan): Tree {
  const decided = call('choose', holds(plan), constant('pass'), constant('fail'));
  const verdict = plan.comparator === 'no_number' ? constant('not tested') : call('choose', call('given', part(plan, 'recheck')), constant('recheck'), call('or_else', decided, constant('not tested')));
  return call('only_if', applies(plan), verdict);
}

/** Yes when the verdict is pass or fail. */
export function isDecided(plan: CheckPlan): Tree {
  const verdict = part(plan, 'verdict');
  return call('or', call('reads', verdict, constant('pass')), call('reads', verdict, constant('fail')));
}

/** When a check applies at all: the row is filled, and one of its alternatives holds. */
function applies(plan: CheckPlan): Tree {
  const filled = nameOf(FILLED, 'truth');
  if (plan.alternatives.some(({ when }) => when === null)) return filled;
  return call('and', filled, anyOf(plan.alternatives.map(({ when }) => falseIfBlank(when!))));
}

/** Whether a measure is within the limit of a check: that of the check itself, or one of its parts. Blank when either is blank. */
export function holds(plan: CheckPlan, measure: Tree = measureOf(plan)): Tree {
  const limit = part(plan, 'limit');
  switch (plan.comparator) {
    case 'at_most':
      return call('less_or_equal', measure, limit);
    case 'less_than':
      return call('less', measure, limit);
    case 'at_least':
      return call('greater_or_equal', measure, limit);
    case 'more_than':
      return call('greater', measure, limit);
    case 'between':
      return call('and', call('greater_or_equal', measure, limit), call('less_or_equal', measure, part(plan, 'limit_high')));
    case 'must_be':
      return plan.alternatives[0]!.check.must_be === 'yes' ? measure : call('not', measure);
    case 'no_number':
      return constant(true);
  }
}
