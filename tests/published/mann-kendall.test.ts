import { describe, expect, it } from 'vitest';
import { kendallExactTail } from '../../src/statistics/kendall-exact-tail.js';
import { mannKendall } from '../../src/statistics/mann-kendall.js';
import { SULFATE, SULFATE_TIMES } from './sulfate.js';

describe('mannKendall against published examples', () => {
  // USEPA Unified Guidance (EPA 530/R-09-007), example 17-6: the digits printed of z and p; the rest recomputed.
  it('sulfate, 23 values with ties', () => {
    expect(SULFATE_TIMES).toHaveLength(SULFATE.length);
    const { s, variance, z, p, exact } = mannKendall(SULFATE)!;
    expect(s).toBe(194);
    expect(variance).toBe(1428);
    expect(z.toFixed(6)).toBe('5.107322');
    expect(z).toBeCloseTo(5.107321596840894, 12);
    expect(p.toExponential(6)).toBe('3.267574e-7');
    expect(p / 3.267573570717951e-7).toBeCloseTo(1, 10);
    expect(exact).toBe(false);
  });

  // Sen, Journal of the American Statistical Association 63 (1968) 1379-1389: seven values without ties; the statistic
  // and the exact p recomputed.
  it('the seven values of Sen', () => {
    const found = mannKendall([9, 15, 19, 20, 45, 55, 78])!;
    expect(found.s).toBe(21);
    expect(found.variance).toBeCloseTo(44.3333, 4);
    expect(found.p).toBeCloseTo(0.000396825, 9);
    expect(found.exact).toBe(true);
  });

  // USEPA, Data Quality Assessment: Statistical Methods for Practitioners, QA/G-9S, p. 109: S, variance and z printed.
  it('eleven values with ties', () => {
    const { s, variance, z, p, exact } = mannKendall([10, 10, 10, 5, 10, 20, 18, 17, 15, 24, 15])!;
    expect(s).toBe(22);
    expect(variance.toFixed(2)).toBe('155.33');
    expect(z.toFixed(3)).toBe('1.685');
    expect(z).toBeCloseTo(1.6849497898, 10);
    expect(p).toBeCloseTo(0.0919982592, 10);
    expect(exact).toBe(false);
  });

  // USEPA QA/G-9, five values; Gilbert, Statistical Methods for Environmental Pollution Monitoring (1987), 16.4.1, four
  // values. The exact one-sided p recomputed; the two-sided one is twice as large.
  it.each([
    [[5, 6, 11, 8, 10], 6, 0.1166667],
    [[10, 15, 14, 20], 4, 0.1666667],
  ])('%j', (values, s, oneSided) => {
    const found = mannKendall(values)!;
    expect(found.s).toBe(s);
    expect(found.p).toBeCloseTo(2 * oneSided, 6);
    expect(found.exact).toBe(true);
  });

  // Wisconsin Administrative Code, Mann-Kendall table A: row sums -4, +2, -2, -1.
  it('five values of which two are equal', () => {
    const found = mannKendall([100, 50, 85, 75, 50])!;
    expect(found.s).toBe(-5);
    expect(found.variance).toBeCloseTo(15.6666667, 7);
    expect(found.exact).toBe(false);
  });
});

// Kendall's exact distribution without ties (Gilbert 1987, table A18), P(S >= s), recomputed with R to six digits.
describe('the exact distribution of S', () => {
  const TABLE: readonly (readonly [number, readonly (readonly [number, number])[]])[] = [
    [4, [[0, 0.625], [2, 0.375], [4, 0.166667], [6, 0.0416667]]],
    [5, [[0, 0.591667], [2, 0.408333], [4, 0.241667], [6, 0.116667], [8, 0.0416667], [10, 0.00833333]]],
    [6, [[1, 0.5], [3, 0.359722], [5, 0.234722], [7, 0.136111], [9, 0.0680556], [11, 0.0277778], [13, 0.00833333], [15, 0.00138889]]],
    [7, [[1, 0.5], [3, 0.38631], [5, 0.280952], [7, 0.190675], [9, 0.119444], [11, 0.0680556], [13, 0.0345238], [15, 0.0150794], [17, 0.00535714], [19, 0.00138889], [21, 0.000198413]]],
    [8, [[0, 0.547569], [2, 0.452431], [4, 0.359772], [6, 0.274206], [8, 0.19938], [10, 0.13755], [12, 0.0894345], [14, 0.0543403], [16, 0.030506], [18, 0.0155754], [20, 0.00706845], [22, 0.00275298], [24, 0.000868056], [26, 0.000198413], [28, 2.48016e-5]]],
  ];

  it.each(TABLE)('n = %i', (n, rows) => {
    for (const [s, tail] of rows) expect(Number(kendallExactTail(s, n).toPrecision(6))).toBe(tail);
  });

  // The smallest one-sided p: one order out of n!.
  it.each([[3, 6], [4, 24], [5, 120]])('%i values in a row have one order out of %i', (n, orders) => {
    expect(mannKendall(Array.from({ length: n }, (_, i) => i))!.p).toBeCloseTo(2 / orders, 12);
  });
});
