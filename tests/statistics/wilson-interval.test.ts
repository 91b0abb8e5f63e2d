import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { wilsonInterval } from '../../src/statistics/wilson-interval.js';

const counts = fc.integer({ min: 1, max: 5000 }).chain((tested) => fc.tuple(fc.integer({ min: 0, max: tested }), fc.constant(tested)));

describe('wilsonInterval', () => {
  it('lies within 0 and 1, holds the rate, and mirrors', () => {
    fc.assert(
      fc.property(counts, ([failed, tested]) => {
        const { low, high } = wilsonInterval(failed, tested)!;
        expect(low).toBeGreaterThanOrEqual(0);
        expect(high).toBeLessThanOrEqual(1);
        expect(low).toBeLessThanOrEqual(failed / tested);
        expect(high).toBeGreaterThanOrEqual(failed / tested);
        const mirrored = wilsonInterval(tested - failed, tested)!;
        expect(mirrored.low).toBeCloseTo(1 - high, 12);
        expect(mirrored.high).toBeCloseTo(1 - low, 12);
      }),
      { seed: 11 },
    );
  });

  it('ends at exactly 0 where none failed and at exactly 1 where all did', () => {
    for (let tested = 1; tested <= 200; tested++) {
      expect(wilsonInterval(0, tested)!.low).toBe(0);
      expect(wilsonInterval(tested, tested)!.high).toBe(1);
    }
  });

  it('is null where nothing was tested', () => {
    expect(wilsonInterval(0, 0)).toBeNull();
  });

  it('narrows with more tests at the same rate and widens with the level', () => {
    const width = ({ low, high }: { low: number; high: number }): number => high - low;
    fc.assert(
      fc.property(counts, ([failed, tested]) => {
        expect(width(wilsonInterval(2 * failed, 2 * tested)!)).toBeLessThan(width(wilsonInterval(failed, tested)!));
        expect(width(wilsonInterval(failed, tested, 2.5758293035489004)!)).toBeGreaterThan(width(wilsonInterval(failed, tested)!));
      }),
      { seed: 12 },
    );
  });
});
