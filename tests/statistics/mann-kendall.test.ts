import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mannKendall, MOST_EXACT } from '../../src/statistics/mann-kendall.js';
import { normalCdf } from '../../src/statistics/normal-cdf.js';

const values = fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 2, maxLength: 40 });

describe('mannKendall', () => {
  it('turns about with its values and does not mind a constant', () => {
    fc.assert(
      fc.property(values, fc.integer({ min: -1000, max: 1000 }), (series, constant) => {
        const found = mannKendall(series)!;
        const turned = mannKendall(series.map((value) => -value))!;
        expect([turned.s + found.s, turned.z + found.z]).toStrictEqual([0, 0]);
        expect([turned.variance, turned.p, turned.exact]).toStrictEqual([found.variance, found.p, found.exact]);
        expect(mannKendall(series.map((value) => value + constant))).toStrictEqual(found);
      }),
      { seed: 31 },
    );
  });

  it('is a probability, and s is no more than the number of pairs', () => {
    fc.assert(
      fc.property(values, (series) => {
        const { s, z, p, variance } = mannKendall(series)!;
        expect(Math.abs(s)).toBeLessThanOrEqual((series.length * (series.length - 1)) / 2);
        expect(p).toBeGreaterThan(0);
        expect(p).toBeLessThanOrEqual(1);
        expect(variance).toBeGreaterThanOrEqual(0);
        expect(Number.isFinite(z)).toBe(true);
      }),
      { seed: 32 },
    );
  });

  it('counts every pair of a strictly rising series', () => {
    for (let n = 2; n <= 30; n++) {
      const { s, exact } = mannKendall(Array.from({ length: n }, (_, i) => i * i))!;
      expect(s).toBe((n * (n - 1)) / 2);
      expect(exact).toBe(n <= MOST_EXACT);
    }
  });

  it('is close to the normal form where the exact values end', () => {
    fc.assert(
      fc.property(fc.shuffledSubarray(Array.from({ length: MOST_EXACT }, (_, i) => i), { minLength: MOST_EXACT }), (order) => {
        const { p, z, exact } = mannKendall(order)!;
        expect(exact).toBe(true);
        // Gilbert (1987) takes the normal form to be good enough from ten values on.
        expect(Math.abs(p - 2 * normalCdf(-Math.abs(z)))).toBeLessThan(0.005);
      }),
      { seed: 33 },
    );
  });

  it('shows nothing where all values are equal, and divides by no zero', () => {
    for (const n of [2, 3, 10, 25]) expect(mannKendall(new Array<number>(n).fill(0.1))).toStrictEqual({ s: 0, variance: 0, z: 0, p: 1, exact: false });
  });

  it('takes the normal form for ties, however few the values', () => {
    expect(mannKendall([1, 1, 2])!.exact).toBe(false);
    expect(mannKendall([0, -0, 2])!.exact).toBe(false);
  });

  it('gives two values p 1: either order is as likely', () => {
    expect(mannKendall([1, 2])).toStrictEqual({ s: 1, variance: 1, z: 0, p: 1, exact: true });
  });

  it.each([[[]], [[1]], [[1, Number.NaN, 3]], [[1, Infinity]]])('is null for %j', (series) => {
    expect(mannKendall(series)).toBeNull();
  });
});
