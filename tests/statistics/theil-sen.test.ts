import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { theilSen } from '../../src/statistics/theil-sen.js';

const points = fc.array(fc.tuple(fc.integer({ min: 0, max: 30 }), fc.integer({ min: -50, max: 50 })), { minLength: 2, maxLength: 30 });
const days = (n: number): number[] => Array.from({ length: n }, (_, i) => i);

describe('theilSen', () => {
  it('finds a line, and turns about with it', () => {
    fc.assert(
      fc.property(points, fc.integer({ min: -9, max: 9 }), fc.integer({ min: -9, max: 9 }), (pairs, slope, height) => {
        const x = pairs.map(([at]) => at);
        const found = theilSen(x, x.map((at) => slope * at + height));
        if (new Set(x).size < 2) {
          expect(found).toBeNull();
          return;
        }
        expect(found).toMatchObject({ slope: slope === 0 ? expect.closeTo(0) : slope, intercept: height });
      }),
      { seed: 41 },
    );
  });

  it('holds its slope within its interval, widens it with the level and turns about with the values', () => {
    fc.assert(
      fc.property(points, (pairs) => {
        const [x, y] = [pairs.map(([at]) => at), pairs.map(([, value]) => value)];
        const found = theilSen(x, y);
        if (found === null || found.low === null) return;
        expect(found.low).toBeLessThanOrEqual(found.slope);
        expect(found.high!).toBeGreaterThanOrEqual(found.slope);
        const narrow = theilSen(x, y, 0.5)!;
        expect(narrow.low!).toBeGreaterThanOrEqual(found.low);
        expect(narrow.high!).toBeLessThanOrEqual(found.high!);
        const turned = theilSen(x, y.map((value) => -value))!;
        expect(turned.slope).toBeCloseTo(-found.slope, 10);
        expect(turned.low).toBeCloseTo(-found.high!, 10);
        expect(turned.high).toBeCloseTo(-found.low, 10);
      }),
      { seed: 42 },
    );
  });

  it('has no interval at 95 % below six points, and one from six on', () => {
    for (let n = 2; n <= 12; n++) {
      const found = theilSen(days(n), days(n).map((at) => at * at))!;
      expect(found.low === null).toBe(n < 6);
      expect(found.high === null).toBe(n < 6);
    }
  });

  it('leaves out pairs of equal x', () => {
    expect(theilSen([1, 1, 2], [0, 100, 60])!.slope).toBe((60 + -40) / 2);
  });

  it('has no interval where all values are equal', () => {
    expect(theilSen(days(8), new Array<number>(8).fill(0.3))).toStrictEqual({ slope: 0, intercept: 0.3, low: null, high: null });
  });

  it.each([[[], []], [[1], [1]], [[2, 2, 2], [1, 2, 3]], [[1, 2], [1, Number.NaN]], [[1, 2, 3, 4], [1, 2, 3, Number.NaN]], [[1, 2, 3, Infinity], [1, 2, 3, 4]], [[1, Number.NaN], [1, 2]], [[1, 2, 3], [1, 2]], [[1, 2], [1, 2, 3]], [[1e10, 1e10 + 1], [0, 1e300]]])('is null for x %j and y %j', (x, y) => {
    expect(theilSen(x, y)).toBeNull();
  });
});
