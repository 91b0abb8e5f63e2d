import { describe, expect, it } from 'vitest';
import { cusum } from '../../src/statistics/cusum.js';
import { individualsChart } from '../../src/statistics/individuals-chart.js';

describe('control charts of the NIST/SEMATECH e-Handbook of Statistical Methods', () => {
  // 6.3.2.2. Printed: mean 50.81, mean moving range 1.8778, limits 55.8041 and 45.8159.
  it('individuals', () => {
    const chart = individualsChart([49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1])!;
    expect(chart.centre).toBeCloseTo(50.81, 10);
    expect(chart.meanMovingRange.toFixed(4)).toBe('1.8778');
    expect(chart.upper.toFixed(4)).toBe('55.8041');
    expect(chart.lower.toFixed(4)).toBe('45.8159');
    expect(chart.upper).toBeCloseTo(55.80408983451537, 10);
    expect(chart.lower).toBeCloseTo(45.81591016548463, 10);
    expect(chart.sigma).toBeCloseTo(1.664696611505, 11);
  });

  // 6.3.2.3, recomputed with more digits than the two printed.
  it('CUSUM', () => {
    const values = [324.925, 324.675, 324.725, 324.35, 325.35, 325.225, 324.125, 324.525, 325.225, 324.6, 324.625, 325.15, 328.325, 327.25, 327.825, 328.5, 326.675, 327.775, 326.875, 328.35];
    const { high, low, signals } = cusum(values, { target: 325, k: 0.3175, h: 4.1959 });
    const near = (found: readonly number[], expected: readonly number[]): void => {
      expect(found).toHaveLength(expected.length);
      found.forEach((value, i) => expect(value).toBeCloseTo(expected[i]!, 10));
    };
    near(high, [0, 0, 0, 0, 0.0325, 0, 0, 0, 0, 0, 0, 0, 3.0075, 4.94, 7.4475, 10.63, 11.9875, 14.445, 16.0025, 19.035]);
    near(low, [0, 0.0075, 0, 0.3325, 0, 0, 0.5575, 0.715, 0.1725, 0.255, 0.3125, 0, 0, 0, 0, 0, 0, 0, 0, 0]);
    // The handbook's first signal is its sample 14.
    expect(signals).toStrictEqual([13, 14, 15, 16, 17, 18, 19]);
  });
});
