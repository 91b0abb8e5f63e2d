import { describe, expect, it } from 'vitest';
import { binomialShares } from '../../src/statistics/binomial-shares.js';

describe('binomialShares', () => {
  // n over k times the powers of both rates, by hand.
  it.each([
    [0.5, 1, [1 / 2, 1 / 2]],
    [0.5, 4, [1 / 16, 4 / 16, 6 / 16, 4 / 16, 1 / 16]],
    [0.25, 2, [9 / 16, 6 / 16, 1 / 16]],
    [0.9, 3, [0.001, 0.027, 0.243, 0.729]],
  ])('at the rate %d in %i tests', (rate, n, expected) => {
    const shares = binomialShares(rate, n);
    expect(shares).toHaveLength(n + 1);
    expected.forEach((share, k) => expect(shares[k]).toBeCloseTo(share, 14));
  });
});
