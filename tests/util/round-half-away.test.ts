import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { roundHalfAway } from '../../src/util/round-half-away.js';

/** Rounds a decimal written with digits, by whole-number arithmetic alone: a half goes away from zero. */
function byDigits(digits: bigint, written: number, decimals: number): number {
  if (written <= decimals) return Number(digits) / 10 ** written;
  const unit = 10n ** BigInt(written - decimals);
  const size = digits < 0n ? -digits : digits;
  const rounded = (size + unit / 2n) / unit;
  return (digits < 0n ? -1 : 1) * (Number(rounded) / 10 ** decimals) + 0;
}

describe('rounding as a spreadsheet does', () => {
  // What ROUND gives in a spreadsheet (LibreOffice 7.4), where a binary fraction lies just below the half that was written.
  it.each([[2.5, 0, 3], [-2.5, 0, -3], [1.005, 2, 1.01], [-1.005, 2, -1.01], [2.675, 2, 2.68], [0.285, 2, 0.29], [1.45, 1, 1.5], [8.345, 2, 8.35], [0.5, 0, 1], [-0.5, 0, -1], [-0.4, 0, 0]])('%f to %i decimals is %f', (value, decimals, rounded) => {
    expect(roundHalfAway(value, decimals)).toBe(rounded);
  });

  it('agrees with rounding by digits, whatever number is written', () => {
    fc.assert(
      fc.property(fc.bigInt({ min: -(10n ** 12n), max: 10n ** 12n }), fc.integer({ min: 0, max: 9 }), fc.integer({ min: 0, max: 6 }), (digits, written, decimals) => {
        expect(roundHalfAway(Number(`${digits}e-${written}`), decimals)).toBe(byDigits(digits, written, decimals));
      }),
      { numRuns: 2000, seed: 5 },
    );
  });

  it('leaves what cannot be rounded as it is', () => {
    expect(roundHalfAway(Infinity, 2)).toBe(Infinity);
    expect(roundHalfAway(Number.NaN, 2)).toBeNaN();
    expect(roundHalfAway(1e300, 6)).toBe(1e300);
  });
});
