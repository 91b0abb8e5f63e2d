import { describe, expect, it } from 'vitest';
import { estimatedRate, ratePrior } from '../../src/fleet/rate-prior.js';

describe('what groups have in common', () => {
  it('is nothing with fewer than three groups that were tested', () => {
    expect(ratePrior('site', [])).toBeNull();
    expect(ratePrior('site', [{ tested: 9, failed: 3 }, { tested: 8, failed: 1 }, { tested: 0, failed: 0 }])).toBeNull();
  });

  it('is nothing where each group failed wholly or not at all', () => {
    expect(ratePrior('site', [{ tested: 1, failed: 1 }, { tested: 5, failed: 0 }, { tested: 3, failed: 0 }])).toBeNull();
    expect(ratePrior('site', [{ tested: 1, failed: 1 }, { tested: 5, failed: 0 }, { tested: 3, failed: 1 }])).not.toBeNull();
  });

  it('is the common rate where the groups do not differ', () => {
    expect(ratePrior('site', [{ tested: 10, failed: 1 }, { tested: 20, failed: 2 }, { tested: 30, failed: 3 }])).toStrictEqual({ group: 'site', mean: expect.closeTo(0.1, 12) as number, weight: null });
    expect(ratePrior('check', [{ tested: 10, failed: 0 }, { tested: 20, failed: 0 }, { tested: 30, failed: 0 }])).toStrictEqual({ group: 'check', mean: 0, weight: null });
    expect(ratePrior('check', [{ tested: 10, failed: 10 }, { tested: 20, failed: 20 }, { tested: 30, failed: 30 }])).toStrictEqual({ group: 'check', mean: 1, weight: null });
  });
});

describe('the estimate of a rate', () => {
  it('is the mean of the posterior', () => {
    // Gelman et al., Bayesian Data Analysis, 3rd ed., section 5.1: prior Beta(1.4, 8.6), 4 of 14 rats: Beta(5.4, 18.6), mean 0.225 (printed 0.223 with more digits of the prior).
    expect(estimatedRate({ group: 'site', mean: 0.14, weight: 10 }, { tested: 14, failed: 4 })).toBeCloseTo(0.225, 12);
    expect(estimatedRate({ group: 'site', mean: 1.356149391 / 9.9712072824, weight: 9.9712072824 }, { tested: 14, failed: 4 })).toBeCloseTo(0.2234409527, 9);
  });

  it('is the rate of all where the prior has an infinite weight, and nothing without a prior or a test', () => {
    expect(estimatedRate({ group: 'site', mean: 0.2, weight: null }, { tested: 1, failed: 1 })).toBe(0.2);
    expect(estimatedRate(null, { tested: 10, failed: 1 })).toBeNull();
    expect(estimatedRate({ group: 'site', mean: 0.2, weight: 5 }, { tested: 0, failed: 0 })).toBeNull();
  });
});
