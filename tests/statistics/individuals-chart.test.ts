import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { individualsChart } from '../../src/statistics/individuals-chart.js';

describe('individualsChart', () => {
  it('stands as far above its centre as below, and moves with its values', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -500, max: 500 }), { minLength: 2, maxLength: 30 }), fc.integer({ min: -500, max: 500 }), (values, constant) => {
        const chart = individualsChart(values)!;
        expect(chart.upper - chart.centre).toBeCloseTo(3 * chart.sigma, 8);
        expect(chart.centre - chart.lower).toBeCloseTo(3 * chart.sigma, 8);
        expect(individualsChart(values.map((value) => value + constant))!.centre).toBeCloseTo(chart.centre + constant, 8);
        expect(individualsChart(values.toReversed())!.meanMovingRange).toBeCloseTo(chart.meanMovingRange, 8);
      }),
      { seed: 61 },
    );
  });

  it('lies exactly on values that never move', () => {
    // (0.1 + 0.1 + 0.1) / 3 is not 0.1 in floating point.
    expect(individualsChart([0.1, 0.1, 0.1])).toStrictEqual({ centre: 0.1, sigma: 0, upper: 0.1, lower: 0.1, meanMovingRange: 0 });
  });

  it('takes the constant the handbook prints, 1.128, for d2', () => {
    expect(individualsChart([0, 1.128])!.sigma).toBe(1);
  });

  it.each([[[]], [[1]], [[1, Number.NaN]], [[1, Infinity]]])('is null for %j', (values) => {
    expect(individualsChart(values)).toBeNull();
  });
});
