import type { ParseResult } from './parse-result.js';
import { notUnderstood, understood } from './parse-result.js';

/** How the digits of a number may be grouped. */
export interface NumberTextOptions {
  /** A single comma before exactly three digits groups thousands, as where thousandths make no sense. */
  readonly commaGroups?: boolean;
}

const EXPECTED = 'a number such as 104, 7.2 or 7,2';

/** Shapes that can be read in one way only, each with what groups its digits. The decimal mark is what is left. */
const SHAPES: readonly (readonly [pattern: RegExp, group: RegExp | null])[] = [
  [/^(?:\d+(?:\.\d*)?|\d+,\d+|\.\d+)$/, null],
  [/^[1-9]\d{0,2}(?:,\d{3})+\.\d+$/, /,/g],
  [/^[1-9]\d{0,2}(?:,\d{3}){2,}$/, /,/g],
  [/^[1-9]\d{0,2}(?:\.\d{3})+,\d+$/, /\./g],
  [/^[1-9]\d{0,2}(?:\.\d{3}){2,}$/, /\./g],
  [/^[1-9]\d{0,2}(?: \d{3})+(?:[.,]\d+)?$/, / /g],
  [/^[1-9]\d{0,2}(?:'\d{3})+(?:[.,]\d+)?$/, /'/g],
];

const COMMA_BEFORE_THREE = /^([1-9]\d{0,2}),(\d{3})$/;

/**
 * Reads an unsigned decimal number with a decimal point or comma. Digits may be grouped in threes where
 * that is unmistakable: by spaces or apostrophes, by several commas or points, or by one kind of mark with
 * the other as the decimal mark. `1,234` is not: it may be 1.234 or 1234. No exponent, no sign, no hex.
 *
 * @param text a text cleaned by `cleanCellText`
 * @returns the number, never below zero; exact unless more digits are written than a double can hold
 *
 * @example
 * parseNumberText('7,2') // { ok: true, value: 7.2, exact: true }
 * parseNumberText('1,234').ok // false
 */
export function parseNumberText(text: string, options: NumberTextOptions = {}): ParseResult<number> {
  const doubtful = COMMA_BEFORE_THREE.exec(text);
  if (doubtful) {
    const [, thousands, rest] = doubtful;
    if (options.commaGroups) return understood(Number(`${thousands}${rest}`), true);
    return notUnderstood(EXPECTED, `write ${thousands}${rest} or ${thousands}.${rest}, whichever is meant`);
  }
  for (const [pattern, group] of SHAPES) {
    if (!pattern.test(text)) continue;
    const digits = (group ? text.replace(group, '') : text).replace(',', '.');
    const value = Number(digits);
    if (!Number.isFinite(value)) break;
    const significant = digits.replace('.', '').replace(/^0+/, '').length;
    return understood(value, significant <= 15);
  }
  return notUnderstood(EXPECTED);
}
