import type { LimitPlan } from '../limits/compile-limit-set.js';
import { circuitsOfCheck, failedCircuits } from '../limits/circuits-of-check.js';
import type { CheckPlan } from '../limits/compile-checks.js';
import type { CheckResult, Evaluation } from './evaluation.js';

/**
 * Why a check failed, in few words: its title, and where it tells circuits apart, the circuits that are not within the
 * limit. A measure is held against the limit as the verdict does it.
 *
 * @example failureReason(plan, check, result, evaluation.measures) // 'Loss, brakes applied: primary circuit'
 */
export function failureReason({ circuits }: Pick<LimitPlan, 'circuits'>, check: CheckPlan, result: CheckResult, measures: Evaluation['measures']): string {
  const failed = failedCircuits(check, result, measures);
  if (failed.length === 0) return check.title;
  const [first] = failed as [string];
  if (failed.length === 1) {
    const own = circuits.find(({ circuit }) => circuit === first)?.checks.find((one) => one.check.check === check.check);
    if (own) return own.title;
  }
  const all = new Set(circuitsOfCheck(check).map(({ circuit }) => circuit)).size;
  const words = failed.map((circuit) => circuit.replaceAll('_', ' '));
  if (failed.length === all && all > 1) return `${check.title}: ${all === 2 ? 'both' : 'all'} circuits`;
  return `${check.title}: ${words.slice(0, -1).join(', ')} and ${words.at(-1)!} circuits`;
}
