import { describe, expect, test } from 'vitest';
import { funnelLimit } from '../../src/statistics/funnel-limit.js';

// The formula is that of Spiegelhalter, Statistics in Medicine 24 (2005) 1185-1202; the values were worked out apart from
// this code with the binomial distribution of SciPy, target 0.12. Limits below 0 are shown as 0.
const TABLE: readonly (readonly [number, number, number, number, number])[] = [
  [10, -0.091023, 0.298748, -0.099641, 0.482077],
  [20, -0.033884, 0.252634, -0.049355, 0.367841],
  [50, 0.026237, 0.207904, -0.008063, 0.272645],
  [100, 0.054545, 0.182356, 0.026086, 0.22588],
  [200, 0.074301, 0.16432, 0.052065, 0.193725],
];

describe('funnel limits around a rate of 0.12', () => {
  test.each(TABLE)('n = %d', (n, low95, high95, low998, high998) => {
    expect(funnelLimit(0.12, n, 0.025)).toBeCloseTo(Math.max(0, low95), 6);
    expect(funnelLimit(0.12, n, 0.975)).toBeCloseTo(high95, 6);
    expect(funnelLimit(0.12, n, 0.001)).toBeCloseTo(Math.max(0, low998), 6);
    expect(funnelLimit(0.12, n, 0.999)).toBeCloseTo(high998, 6);
  });
});

test('holds for thousands of tests: SciPy gives these', () => {
  // scipy.stats.binom at target 0.28, n 2000 and 20000, with the formula above.
  expect(funnelLimit(0.28, 2000, 0.999)).toBeCloseTo(0.31108092077603, 9);
  expect(funnelLimit(0.28, 20000, 0.025)).toBeCloseTo(0.27376267717886, 9);
});
