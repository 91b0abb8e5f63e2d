import { describe, expect, it } from 'vitest';
import { betaBinomialFit } from '../../src/statistics/beta-binomial-fit.js';
import type { Proportion } from '../../src/statistics/proportion.js';

const of = (...pairs: readonly (readonly [number, number])[]): Proportion[] => pairs.map(([failed, tested]) => ({ failed, tested }));

describe('betaBinomialFit', () => {
  it('is the pooled rate where groups differ no more than chance', () => {
    expect(betaBinomialFit(of([2, 10], [3, 15], [4, 20]))).toStrictEqual({ mean: 0.2, weight: null });
    expect(betaBinomialFit(of([2, 10]))).toStrictEqual({ mean: 0.2, weight: null });
    expect(betaBinomialFit(of([3, 10], [2, 12], [4, 15]))).toStrictEqual({ mean: 9 / 37, weight: null });
  });

  it('is the common rate where none or all failed', () => {
    expect(betaBinomialFit(of([0, 10], [0, 15], [0, 1]))).toStrictEqual({ mean: 0, weight: null });
    expect(betaBinomialFit(of([10, 10], [15, 15], [1, 1]))).toStrictEqual({ mean: 1, weight: null });
  });

  it('says nothing of a spread from groups of one test', () => {
    expect(betaBinomialFit(of([0, 1], [1, 1], [1, 1], [0, 1]))).toStrictEqual({ mean: 0.5, weight: null });
  });

  it('has weight 0 where each group failed wholly or not at all', () => {
    expect(betaBinomialFit(of([0, 8], [5, 5], [0, 2], [0, 1]))).toStrictEqual({ mean: 0.25, weight: 0 });
  });

  it('leaves out groups without tests, wherever the answer comes from', () => {
    expect(betaBinomialFit(of([0, 0], [0, 0]))).toBeNull();
    expect(betaBinomialFit(of([0, 1], [1, 1], [0, 0]))).toStrictEqual({ mean: 0.5, weight: null });
    expect(betaBinomialFit(of([0, 8], [5, 5], [0, 0]))).toStrictEqual({ mean: 0.5, weight: 0 });
  });

  it('weighs less the further the groups lie apart', () => {
    const weights = [6, 8, 10, 15, 20, 25].map((failed) => betaBinomialFit(of([1, 30], [2, 30], [failed, 30]))!.weight!);
    for (let i = 1; i < weights.length; i++) expect(weights[i]!).toBeLessThan(weights[i - 1]!);
  });
});
