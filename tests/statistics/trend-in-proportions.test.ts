import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { trendInProportions } from '../../src/statistics/trend-in-proportions.js';

const proportion = fc.integer({ min: 0, max: 60 }).chain((tested) => fc.record({ failed: fc.integer({ min: 0, max: tested }), tested: fc.constant(tested) }));
const rising = [{ failed: 1, tested: 10 }, { failed: 3, tested: 12 }, { failed: 7, tested: 11 }];

describe('trendInProportions', () => {
  it('is a probability or null, and turns about with the order and with failures', () => {
    fc.assert(
      fc.property(fc.array(proportion, { maxLength: 12 }), (counts) => {
        const found = trendInProportions(counts);
        const turned = trendInProportions(counts.toReversed());
        const passes = trendInProportions(counts.map(({ failed, tested }) => ({ failed: tested - failed, tested })));
        if (found === null) {
          expect([turned, passes]).toStrictEqual([null, null]);
          return;
        }
        expect(found.p).toBeGreaterThan(0);
        expect(found.p).toBeLessThanOrEqual(1);
        expect(turned!.z).toBeCloseTo(-found.z, 8);
        expect(passes!.z).toBeCloseTo(-found.z, 8);
      }),
      { seed: 91 },
    );
  });

  it('does not mind where scores begin nor how wide they step', () => {
    const { z } = trendInProportions(rising)!;
    expect(z).toBeGreaterThan(2);
    expect(trendInProportions(rising, [45000, 45007, 45014])!.z).toBeCloseTo(z, 10);
  });

  it('leaves out groups without tests but keeps their place', () => {
    const gap = [rising[0]!, { failed: 0, tested: 0 }, rising[1]!, rising[2]!];
    expect(trendInProportions(gap)).toStrictEqual(trendInProportions(rising, [0, 2, 3]));
  });

  it('shows none where all rates are equal', () => {
    expect(trendInProportions([{ failed: 1, tested: 4 }, { failed: 2, tested: 8 }, { failed: 3, tested: 12 }])).toStrictEqual({ z: 0, p: 1 });
  });

  it('is null where none or all failed, for one group, and for equal scores', () => {
    expect(trendInProportions([])).toBeNull();
    expect(trendInProportions([{ failed: 0, tested: 0 }, { failed: 0, tested: 0 }])).toBeNull();
    expect(trendInProportions([{ failed: 2, tested: 4 }, { failed: 0, tested: 0 }])).toBeNull();
    expect(trendInProportions([{ failed: 0, tested: 4 }, { failed: 0, tested: 9 }])).toBeNull();
    expect(trendInProportions([{ failed: 4, tested: 4 }, { failed: 9, tested: 9 }])).toBeNull();
    expect(trendInProportions(rising, [0.1, 0.1, 0.1])).toBeNull();
    // Three tests at 0.1 have a mean score of 0.30000000000000004 / 3: rounding is no spread.
    expect(trendInProportions([{ failed: 1, tested: 3 }], [0.1])).toBeNull();
    expect(trendInProportions([{ failed: 1, tested: 3 }, { failed: 0, tested: 0 }], [0.1, 0.2])).toBeNull();
    expect(trendInProportions([{ failed: 1, tested: 1 }, { failed: 0, tested: 2 }], [0.1, 0.1])).toBeNull();
  });

  it('is null where a score is missing or too small to have a spread', () => {
    expect(trendInProportions(rising, [0, 1])).toBeNull();
    expect(trendInProportions(rising, [0, 1e-200, 2e-200])).toBeNull();
  });
});
