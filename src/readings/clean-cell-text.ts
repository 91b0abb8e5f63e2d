/** Superscripts, subscripts, fractions and circled digits: NFKC would turn `10²` into `102` and `1½` into `11⁄2`. */
const FOLDABLE = /[^\u00b2\u00b3\u00b9\u00bc-\u00be\u2070-\u209c\u2150-\u218b\u2460-\u24ff\u2776-\u2793]+/gu;

/** Marks that are drawn but say nothing: zero-width spaces and joiners, direction marks, byte order mark, soft hyphen. */
const INVISIBLE = /[\u00ad\u200b-\u200f\u202a-\u202e\u2060-\u2064\u2066-\u2069\ufeff]/gu;

/** Plain ASCII with single spaces between words: clean as it stands. */
const CLEAN = /^[!-~]+(?: [!-~]+)*$/;

/**
 * Prepares the text of a cell for reading: full-width and squared forms become plain (Unicode NFKC),
 * spaces of every kind become one plain space, none at the ends; minus signs and hyphens become `-`,
 * curly quotes and primes become `'` and `"`. En and em dashes stay. Superscripts and fractions stay
 * too, so that `10²` is never read as 102.
 *
 * @example
 * cleanCellText('１０４\u202fpsi ') // '104 psi'
 */
export function cleanCellText(text: string): string {
  if (CLEAN.test(text)) return text;
  return text
    .replace(INVISIBLE, '')
    // NFKC would split these three into a space or a prime with something else.
    .replace(/\u00b4/gu, "'")
    .replace(/\u2033/gu, '"')
    .replace(/\u02dc/gu, '~')
    .replace(FOLDABLE, (part) => part.normalize('NFKC'))
    .replace(/[\u2018\u2019\u201b\u2032]/gu, "'")
    .replace(/[\u201c\u201d\u201f]/gu, '"')
    .replace(/[\u2010-\u2012\u2212]/gu, '-')
    .replace(/\u2236/gu, ':')
    .replace(/\u223c/gu, '~')
    .replace(/\s+/gu, ' ')
    .trim();
}
