import { binomialShares } from './binomial-shares.js';

/**
 * The limit of a funnel plot for a proportion: the interpolated binomial quantile at a target rate, by Spiegelhalter,
 * Statistics in Medicine 24 (2005) 1185-1202. With F and f the binomial distribution, r the smallest integer with
 * F(r) >= p and a = (F(r) - p) / f(r), the limit is (r - a) / n. Below 0 it is 0.
 *
 * @param target the rate of all together, between 0 and 1, both excluded
 * @param tested how many were tested, 1 or more
 * @param p the quantile, such as 0.999
 * @example funnelLimit(0.12, 100, 0.975) // 0.182356…
 */
export function funnelLimit(target: number, tested: number, p: number): number {
  const shares = binomialShares(target, tested);
  let r = 0;
  let reached = shares[0]!;
  while (r < tested && reached < p) reached += shares[++r]!;
  return Math.max(0, (r - (reached - p) / shares[r]!) / tested);
}
