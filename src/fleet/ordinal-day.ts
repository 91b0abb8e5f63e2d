/** Days before each month of a common year. */
const BEFORE_MONTH = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334] as const;

/**
 * The number of a day of the Gregorian calendar: 0001-01-01, a Monday, is 1. No time zone enters.
 *
 * @param date `yyyy-mm-dd`, a day that exists
 * @example ordinalDay('1970-01-01') // 719163
 */
export function ordinalDay(date: string): number {
  const [year, month, day] = date.split('-').map(Number) as [number, number, number];
  const leapDay = month > 2 && isLeap(year) ? 1 : 0;
  return daysBefore(year) + BEFORE_MONTH[month - 1]! + leapDay + day;
}

/**
 * The day of a number, the inverse of {@link ordinalDay}.
 *
 * @param ordinal a whole number, 1 or more
 * @returns `yyyy-mm-dd`
 * @example ordinalDate(719163) // '1970-01-01'
 */
export function ordinalDate(ordinal: number): string {
  let year = Math.floor((ordinal - 1) / 365.2425) + 1;
  while (daysBefore(year) >= ordinal) year -= 1;
  while (daysBefore(year + 1) < ordinal) year += 1;
  const leap = isLeap(year) ? 1 : 0;
  let dayOfYear = ordinal - daysBefore(year);
  let month = 12;
  const before = (one: number): number => BEFORE_MONTH[one - 1]! + (one > 2 ? leap : 0);
  while (before(month) >= dayOfYear) month -= 1;
  dayOfYear -= before(month);
  return `${String(year).padStart(4, '0')}-${String(month).padStart(2, '0')}-${String(dayOfYear).padStart(2, '0')}`;
}

function daysBefore(year: number): number {
  const past = year - 1;
  return 365 * past + Math.floor(past / 4) - Math.floor(past / 100) + Math.floor(past / 400);
}

function isLeap(year: number): boolean {
  return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
}
