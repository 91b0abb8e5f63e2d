import { binomialTail } from '../statistics/binomial-tail.js';
import type { FailRate } from './fail-rate.js';
import type { FailRateGroup, GroupFlag } from './group-fail-rate.js';

/** Fewer tests than this say nothing about a group. Common practice, no source. */
export const LEAST_TESTED = 5;
/** Groups whose members are alike by nature, so that one that stands out is worth a question. */
const ALIKE: readonly FailRateGroup[] = ['site', 'vehicle_kind', 'inspector', 'period'];
/** Groups of which only too few tests are told. */
const OF_A_KIND_EACH: readonly FailRateGroup[] = ['check', 'circuit'];

/**
 * What a group's fail rate says beside the others of its table: outside the 95 % or the 99.8 % limits of a funnel plot
 * around the rate of all together, or not (Spiegelhalter, Statistics in Medicine 24 (2005) 1185-1202). Outside is where
 * the exact binomial tail, the count itself included, is less probable than 2.5 % or 0.1 %; the interpolated limit that
 * is drawn in such a plot would flag five failures of five at a rate of 50 %. Where none or all failed, a group is as the
 * others. Fewer than 5 tests are too few to judge. Checks and circuits are not compared with
 * each other; nor are limit sets, of which nothing is said.
 *
 * @param target the rate of all groups of the table together, 0 to 1; null when nothing was tested
 * @example groupFlag('site', { tested: 100, failed: 24 }, 0.12) // 'far higher than the others'
 */
export function groupFlag(group: FailRateGroup, { tested, failed }: Pick<FailRate, 'tested' | 'failed'>, target: number | null): GroupFlag | null {
  const alike = ALIKE.includes(group);
  if (tested < LEAST_TESTED && (alike || OF_A_KIND_EACH.includes(group))) return 'too few to judge';
  if (!alike) return null;
  if (target === null || target <= 0 || target >= 1) return 'as the others';
  const { atLeast, atMost } = binomialTail(failed, tested, target);
  if (atLeast < 0.001) return 'far higher than the others';
  if (atLeast < 0.025) return 'higher than the others';
  if (atMost < 0.001) return 'far lower than the others';
  if (atMost < 0.025) return 'lower than the others';
  return 'as the others';
}
