import { describe, expect, it } from 'vitest';
import { betaBinomialFit } from '../../src/statistics/beta-binomial-fit.js';

const repeat = (value: number, times: number): number[] => new Array<number>(times).fill(value);

// Tumours of rats in 70 groups and one more: Tarone, Biometrics 38 (1982) 215-220; Gelman et al., Bayesian Data Analysis,
// 3rd edition, table 5.1. The maximum of the likelihood recomputed with SciPy; it is flat along the weight.
const failed = [
  ...repeat(0, 14), ...repeat(1, 8), ...repeat(2, 9), 1, 5, 2, 5, 3, 2, 7, 7, 3, 3, 2, 9, 10, ...repeat(4, 7), 10, 4, 4, 4,
  5, 11, 12, 5, 5, 6, 5, 6, 6, 6, 6, 16, 15, 15, 9,
];
const tested = [
  ...repeat(20, 7), ...repeat(19, 4), ...repeat(18, 2), 17, ...repeat(20, 4), ...repeat(19, 2), ...repeat(18, 2), 25, 24, 23, ...repeat(20, 6),
  10, 49, 19, 46, 27, 17, 49, 47, 20, 20, 13, 48, 50, ...repeat(20, 7), 48, 19, 19, 19, 22, 46, 49, 20, 20, 23, 19, 22, 20, 20, 20, 52, 46, 47, 24,
];
const groups = failed.map((count, i) => ({ failed: count, tested: tested[i]! }));
const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

describe('betaBinomialFit on the rat tumours', () => {
  it('has the data as published', () => {
    expect([failed.length, tested.length, sum(failed), sum(tested)]).toStrictEqual([70, 70, 263, 1725]);
  });

  it('fits 70 groups', () => {
    const { mean, weight } = betaBinomialFit(groups)!;
    expect(mean).toBeCloseTo(0.140668, 6);
    expect(mean * weight!).toBeCloseTo(2.304783, 5);
    expect((1 - mean) * weight!).toBeCloseTo(14.07981, 5);
  });

  it('fits 71 groups', () => {
    const { mean, weight } = betaBinomialFit([...groups, { failed: 4, tested: 14 }])!;
    expect(mean).toBeCloseTo(0.142292, 6);
    expect(mean * weight!).toBeCloseTo(2.341614, 5);
    expect((1 - mean) * weight!).toBeCloseTo(14.114801, 5);
  });
});
