import { describe, expect, it } from 'vitest';
import { buildupOverSpan, COMMON_SPAN } from '../../src/physics/buildup-over-span.js';
import { deliveryOf, riseOf } from '../../src/physics/buildup-test.js';
import { expectedBuildup } from '../../src/physics/expected-buildup.js';
import { leakShareOfSlowBuildup } from '../../src/physics/leak-share-of-slow-buildup.js';

const GOOD = { fromPsi: 85, toPsi: 100, seconds: 30 };

describe('build-up over a common span', () => {
  it('is the test itself over its own span, and in proportion over others', () => {
    expect(buildupOverSpan(GOOD)).toBe(30);
    expect(buildupOverSpan({ fromPsi: 50, toPsi: 90, seconds: 160 })).toBe(60);
    expect(buildupOverSpan({ fromPsi: 50, toPsi: 90, seconds: 160 }, { fromPsi: 50, toPsi: 90 })).toBe(160);
    expect(COMMON_SPAN).toStrictEqual({ fromPsi: 85, toPsi: 100 });
  });

  it('is the same for gauge and absolute pressures, and in every unit', () => {
    const over = (scale: number, zero: number): number => buildupOverSpan({ fromPsi: 50 * scale + zero, toPsi: 90 * scale + zero, seconds: 160 }, { fromPsi: 85 * scale + zero, toPsi: 100 * scale + zero })!;
    expect(over(1, 14.7)).toBeCloseTo(60, 10);
    expect(over(6.894757293168361, 0)).toBeCloseTo(60, 10);
  });

  it('is none for a test that does not rise, or takes no time, or a span that does not rise', () => {
    expect(buildupOverSpan({ fromPsi: 100, toPsi: 85, seconds: 30 })).toBeNull();
    expect(buildupOverSpan({ fromPsi: 85, toPsi: 85, seconds: 30 })).toBeNull();
    expect(buildupOverSpan({ fromPsi: 85, toPsi: 100, seconds: 0 })).toBeNull();
    expect(buildupOverSpan({ fromPsi: 85, toPsi: 100, seconds: -30 })).toBeNull();
    expect(buildupOverSpan(GOOD, { fromPsi: 100, toPsi: 85 })).toBeNull();
  });
});

describe('rise and delivery', () => {
  it('in psi a minute: the compressor makes up the leak as well', () => {
    expect(riseOf(GOOD)).toBe(30);
    expect(deliveryOf(GOOD)).toBe(30);
    expect(deliveryOf({ ...GOOD, lossPsiPerMin: 2 })).toBe(32);
    expect(deliveryOf({ ...GOOD, lossPsiPerMin: -2 })).toBeNull();
  });
});

describe('the build-up to expect', () => {
  it('is the earlier one where nothing leaks, and longer by what leaks', () => {
    expect(expectedBuildup(GOOD)).toBe(30);
    expect(expectedBuildup(GOOD, { lossPsiPerMin: 6 })).toBe(37.5);
    expect(expectedBuildup({ ...GOOD, lossPsiPerMin: 6 }, { lossPsiPerMin: 6 })).toBe(30);
    expect(expectedBuildup(GOOD, { fromPsi: 50, toPsi: 90 })).toBe(80);
  });

  it('never ends where the leak takes all, or more', () => {
    expect(expectedBuildup(GOOD, { lossPsiPerMin: 30 })).toBe('never');
    expect(expectedBuildup(GOOD, { lossPsiPerMin: 31 })).toBe('never');
  });

  it('is none without a good test', () => {
    expect(expectedBuildup({ ...GOOD, seconds: NaN })).toBeNull();
    expect(expectedBuildup(GOOD, { lossPsiPerMin: -1 })).toBeNull();
    expect(expectedBuildup(GOOD, { fromPsi: 100, toPsi: 100 })).toBeNull();
  });
});

describe('the leak in a slow build-up', () => {
  it('explains the part of the lost rise that leaks', () => {
    // 30 psi a minute were 20: ten are lost, six of them leak.
    expect(leakShareOfSlowBuildup(GOOD, { ...GOOD, seconds: 45, lossPsiPerMin: 6 })).toBeCloseTo(0.6, 12);
    expect(leakShareOfSlowBuildup({ ...GOOD, lossPsiPerMin: 1 }, { ...GOOD, seconds: 45, lossPsiPerMin: 6 })).toBeCloseTo(0.5, 12);
    expect(leakShareOfSlowBuildup(GOOD, { ...GOOD, seconds: 45 })).toBe(0);
  });

  it('explains all where the time is just the one that its leak makes one expect', () => {
    const seconds = expectedBuildup(GOOD, { lossPsiPerMin: 4 }) as number;
    expect(leakShareOfSlowBuildup(GOOD, { ...GOOD, seconds, lossPsiPerMin: 4 })).toBeCloseTo(1, 12);
  });

  it('has nothing to explain where it is no slower', () => {
    expect(leakShareOfSlowBuildup(GOOD, { ...GOOD, lossPsiPerMin: 6 })).toBeNull();
    expect(leakShareOfSlowBuildup(GOOD, { ...GOOD, seconds: 20, lossPsiPerMin: 6 })).toBeNull();
    expect(leakShareOfSlowBuildup(GOOD, { fromPsi: 100, toPsi: 85, seconds: 45 })).toBeNull();
  });
});
