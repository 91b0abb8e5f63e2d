/**
 * Makes an ISO 8601 date of the Gregorian calendar.
 *
 * @param month 1 to 12
 * @returns `yyyy-mm-dd`; `null` where there is no such day, or the year is not between 1 and 9999
 *
 * @example
 * dateFromParts(2026, 3, 4) // '2026-03-04'
 * dateFromParts(2025, 2, 30) // null
 */
export function dateFromParts(year: number, month: number, day: number): string | null {
  if (![year, month, day].every(Number.isInteger)) return null;
  if (year < 1 || year > 9999 || month < 1 || month > 12 || day < 1 || day > daysInMonth(year, month)) return null;
  return `${String(year).padStart(4, '0')}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`;
}

function daysInMonth(year: number, month: number): number {
  if (month === 2) return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0 ? 29 : 28;
  return [4, 6, 9, 11].includes(month) ? 30 : 31;
}
