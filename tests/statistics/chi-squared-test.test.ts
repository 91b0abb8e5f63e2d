import { describe, expect, test } from 'vitest';
import { chiSquaredTest } from '../../src/statistics/chi-squared-test.js';
import { normalCdf } from '../../src/statistics/normal-cdf.js';

describe('the chi-squared test of equally likely classes', () => {
  // The upper 5 % points of the chi-squared distribution, NIST/SEMATECH e-Handbook 1.3.6.7.4 (from memory): 3.841 with 1
  // degree of freedom, 16.919 with 9.
  test('is 5 % at the printed critical values', () => {
    const one = chiSquaredTest([50 + Math.sqrt(3.841 * 25), 50 - Math.sqrt(3.841 * 25)]);
    expect(one!.statistic).toBeCloseTo(3.841, 9);
    expect(one!.p).toBeCloseTo(0.05, 4);
    const shift = Math.sqrt((16.919 * 100) / 2);
    const nine = chiSquaredTest([100 + shift, 100 - shift, ...Array.from({ length: 8 }, () => 100)]);
    expect(nine!.statistic).toBeCloseTo(16.919, 9);
    expect(nine!.p).toBeCloseTo(0.05, 4);
  });

  test('is nothing out of the ordinary for equal counts', () => {
    expect(chiSquaredTest([10, 10, 10])).toStrictEqual({ statistic: 0, p: 1 });
  });

  // With one degree of freedom p is twice the normal tail beyond the root of the statistic: 2 (1 - Phi(sqrt 0.4)).
  test('holds from an expected count of 5 on', () => {
    expect(chiSquaredTest([4, 6])!.statistic).toBeCloseTo(0.4, 12);
    expect(chiSquaredTest([4, 6])!.p).toBeCloseTo(2 * normalCdf(-Math.sqrt(0.4)), 9);
  });

  test('says nothing of too few', () => {
    expect(chiSquaredTest([4, 4])).toBeNull();
    expect(chiSquaredTest([400])).toBeNull();
  });
});
