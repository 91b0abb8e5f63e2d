import type { FormattedNumber, RawCell } from '../util/raw-table.js';
import { cleanCellText } from './clean-cell-text.js';
import { dateFormatKind } from './date-format-kind.js';
import { dateFromParts } from './date-from-parts.js';
import { serialToIsoDate } from './date-serial.js';
import type { NumericDate } from './parse-date-text.js';
import { parseDateText, parseNumericDate, withoutTimeOfDay } from './parse-date-text.js';
import { parseNotMeasured } from './parse-not-measured.js';
import type { ParseResult } from './parse-result.js';
import { notUnderstood, understood } from './parse-result.js';

/** The order in which a date of numbers is written. */
export type DateOrder = 'dmy' | 'mdy' | 'ymd';

/** How a date is to be understood. */
export interface DateOptions {
  /** The order of day and month in dates of numbers such as `4/3/2026`; null where it is not known. */
  readonly order: 'dmy' | 'mdy' | null;
  /** True where the workbook counts days from 1904. */
  readonly date1904: boolean;
}

const EXPECTED = 'a date such as 2026-03-04 or 4 Mar 2026';
const MAX_LENGTH = 60;
/** Spreadsheet programs disagree about the serials of the days before, for one of them counts a 29 February 1900. */
const EARLIEST = '1900-03-01';

/**
 * Reads a date: ISO 8601, a spreadsheet's date, a date with the month's English name, or a date of numbers where
 * the order of day and month is given or cannot be mistaken. A time of day is dropped and makes the result
 * not exact; so does a year of two digits.
 *
 * @returns `yyyy-mm-dd`, from 1900-03-01 on; `null` for a blank cell; an understood `null` for a mark such as `n/a`
 *
 * @example
 * parseDate('4/3/2026', { order: 'dmy', date1904: false }) // { ok: true, value: '2026-03-04', exact: true }
 * parseDate('4/3/2026', { order: null, date1904: false }).ok // false
 */
export function parseDate(cell: RawCell, options: DateOptions): ParseResult<string | null> | null {
  if (cell === null) return null;
  if (typeof cell === 'boolean') return notUnderstood(EXPECTED);
  if (typeof cell === 'object') return parseSerial(cell, options);

  const text = typeof cell === 'number' ? String(cell) : cleanCellText(cell);
  if (text === '') return null;
  const mark = typeof cell === 'string' ? parseNotMeasured(text) : null;
  if (mark) return mark;
  if (text.length > MAX_LENGTH) return notUnderstood(EXPECTED);
  if (/^\d{5}(?:\.\d+)?$/.test(text)) return notUnderstood(EXPECTED, hintForSerial(Number(text), options));

  const day = withoutTimeOfDay(text);
  const exact = day === text;
  const written = parseDateText(day);
  if (written) {
    const date = existing(written.year, written.month, written.day);
    return date === null ? noSuchDay() : understood(date, exact && !written.shortYear);
  }
  const numeric = parseNumericDate(day);
  if (numeric) return inOrder(numeric, exact, options);
  return notUnderstood(EXPECTED, /^\d{1,2}[-/. ]\w+$|^[a-z]{3,9}[-. ]\d{1,2}$/iu.test(day) ? 'add the year' : undefined);
}

function parseSerial(cell: FormattedNumber, options: DateOptions): ParseResult<string> {
  const kind = dateFormatKind(cell.format);
  if (!kind.date) return notUnderstood(EXPECTED, 'format the cell as a date, or write the date as text: it is formatted as a time');
  const date = cell.value >= 1 || options.date1904 ? serialToIsoDate(cell.value, options.date1904) : null;
  return date === null || date < EARLIEST ? noSuchDay() : understood(date, Number.isInteger(cell.value));
}

function inOrder(parts: NumericDate, exact: boolean, options: DateOptions): ParseResult<string> {
  const { first, second, year, shortYear, separator } = parts;
  const dayFirst = existing(year, second, first);
  const monthFirst = existing(year, first, second);
  const only = dayFirst === monthFirst ? dayFirst : dayFirst === null ? monthFirst : monthFirst === null ? dayFirst : null;
  if (options.order !== null) {
    const date = options.order === 'dmy' ? dayFirst : monthFirst;
    if (date !== null) return understood(date, exact && !shortYear);
    return only === null ? noSuchDay() : notUnderstood(`${EXPECTED}, or ${inWords(options.order)}`, `write ${only} if that is meant`);
  }
  if (only !== null) {
    // `25-03-26` may be 25 March 2026 or, with the year first, 26 March 2025.
    const yearFirst = yearFirstToo(parts) ? existing(2000 + first, second, year % 100) : null;
    if (yearFirst === null || yearFirst === only) return understood(only, exact && !shortYear);
    return notUnderstood(`${EXPECTED}: it may be ${only} or ${yearFirst}`, 'write the year with four digits, or give --date-order dmy');
  }
  if (dayFirst === null) return noSuchDay();
  return notUnderstood(
    `${EXPECTED}: ${first}${separator}${second} may be ${dayFirst} (day first) or ${monthFirst} (month first)`,
    'give --date-order dmy or --date-order mdy',
  );
}

/**
 * The order of day and month that the dates of a column prove: a first part above 12 can only be a day, and so can a
 * second part above 12.
 *
 * @returns `'conflict'` where some cells prove one order and some the other; `null` where none proves any
 *
 * @example
 * provenDateOrder(['4/3/2026', '25/3/2026']) // 'dmy'
 */
export function provenDateOrder(cells: Iterable<RawCell>): 'dmy' | 'mdy' | 'conflict' | null {
  let proven: 'dmy' | 'mdy' | null = null;
  for (const cell of cells) {
    if (typeof cell !== 'string' || cell.length > MAX_LENGTH) continue;
    const parts = parseNumericDate(withoutTimeOfDay(cleanCellText(cell)));
    if (!parts || (parts.first <= 12 && parts.second <= 12)) continue;
    const dayFirst = existing(parts.year, parts.second, parts.first) !== null && !yearFirstToo(parts);
    const monthFirst = existing(parts.year, parts.first, parts.second) !== null;
    if (!dayFirst && !monthFirst) continue;
    const order = dayFirst ? 'dmy' : 'mdy';
    if (proven !== null && proven !== order) return 'conflict';
    proven = order;
  }
  return proven;
}

/** A date such as `25-03-26` may have its year first. With slashes or points nobody writes it so. */
function yearFirstToo({ shortYear, separator, first }: NumericDate): boolean {
  return shortYear && separator === '-' && first > 12;
}

function existing(year: number, month: number, day: number): string | null {
  const date = dateFromParts(year, month, day);
  return date === null || date < EARLIEST ? null : date;
}

function noSuchDay(): ParseResult<never> {
  return notUnderstood(EXPECTED, `look the date up again: there is no such day from ${EARLIEST} on`);
}

function inWords(order: 'dmy' | 'mdy'): string {
  return order === 'dmy' ? 'day/month/year' : 'month/day/year';
}

function hintForSerial(serial: number, options: DateOptions): string | undefined {
  if (!(serial >= 20_000 && serial <= 80_000)) return undefined;
  const date = serialToIsoDate(serial, options.date1904);
  return date === null ? undefined : `write ${date} if that is meant: the number looks like a spreadsheet date`;
}
