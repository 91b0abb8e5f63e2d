import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { quantile } from '../../src/statistics/quantile.js';

const numbers = fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), { minLength: 1, maxLength: 50 });
const share = fc.integer({ min: 0, max: 1000 }).map((value) => value / 1000);

describe('quantile', () => {
  it('interpolates between the sorted values', () => {
    expect(quantile([10, 1, 3, 2], 0.25)).toBe(1.75);
    expect(quantile([3, 1, 2], 0.5)).toBe(2);
    expect(quantile([4, 1, 3, 2], 0.5)).toBe(2.5);
    expect(quantile([7], 0.9)).toBe(7);
  });

  it('goes from the least to the greatest, and never falls as the share grows', () => {
    fc.assert(
      fc.property(numbers, share, share, (values, a, b) => {
        expect(quantile(values, 0)).toBe(Math.min(...values));
        expect(quantile(values, 1)).toBe(Math.max(...values));
        expect(quantile(values, Math.min(a, b))!).toBeLessThanOrEqual(quantile(values, Math.max(a, b))! + 1e-9);
      }),
      { seed: 21 },
    );
  });

  it('gives equal values back without a rounding', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), fc.integer({ min: 1, max: 20 }), share, (value, n, at) => {
        expect(quantile(new Array<number>(n).fill(value), at)).toBe(value);
      }),
      { seed: 22 },
    );
  });

  it('leaves its values as they stood', () => {
    const values = [3, 1, 2];
    quantile(values, 0.5);
    expect(values).toStrictEqual([3, 1, 2]);
  });

  it('sorts by size, not as text', () => {
    expect(quantile([9, 10, 100], 0.5)).toBe(10);
    expect(quantile([-1, -2, -10], 0)).toBe(-10);
  });

  it.each([[[], 0.5], [[1, Number.NaN], 0.5], [[1, Infinity], 0.5], [[1], 1.5], [[1], -0.1], [[1], Number.NaN]])('is null for %j at %d', (values, at) => {
    expect(quantile(values, at)).toBeNull();
  });
});
