import { kendallExactTail } from './kendall-exact-tail.js';
import { kendallVariance } from './kendall-variance.js';
import { normalCdf } from './normal-cdf.js';

/** Up to so many values, none equal to another, the p-value is exact. */
export const MOST_EXACT = 20;

/** The outcome of a Mann-Kendall test. */
export interface MannKendall {
  /** Pairs that rise less pairs that fall. */
  readonly s: number;
  /** The variance of `s` without a trend, corrected for ties. */
  readonly variance: number;
  /** `s` in standard deviations, with continuity correction. */
  readonly z: number;
  /** Two-sided: the probability of an `s` at least so far from 0, up or down, where there is no trend. */
  readonly p: number;
  /** Whether `p` is exact; else it comes from `z` and the normal distribution. */
  readonly exact: boolean;
}

/**
 * The Mann-Kendall test for a trend (Gilbert (1987) chapter 16; USEPA Unified Guidance (2009) 17.3.2). The p-value is
 * exact for up to 20 values without ties, else that of the normal approximation with tie and continuity correction.
 * All values equal: s 0, z 0, p 1. Null for fewer than two values, or where one is no finite number.
 *
 * @param values in the order of time
 * @example mannKendall([9, 15, 19, 20, 45, 55, 78]) // { s: 21, variance: 44.33…, z: 3.003…, p: 0.000396…, exact: true }
 */
export function mannKendall(values: readonly number[]): MannKendall | null {
  const n = values.length;
  if (n < 2 || !values.every(Number.isFinite)) return null;
  let s = 0;
  for (let j = 1; j < n; j++) for (let i = 0; i < j; i++) s += Math.sign(values[j]! - values[i]!);
  const variance = kendallVariance(values);
  const z = s === 0 ? 0 : (s - Math.sign(s)) / Math.sqrt(variance);
  const exact = n <= MOST_EXACT && new Set(values).size === n;
  const tail = exact ? kendallExactTail(Math.abs(s), n) : normalCdf(-Math.abs(z));
  return { s, variance, z, p: Math.min(1, 2 * tail), exact };
}
