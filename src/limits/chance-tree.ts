import { call } from '../expressions/call.js';
import { constant, nameOf, type Tree } from '../expressions/tree.js';
import { fact, falseIfBlank, measureOf, part } from './check-names.js';
import type { CheckPlan } from './compile-checks.js';
import { uncertaintyName } from './uncertainty-tree.js';
import { isDecided } from './verdict-tree.js';

/**
 * The chance that the true value is within the limit, from the readability of the gauge: JCGM 106:2012, 7.3 and 7.4
 * (the normal conformance probability). Blank without a verdict or without a known readability.
 */
export function chanceTree(plan: CheckPlan): Tree | null {
  if (plan.measure.uncertainty === null) return null;
  const u = nameOf(uncertaintyName(plan.measure.measure.measure), 'number');
  const [measure, limit] = [measureOf(plan), part(plan, 'limit')];
  const below = (end: Tree): Tree => call('normal_cdf', call('divide', call('subtract', end, measure), u));
  const chance = (): Tree | null => {
    switch (plan.comparator) {
      case 'at_most':
      case 'less_than':
        return below(limit);
      case 'at_least':
      case 'more_than':
        return call('normal_cdf', call('divide', call('subtract', measure, limit), u));
      case 'between':
        return call('subtract', below(part(plan, 'limit_high')), below(limit));
      default:
        return null;
    }
  };
  const tree = chance();
  return tree && call('only_if', isDecided(plan), tree);
}

/** Holds when the gauge is too coarse to be sure of the verdict; null when the check has no chance. */
export function doubtfulTree(plan: CheckPlan): Tree | null {
  if (chanceTree(plan) === null) return null;
  const chance = part(plan, 'chance');
  return falseIfBlank(call('and', call('greater', chance, call('subtract', constant(1), fact('sure_share'))), call('less', chance, fact('sure_share'))));
}
