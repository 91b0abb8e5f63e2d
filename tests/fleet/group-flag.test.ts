import { describe, expect, it } from 'vitest';
import { groupFlag } from '../../src/fleet/group-flag.js';

describe('the flag of a group', () => {
  // Exact binomial tails at 0.12, SciPy 1.10 (binom.sf, binom.cdf). Of 100: P(X >= 24) 0.000640, P(X >= 23) 0.001514,
  // P(X >= 20) 0.014706, P(X >= 19) 0.028172, P(X <= 6) 0.036737, P(X <= 5) 0.015222, P(X <= 3) 0.001450, P(X <= 2) 0.000299.
  it.each([
    [24, 'far higher than the others'], [23, 'higher than the others'], [20, 'higher than the others'], [19, 'as the others'],
    [12, 'as the others'], [6, 'as the others'], [5, 'lower than the others'], [3, 'lower than the others'], [2, 'far lower than the others'], [0, 'far lower than the others'],
  ])('with %i of 100 failed where 12 % do: %s', (failed, flag) => {
    expect(groupFlag('site', { tested: 100, failed }, 0.12)).toBe(flag);
  });

  it.each([
    // Of 20: P(X <= 0) 0.077563, P(X >= 6) 0.026018, P(X >= 7) 0.006689, P(X >= 8) 0.001417, P(X >= 9) 0.000249.
    [0, 'as the others'], [6, 'as the others'], [7, 'higher than the others'], [8, 'higher than the others'], [9, 'far higher than the others'],
  ])('with %i of 20 failed where 12 % do: %s', (failed, flag) => {
    expect(groupFlag('inspector', { tested: 20, failed }, 0.12)).toBe(flag);
  });

  it('takes five failures of five, where half of all fail, for chance: 1 in 32', () => {
    expect(groupFlag('site', { tested: 5, failed: 5 }, 0.5)).toBe('as the others');
  });

  it('judges no group of fewer than five tests', () => {
    for (const group of ['site', 'vehicle_kind', 'inspector', 'period', 'check', 'circuit'] as const) {
      expect(groupFlag(group, { tested: 4, failed: 4 }, 0.1)).toBe('too few to judge');
      expect(groupFlag(group, { tested: 0, failed: 0 }, null)).toBe('too few to judge');
    }
    expect(groupFlag('limit_set', { tested: 4, failed: 4 }, 0.1)).toBeNull();
  });

  it('compares no checks, circuits or limit sets with each other', () => {
    for (const group of ['check', 'circuit', 'limit_set'] as const) expect(groupFlag(group, { tested: 100, failed: 90 }, 0.1)).toBeNull();
  });

  it('finds none out of line where none failed, or all did', () => {
    expect(groupFlag('site', { tested: 50, failed: 0 }, 0)).toBe('as the others');
    expect(groupFlag('site', { tested: 50, failed: 50 }, 1)).toBe('as the others');
  });
});
