import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { normalCdf } from '../../src/statistics/normal-cdf.js';

describe('normalCdf', () => {
  it('is 1/2 at 0, 0 and 1 at the ends, and NaN of NaN', () => {
    expect(normalCdf(0)).toBe(0.5);
    expect(normalCdf(-Infinity)).toBe(0);
    expect(normalCdf(Infinity)).toBe(1);
    expect(normalCdf(NaN)).toBeNaN();
  });

  // erfc(-z / sqrt 2) / 2 by mpmath 1.3 at 40 digits, 17 shown; the same from SciPy's norm.cdf.
  it.each([
    [-2.5000001, 0.0062096635729463049],
    [-2.5, 0.0062096653257761352],
    [-3, 0.0013498980316300945],
    [-4, 3.1671241833119921e-5],
    [-5, 2.8665157187919391e-7],
    [-8, 6.2209605742717841e-16],
    [-10, 7.6198530241605261e-24],
    [-20, 2.7536241186062337e-89],
    [-37, 5.7255712225245768e-300],
  ])('keeps its digits in the lower tail: %f', (z, expected) => {
    expect(Math.abs(normalCdf(z) / expected - 1)).toBeLessThan(2e-12);
  });

  it('mirrors and never falls', () => {
    const z = fc.double({ min: -40, max: 40, noNaN: true });
    fc.assert(
      fc.property(z, z, (a, b) => {
        expect(normalCdf(a) + normalCdf(-a)).toBeCloseTo(1, 14);
        expect(normalCdf(Math.max(a, b))).toBeGreaterThanOrEqual(normalCdf(Math.min(a, b)));
      }),
      { seed: 5 },
    );
  });
});
