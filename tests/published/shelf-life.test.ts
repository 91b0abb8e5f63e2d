import { describe, expect, it } from 'vitest';
import { boundCrossing } from '../../src/statistics/bound-crossing.js';
import { leastSquaresFit } from '../../src/statistics/least-squares-fit.js';
import { studentTQuantile } from '../../src/statistics/student-t-quantile.js';

// LeBlond, Griffith and Aubuchon, Journal of Validation Technology 17(3) (2011) 47-68: month and value of the batches
// 2, 5 and 7; lower limit 95; the method of ICH Q1E. Printed: y = 100.567 - 0.192994 t, crossing at 26 months; the
// further digits are recomputed.
const BATCHES: readonly (readonly [number, number])[] = [
  [0, 101.0], [1, 101.3], [3, 99.8], [3, 99.2], [6, 99.5], [6, 97.8], [12, 97.4], [12, 97.2], [24, 96.9], [24, 96.0],
  [0, 102.0], [1, 101.4], [2, 100.8], [3, 100.2], [3, 99.7], [6, 98.8], [6, 98.5], [12, 98.0], [12, 97.1], [24, 96.6], [24, 96.1],
  [0, 101.3], [1, 101.5], [3, 100.2], [3, 99.8], [6, 99.0], [6, 98.5], [12, 98.5], [12, 97.4], [24, 96.6], [24, 96.4],
];
const months = BATCHES.map(([month]) => month);
const values = BATCHES.map(([, value]) => value);
const fit = leastSquaresFit(months, values)!;
const close = (found: number, expected: number): void => expect(found / expected).toBeCloseTo(1, 10);

describe('a shelf life by ICH Q1E', () => {
  it('fits the line as printed', () => {
    expect(fit.n).toBe(31);
    expect(fit.intercept.toFixed(3)).toBe('100.567');
    expect(fit.slope.toFixed(6)).toBe('-0.192994');
    close(fit.intercept, 100.56687898089);
    close(fit.slope, -0.19299363057325);
    close(fit.residualSd, 0.789106036829);
    close(fit.meanX, 8.87096774194);
    close(fit.sxx, 2157.48387097);
    expect(fit.residualSd / Math.sqrt(fit.sxx)).toBeCloseTo(0.01698875632, 11);
    expect(fit.residualSd * Math.sqrt(1 / fit.n + fit.meanX ** 2 / fit.sxx)).toBeCloseTo(0.2068797544, 11);
    // F(1, 29), printed as 129.051.
    expect(((fit.slope ** 2 * fit.sxx) / fit.residualSd ** 2).toFixed(3)).toBe('129.051');
  });

  it('takes the quantile of t with every digit', () => {
    expect(studentTQuantile(0.95, 29)).toBeCloseTo(1.69912702653, 11);
  });

  it('finds where the bound of the mean meets the limit, not where the line does (28.84) nor the bound of a new value (21.54)', () => {
    const found = boundCrossing(fit, 95, { side: 'lower', from: 24 });
    expect(Math.ceil(found as number)).toBe(26);
    close(found as number, 25.9957631931);
    close(boundCrossing(fit, 94.95, { side: 'lower', from: 24 }) as number, 26.2240976794);
  });

  it('finds the same upside down', () => {
    const upsideDown = leastSquaresFit(months, values.map((value) => -value))!;
    close(boundCrossing(upsideDown, -95, { side: 'upper', from: 24 }) as number, 25.9957631931);
  });
});
