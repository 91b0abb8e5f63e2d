import { binomialShares } from './binomial-shares.js';

/**
 * How probable it is that at least, and that at most, so many of a group fail where all fail at one rate: the exact
 * tails of the binomial distribution, the count itself included.
 *
 * @param failed how many failed, 0 to `tested`
 * @param rate of all together, between 0 and 1, both excluded
 * @example binomialTail(3, 3, 0.5) // { atLeast: 0.125, atMost: 1 }
 */
export function binomialTail(failed: number, tested: number, rate: number): { readonly atLeast: number; readonly atMost: number } {
  const shares = binomialShares(rate, tested);
  const sum = (from: number, to: number): number => Math.min(1, shares.slice(from, to).reduce((total, share) => total + share, 0));
  return { atLeast: sum(failed, tested + 1), atMost: sum(0, failed + 1) };
}
