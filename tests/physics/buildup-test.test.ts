import { describe, expect, it } from 'vitest';
import { deliveryOf, riseOf, type BuildupTest } from '../../src/physics/buildup-test.js';

const GOOD: BuildupTest = { fromPsi: 85, toPsi: 100, seconds: 30 };

describe('riseOf', () => {
  it('is the rise by the minutes that it took', () => {
    // 15 psi in half a minute.
    expect(riseOf(GOOD)).toBe(30);
    expect(riseOf({ ...GOOD, seconds: 45 })).toBe(20);
    expect(riseOf({ fromPsi: 0, toPsi: 60, seconds: 120 })).toBe(30);
  });

  it.each<[string, Partial<BuildupTest>]>([
    ['that does not rise', { toPsi: 85 }],
    ['that falls', { toPsi: 80 }],
    ['of no time', { seconds: 0 }],
    ['of no time that does not rise', { seconds: 0, toPsi: 85 }],
    ['of a negative time', { seconds: -30 }],
    ['that falls in a negative time', { seconds: -30, toPsi: 70 }],
    ['from below zero', { fromPsi: -5 }],
    ['without a pressure', { toPsi: NaN }],
    ['without an end', { toPsi: Infinity }],
    ['too short to be told', { seconds: Number.MIN_VALUE }],
  ])('is null for a build-up %s', (_, change) => {
    expect(riseOf({ ...GOOD, ...change })).toBeNull();
  });
});

describe('deliveryOf', () => {
  it('adds what leaks to what rises', () => {
    expect(deliveryOf(GOOD)).toBe(30);
    expect(deliveryOf({ ...GOOD, lossPsiPerMin: 6 })).toBe(36);
    expect(deliveryOf({ ...GOOD, lossPsiPerMin: -6 })).toBeNull();
    expect(deliveryOf({ ...GOOD, toPsi: 85, lossPsiPerMin: 6 })).toBeNull();
  });
});
