import { expect, it } from 'vitest';
import { trendInProportions } from '../../src/statistics/trend-in-proportions.js';

// Fleiss, Statistical Methods for Rates and Proportions, smokers among lung cancer patients of four studies, as in the
// documentation of prop.trend.test in R: X-squared = 8.2249, df = 1, p-value = 0.004132 (quoted from memory).
it('finds the trend over four studies of smokers', () => {
  const smokers = [83, 90, 129, 70];
  const patients = [86, 93, 136, 82];
  const { z, p } = trendInProportions(smokers.map((failed, i) => ({ failed, tested: patients[i]! })))!;
  expect(z).toBeLessThan(0);
  expect(Number((z * z).toFixed(4))).toBe(8.2249);
  expect(Number(p.toFixed(6))).toBe(0.004132);
});
