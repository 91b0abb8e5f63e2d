import type { RawCell } from '../util/raw-table.js';
import { cleanCellText } from './clean-cell-text.js';
import { parseApproximate } from './parse-approximate.js';
import { parseNotMeasured } from './parse-not-measured.js';
import { parseNumberText } from './parse-number-text.js';
import type { ParseResult } from './parse-result.js';
import { notUnderstood, understood } from './parse-result.js';

/** What kind of number a column holds. */
export interface NumberOptions {
  /** Numbers below zero are understood. */
  readonly negative?: boolean;
  /** Only whole numbers are understood; a single comma before three digits then groups thousands. */
  readonly whole?: boolean;
  /** A single comma before three digits groups thousands (an odometer), without asking for a whole number. */
  readonly commaGroups?: boolean;
  /** Words that may follow the number, such as `rpm`. They are not converted. */
  readonly unitWords?: readonly string[];
}

/**
 * Reads a plain count or quantity, such as an odometer or an engine speed. An approximate mark (`~1500`)
 * is accepted and makes the result not exact; so does a unit word.
 *
 * @returns `null` for a blank cell; an understood `null` for a mark such as `n/a`
 *
 * @example
 * parseNumber('12 345') // { ok: true, value: 12345, exact: true }
 * parseNumber('~1500 rpm', { unitWords: ['rpm'] }) // { ok: true, value: 1500, exact: false }
 */
export function parseNumber(cell: RawCell, options: NumberOptions = {}): ParseResult<number | null> | null {
  const expected = `${options.whole ? 'a whole number' : 'a number'}${options.negative ? '' : ', not below zero'}, without an exponent`;
  if (cell === null) return null;
  if (typeof cell === 'object') {
    return notUnderstood(expected, 'type the number again in a cell formatted as a number: the spreadsheet turned it into a date or time');
  }
  if (typeof cell === 'boolean') return notUnderstood(expected);
  if (typeof cell === 'number') return accept(cell, true, options, expected);

  const text = cleanCellText(cell);
  if (text === '') return null;
  const mark = parseNotMeasured(text);
  if (mark) return mark;

  const { approximate, rest } = parseApproximate(text);
  const bare = withoutUnitWord(rest, options.unitWords ?? []);
  const sign = /^[-–]/u.test(bare) ? -1 : 1;
  const number = parseNumberText(bare.replace(/^[-–+] ?/u, ''), {
    commaGroups: options.commaGroups === true || options.whole === true,
  });
  if (!number.ok) return notUnderstood(expected, number.hint);
  return accept(sign * number.value, number.exact && !approximate && bare === rest, options, expected);
}

function accept(value: number, exact: boolean, options: NumberOptions, expected: string): ParseResult<number> {
  if (!Number.isFinite(value)) return notUnderstood(expected);
  if (value < 0 && !options.negative) return notUnderstood(expected);
  if (options.whole && !Number.isInteger(value)) return notUnderstood(expected);
  return understood(value === 0 ? 0 : value, exact);
}

function withoutUnitWord(text: string, words: readonly string[]): string {
  const lower = text.toLowerCase();
  for (const word of words) {
    if (lower.endsWith(word.toLowerCase())) return text.slice(0, text.length - word.length).trimEnd();
  }
  return text;
}
