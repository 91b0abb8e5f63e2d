import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cusum } from '../../src/statistics/cusum.js';

describe('cusum', () => {
  it('gathers only what lies beyond the slack', () => {
    expect(cusum([1, 4, 4], { target: 1, k: 1, h: 3 })).toStrictEqual({ high: [0, 2, 4], low: [0, 0, 0], signals: [2] });
    expect(cusum([], { target: 1, k: 1, h: 3 })).toStrictEqual({ high: [], low: [], signals: [] });
  });

  it('never falls below 0, and mirrors about the target', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -50, max: 50 }), { maxLength: 40 }), fc.integer({ min: 0, max: 5 }), fc.integer({ min: 0, max: 40 }), (values, k, h) => {
        const found = cusum(values, { target: 0, k, h });
        for (const sum of [...found.high, ...found.low]) expect(sum).toBeGreaterThanOrEqual(0);
        const mirrored = cusum(values.map((value) => 0 - value), { target: 0, k, h });
        expect(mirrored).toStrictEqual({ high: found.low, low: found.high, signals: found.signals });
        expect(found.signals).toStrictEqual(values.flatMap((_, i) => (found.high[i]! > h || found.low[i]! > h ? [i] : [])));
      }),
      { seed: 71 },
    );
  });

  it('gives no signal exactly on the limit, also where decimals miss it by a rounding', () => {
    expect(cusum([5], { target: 0, k: 0, h: 5 }).signals).toStrictEqual([]);
    const tenths = cusum([0.1, 0.1, 0.1], { target: 0, k: 0, h: 0.3 });
    expect(tenths.high[2]).toBeGreaterThan(0.3);
    expect(tenths.signals).toStrictEqual([]);
    expect(cusum([0.1, 0.1, 0.1001], { target: 0, k: 0, h: 0.3 }).signals).toStrictEqual([2]);
  });
});
