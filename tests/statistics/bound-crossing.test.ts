import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boundCrossing } from '../../src/statistics/bound-crossing.js';
import { leastSquaresFit, type LeastSquaresFit } from '../../src/statistics/least-squares-fit.js';
import { studentTQuantile } from '../../src/statistics/student-t-quantile.js';

const upperBound = (fit: LeastSquaresFit, x: number): number =>
  fit.intercept + fit.slope * x + studentTQuantile(0.95, fit.n - 2) * fit.residualSd * Math.sqrt(1 / fit.n + (x - fit.meanX) ** 2 / fit.sxx);
const series = fc.array(fc.integer({ min: -100, max: 100 }), { minLength: 3, maxLength: 15 });
const fitOf = (y: readonly number[]): LeastSquaresFit => leastSquaresFit(y.map((_, i) => i), y)!;

describe('boundCrossing', () => {
  it('meets the limit on the unsquared equation, not before today, and not earlier than that', () => {
    fc.assert(
      fc.property(series, fc.integer({ min: -150, max: 400 }), fc.integer({ min: 0, max: 20 }), (y, limit, from) => {
        const fit = fitOf(y);
        const found = boundCrossing(fit, limit, { side: 'upper', from });
        const scale = 1e-7 * (1 + Math.abs(limit));
        if (found === 'already reached') {
          expect(upperBound(fit, from)).toBeGreaterThan(limit - scale);
          return;
        }
        expect(upperBound(fit, from)).toBeLessThanOrEqual(limit + scale);
        if (found === null) {
          expect(upperBound(fit, from + 1e5)).toBeLessThanOrEqual(limit);
          return;
        }
        expect(found).toBeGreaterThanOrEqual(from);
        expect(Math.abs(upperBound(fit, found) - limit)).toBeLessThan(1e-9 * (1 + Math.abs(limit) + Math.abs(fit.slope * found)));
        expect(upperBound(fit, from + (found - from) / 2)).toBeLessThanOrEqual(limit + scale);
      }),
      { seed: 51, numRuns: 500 },
    );
  });

  it('is the same upside down', () => {
    fc.assert(
      fc.property(series, fc.integer({ min: -150, max: 400 }), (y, limit) => {
        const [up, down] = [fitOf(y), fitOf(y.map((value) => -value))];
        const [above, below] = [boundCrossing(up, limit, { side: 'upper', from: 15 }), boundCrossing(down, -limit, { side: 'lower', from: 15 })];
        if (typeof above === 'number') expect((below as number) / above).toBeCloseTo(1, 9);
        else expect(below).toBe(above);
      }),
      { seed: 52 },
    );
  });

  it('follows an exact line to the limit', () => {
    const fit = fitOf([1, 2, 3, 4]);
    expect(boundCrossing(fit, 10, { side: 'upper', from: 3 })).toBe(9);
    // The line stands at 4 today: on the limit, and not beyond it.
    expect(boundCrossing(fit, 4, { side: 'upper', from: 3 })).toBe(3);
    expect(boundCrossing(fit, 3.5, { side: 'upper', from: 3 })).toBe('already reached');
    expect(boundCrossing(fit, 10, { side: 'lower', from: 3 })).toBe('already reached');
    expect(boundCrossing(fit, 0, { side: 'lower', from: 3 })).toBeNull();
    expect(boundCrossing(fitOf([4, 3, 2, 1]), 10, { side: 'upper', from: 3 })).toBeNull();
  });

  it('never leaves a limit above an exact flat line', () => {
    expect(boundCrossing(fitOf([2, 2, 2]), 3, { side: 'upper', from: 2 })).toBeNull();
  });

  it('never meets the limit from a line that falls clearly', () => {
    expect(boundCrossing(fitOf([9, 8.1, 6.9, 6, 5.1]), 12, { side: 'upper', from: 4 })).toBeNull();
  });

  it('meets it on a flat line too, where the bound widens: the caller asks whether there is a trend', () => {
    const found = boundCrossing(fitOf([1, 2, 1, 2, 1]), 5, { side: 'upper', from: 4 });
    expect(found).toBeGreaterThan(4);
  });

  it('comes earlier with more confidence', () => {
    const fit = fitOf([1, 1.6, 1.9, 2.7, 2.9]);
    const at = (confidence: number): number => boundCrossing(fit, 6, { side: 'upper', confidence, from: 4 }) as number;
    expect(at(0.99)).toBeLessThan(at(0.95));
    expect(at(0.95)).toBeLessThan(at(0.8));
  });
});
