import { describe, expect, it } from 'vitest';
import { theilSen } from '../../src/statistics/theil-sen.js';
import { SULFATE, SULFATE_TIMES } from './sulfate.js';

describe('theilSen against published examples', () => {
  // USEPA Unified Guidance (EPA 530/R-09-007), example 17-6; the interval printed is 20.00000 to 35.71182, with ranks
  // interpolated (Gilbert 1987, p. 218). Whole ranks would give 35.8490566 as the upper end, and the median of the
  // residuals -1911.33 as the intercept.
  it('sulfate, 23 values with ties', () => {
    const found = theilSen(SULFATE_TIMES, SULFATE)!;
    expect(found.slope).toBeCloseTo(26.6666667, 7);
    expect(found.intercept).toBeCloseTo(-1909.3333333, 6);
    expect(found.low!.toFixed(5)).toBe('20.00000');
    expect(found.high!.toFixed(5)).toBe('35.71182');
    expect(found.high).toBeCloseTo(35.71182403, 8);
  });

  // Sen, Journal of the American Statistical Association 63 (1968) 1379-1389. The interval at 93 % recomputed with ranks
  // interpolated; the one printed there rests on a list of slopes with mistakes. Conover's intercept.
  it('the seven values of Sen', () => {
    const found = theilSen([1, 2, 3, 4, 10, 12, 18], [9, 15, 19, 20, 45, 55, 78], 0.93)!;
    expect(found.slope).toBe(4);
    expect(found.intercept).toBe(4);
    expect(found.low).toBeCloseTo(3.7309947, 7);
    expect(found.high).toBeCloseTo(4.2846195, 7);
  });

  // USEPA QA/G-9S, p. 109, on times 1 to 11; recomputed.
  it('eleven values with ties', () => {
    const found = theilSen([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11], [10, 10, 10, 5, 10, 20, 18, 17, 15, 24, 15])!;
    expect(found).toMatchObject({ slope: 1, low: 0, high: 2 });
  });

  // Gilbert 1987, 16.4.1; the slope recomputed. Four points have no interval at 95 %.
  it('four values', () => {
    const found = theilSen([1, 2, 3, 4], [10, 15, 14, 20])!;
    expect(found.slope).toBeCloseTo(2.9166667, 7);
    expect([found.low, found.high]).toStrictEqual([null, null]);
  });
});
