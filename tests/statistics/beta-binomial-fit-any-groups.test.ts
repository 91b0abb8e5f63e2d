import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { betaBinomialFit } from '../../src/statistics/beta-binomial-fit.js';

const proportion = fc.integer({ min: 0, max: 60 }).chain((tested) => fc.record({ failed: fc.integer({ min: 0, max: tested }), tested: fc.constant(tested) }));
const groups = fc.array(proportion, { maxLength: 12 });

describe('betaBinomialFit, whatever the groups', () => {
  it('always gives a mean between 0 and 1 and a weight from 0 on, or null', () => {
    fc.assert(
      fc.property(groups, (counts) => {
        const found = betaBinomialFit(counts);
        if (counts.every(({ tested }) => tested === 0)) {
          expect(found).toBeNull();
          return;
        }
        expect(found!.mean).toBeGreaterThanOrEqual(0);
        expect(found!.mean).toBeLessThanOrEqual(1);
        if (found!.weight === null) return;
        expect(found!.weight).toBeGreaterThanOrEqual(0);
        expect(found!.weight).toBeLessThan(Infinity);
      }),
      { seed: 81, numRuns: 300 },
    );
  });

  it('mirrors where passes and failures change places, and does not mind the order nor groups without tests', () => {
    fc.assert(
      fc.property(groups, (counts) => {
        const found = betaBinomialFit(counts);
        if (found === null) return;
        for (const [again, mean] of [
          [betaBinomialFit(counts.map(({ failed, tested }) => ({ failed: tested - failed, tested }))), 1 - found.mean],
          [betaBinomialFit([...counts.toReversed(), { failed: 0, tested: 0 }]), found.mean],
        ] as const) {
          expect(again!.mean).toBeCloseTo(mean, 9);
          if (found.weight === null) expect(again!.weight).toBeNull();
          else if (found.weight < 1e4) expect(again!.weight! - found.weight).toBeCloseTo(0, 4);
        }
      }),
      { seed: 82, numRuns: 200 },
    );
  });

  it('comes to an end for a large fleet', { timeout: 60_000 }, () => {
    const counts = Array.from({ length: 40 }, (_, i) => ({ failed: 50 + 6 * i, tested: 2_000 }));
    const { mean, weight } = betaBinomialFit(counts)!;
    // With so many tests the rates are all but known: their mean and the weight of their spread, m(1-m)/v - 1.
    expect(mean).toBeCloseTo(0.0835, 3);
    expect(weight!).toBeGreaterThan(30);
    expect(weight!).toBeLessThan(90);
  });
});
