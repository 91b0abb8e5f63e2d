import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { cleanCellText } from '../../src/readings/clean-cell-text.js';

describe('cleanCellText', () => {
  test.each([
    ['full-width digits and letters', '１０４ｐｓｉ', '104psi'],
    ['full-width colon', '４：１０', '4:10'],
    ['thin, hard and narrow spaces', '\u00a012\u2009345\u202fpsi\u3000', '12 345 psi'],
    ['tabs and line breaks', '104\t\r\n psi', '104 psi'],
    ['minus sign and hyphens', '\u22125 \u20105 \u20115', '-5 -5 -5'],
    ['curly quotes', '4\u2019 10\u201d', '4\' 10"'],
    ['acute accent for a prime', '4\u00b4 10', '4\' 10'],
    ['ratio sign', '4\u223610', '4:10'],
    ['small tilde and tilde operator', '\u02dc104 \u223c104', '~104 ~104'],
    ['primes', '4\u2032 10\u2033', '4\' 10"'],
    ['squared unit', '720㎪', '720kPa'],
    ['byte order mark and zero-width space', '\ufeff10\u200b4', '104'],
    ['only spaces', ' \u00a0\u2007\t', ''],
  ])('%s', (_, text, cleaned) => {
    expect(cleanCellText(text)).toBe(cleaned);
  });

  test.each(['10²', '1½', '10⁵', '⑩', 'kgf/cm²', '104–108', '104—108'])('leaves %s as it is', (text) => {
    expect(cleanCellText(text)).toBe(text);
  });

  test('cleans no further the second time', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        const once = cleanCellText(text);
        expect(cleanCellText(once)).toBe(once);
      }),
      { numRuns: 2000 },
    );
  });
});
