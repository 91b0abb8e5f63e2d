/** A date of numbers only whose day and month may stand in either order. */
export interface NumericDate {
  readonly first: number;
  readonly second: number;
  readonly year: number;
  readonly shortYear: boolean;
  readonly separator: string;
}

/** The parts of a written date. Its day may not exist. */
export interface WrittenDate {
  readonly year: number;
  readonly month: number;
  readonly day: number;
  readonly shortYear: boolean;
}

const MONTHS = ['january', 'february', 'march', 'april', 'may', 'june', 'july', 'august', 'september', 'october', 'november', 'december'];

const TIME = /[T ] ?\d{1,2}:\d{2}(?::\d{2}(?:[.,]\d+)?)?(?: ?[ap]\.?m\.?)?(?: ?(?:Z|UTC|[+-]\d{2}:?\d{2}))?$/iu;
const YEAR_FIRST = /^(\d{4})([-/. ]|\. )(\d{1,2})\2(\d{1,2})\.?$/u;
const COMPACT = /^((?:19|20)\d{2})(\d{2})(\d{2})$/u;
const NUMERIC = /^(\d{1,2})([-/. ]|\. )(\d{1,2})\2(\d{4}|\d{2})$/u;
const DAY_MONTH = /^(\d{1,2})(?:st|nd|rd|th)?[-/., ]{0,2}(?:of )?([a-z]{3,9})[-/., ]{0,2}(\d{4}|\d{2})$/iu;
const MONTH_DAY = /^([a-z]{3,9})[-/. ]{0,2}(\d{1,2})(?:st|nd|rd|th)?(?:, ?|[-/ ])(\d{4}|\d{2})$/iu;
const YEAR_MONTH_DAY = /^(\d{4})[-/. ]([a-z]{3,9})[-/. ](\d{1,2})$/iu;

/**
 * Takes a time of day off the end of a date.
 *
 * @example
 * withoutTimeOfDay('2026-03-04T10:15:00Z') // '2026-03-04'
 */
export function withoutTimeOfDay(text: string): string {
  return text.replace(TIME, '').trimEnd();
}

/**
 * Reads the parts of a date whose order its shape settles: the year first, or the month by its English name.
 * A year of two digits is 2000 to 2069 or 1970 to 1999.
 *
 * @param text a text cleaned by `cleanCellText`, without a time of day
 * @returns `null` where the text is no such date
 *
 * @example
 * parseDateText('4-Mar-2026') // { year: 2026, month: 3, day: 4, shortYear: false }
 */
export function parseDateText(text: string): WrittenDate | null {
  const iso = YEAR_FIRST.exec(text);
  if (iso) return written(iso[1], Number(iso[3]), iso[4]);
  const compact = COMPACT.exec(text);
  if (compact) return written(compact[1], Number(compact[2]), compact[3]);
  const dayMonth = DAY_MONTH.exec(text);
  if (dayMonth) return written(dayMonth[3], monthNumber(dayMonth[2]), dayMonth[1]);
  const monthDay = MONTH_DAY.exec(text);
  if (monthDay) return written(monthDay[3], monthNumber(monthDay[1]), monthDay[2]);
  const yearMonthDay = YEAR_MONTH_DAY.exec(text);
  if (yearMonthDay) return written(yearMonthDay[1], monthNumber(yearMonthDay[2]), yearMonthDay[3]);
  return null;
}

/**
 * Reads the parts of a date of numbers that ends in the year, without settling which is the day.
 *
 * @example
 * parseNumericDate('4/3/26') // { first: 4, second: 3, year: 2026, shortYear: true, separator: '/' }
 */
export function parseNumericDate(text: string): NumericDate | null {
  const [, first, separator, second, year] = NUMERIC.exec(text) ?? [];
  if (year === undefined || separator === undefined) return null;
  return { first: Number(first), second: Number(second), year: fullYear(year), shortYear: year.length === 2, separator };
}

function written(year: string | undefined, month: number | null, day: string | undefined): WrittenDate | null {
  if (year === undefined || month === null) return null;
  return { year: fullYear(year), month, day: Number(day), shortYear: year.length === 2 };
}

function fullYear(year: string): number {
  const number = Number(year);
  if (year.length !== 2) return number;
  return number < 70 ? 2000 + number : 1900 + number;
}

function monthNumber(name: string | undefined): number | null {
  const word = name?.toLowerCase() ?? '';
  const index = MONTHS.findIndex((month) => month === word || month.slice(0, 3) === word || (month === 'september' && word === 'sept'));
  return index < 0 ? null : index + 1;
}
