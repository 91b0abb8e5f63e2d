import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { differenceOfProportions } from '../../src/statistics/difference-of-proportions.js';

const proportion = fc.integer({ min: 1, max: 500 }).chain((tested) => fc.record({ failed: fc.integer({ min: 0, max: tested }), tested: fc.constant(tested) }));

describe('differenceOfProportions', () => {
  it('holds the difference, stays within -1 and 1, and turns about', () => {
    fc.assert(
      fc.property(proportion, proportion, (a, b) => {
        const { difference, low, high } = differenceOfProportions(a, b)!;
        expect(low).toBeLessThanOrEqual(difference);
        expect(high).toBeGreaterThanOrEqual(difference);
        expect(low).toBeGreaterThanOrEqual(-1);
        expect(high).toBeLessThanOrEqual(1);
        const turned = differenceOfProportions(b, a)!;
        expect(turned.difference).toBeCloseTo(-difference, 12);
        expect(turned.low).toBeCloseTo(-high, 12);
        expect(turned.high).toBeCloseTo(-low, 12);
      }),
      { seed: 101 },
    );
  });

  it('is an interval about 0 for equal proportions, also where none or all failed', () => {
    for (const failed of [0, 3, 10]) {
      const { difference, low, high } = differenceOfProportions({ failed, tested: 10 }, { failed, tested: 10 })!;
      expect(difference).toBe(0);
      expect(low).toBeLessThan(0);
      expect(high).toBeCloseTo(-low, 12);
    }
  });

  it('is null where either has no tests', () => {
    expect(differenceOfProportions({ failed: 0, tested: 0 }, { failed: 1, tested: 2 })).toBeNull();
    expect(differenceOfProportions({ failed: 1, tested: 2 }, { failed: 0, tested: 0 })).toBeNull();
  });
});
