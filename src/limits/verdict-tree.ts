import { call } from '../expressions/call.js';
import { constant, nameOf, type Tree } from '../expressions/tree.js';
import { anyOf, checkName, falseIfBlank, FILLED, measureOf, part } from './check-names.js';
import type { CheckPlan } from './compile-checks.js';
import { isOfSeverity } from './severity-tree.js';
import type { Verdict } from './verdict.js';

/** The verdict of a check, by simple acceptance: the measure against the limit with the printed comparator. A route gives way to another that passes. */
export function verdictTree(plan: CheckPlan): Tree {
  return plan.eitherOf === null ? verdictAloneTree(plan) : routeVerdictTree(plan);
}

/** The verdict of a check for itself. */
export function verdictAloneTree(plan: CheckPlan): Tree {
  const advisory = isOfSeverity(plan, 'advisory');
  const outside = advisory === null ? constant('fail') : call('choose', advisory, constant('recheck'), constant('fail'));
  const decided = call('choose', holds(plan), constant('pass'), outside);
  const verdict = plan.comparator === 'no_number' ? constant('not tested') : call('choose', call('given', part(plan, 'recheck')), constant('recheck'), call('or_else', decided, constant('not tested')));
  return call('only_if', applies(plan), verdict);
}

/**
 * The verdict of one of the routes of which one is enough: its own, but where another passes, none; and where another was
 * not tested or cannot be decided, a failure is no failure yet.
 */
function routeVerdictTree(plan: CheckPlan): Tree {
  const own = part(plan, 'alone');
  const failsYet = call('choose', anyOtherRoute(plan, 'recheck', 'not tested'), constant('recheck'), own);
  const unlessPassed = call('choose', anyOtherRoute(plan, 'pass'), constant('not tested'), call('choose', call('reads', own, constant('fail')), failsYet, own));
  return call('only_if', call('given', own), call('choose', call('reads', own, constant('pass')), own, unlessPassed));
}

/** Yes when another route has one of these verdicts for itself. */
export function anyOtherRoute({ otherRoutes }: CheckPlan, ...verdicts: readonly Verdict[]): Tree {
  const trees = otherRoutes.flatMap((route) => verdicts.map((verdict) => call('reads', nameOf(checkName(route, 'alone'), 'text'), constant(verdict))));
  return trees.length === 0 ? constant(false) : anyOf(trees);
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
    case 'between': {
      const { without_ends: out } = plan.alternatives[0]!.check;
      const above = call(out === 'lower' || out === 'both' ? 'greater' : 'greater_or_equal', measure, limit);
      return call('and', above, call(out === 'upper' || out === 'both' ? 'less' : 'less_or_equal', measure, part(plan, 'limit_high')));
    }
    case 'must_be':
      return plan.alternatives[0]!.check.must_be === 'yes' ? measure : call('not', measure);
    case 'no_number':
      return constant(true);
  }
}
