import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { normalCdf } from '../../src/statistics/normal-cdf.js';

describe('normalCdf', () => {
  it('is 1/2 at 0, 0 and 1 at the ends, and NaN of NaN', () => {
    expect(normalCdf(0)).toBe(0.5);
    expect(normalCdf(-Infinity)).toBe(0);
    expect(normalCdf(Infinity)).toBe(1);
    expect(normalCdf(NaN)).toBeNaN();
  });

  it('mirrors and never falls', () => {
    const z = fc.double({ min: -40, max: 40, noNaN: true });
    fc.assert(
      fc.property(z, z, (a, b) => {
        expect(normalCdf(a) + normalCdf(-a)).toBeCloseTo(1, 14);
        expect(normalCdf(Math.max(a, b))).toBeGreaterThanOrEqual(normalCdf(Math.min(a, b)));
      }),
      { seed: 5 },
    );
  });
});
