import { dateFromParts } from './date-from-parts.js';

const DAY_MS = 86_400_000;
const LAST_SERIAL_1900 = 2_958_465;
const LAST_SERIAL_1904 = 2_957_003;
const DAY_0_OF_1904 = Date.UTC(1904, 0, 1);
/** Day 0 from serial 61 on; before that the 1900 system lags a day, for it counts 29 February 1900. */
const DAY_0_OF_1900 = Date.UTC(1899, 11, 30);

/**
 * The day a spreadsheet's date serial stands for (ECMA-376 Part 1, 18.17.4; the 1900 system is the
 * backward compatible one, in which 1900-01-01 is 1). A time of day is dropped, after rounding to the millisecond.
 *
 * @param serial days, with the time of day as a fraction
 * @param date1904 true where the workbook counts from 1904
 * @returns `yyyy-mm-dd`; `null` for a serial out of range, and for 60 in the 1900 system, a day that never was
 *
 * @example
 * serialToIsoDate(38749, false) // '2006-02-01'
 */
export function serialToIsoDate(serial: number, date1904: boolean): string | null {
  const day = Math.floor(Math.round(serial * DAY_MS) / DAY_MS);
  if (!(day >= 0 && day <= (date1904 ? LAST_SERIAL_1904 : LAST_SERIAL_1900))) return null;
  if (date1904) return isoDate(DAY_0_OF_1904 + day * DAY_MS);
  if (day === 60) return null;
  return isoDate(DAY_0_OF_1900 + (day < 60 ? day + 1 : day) * DAY_MS);
}

/**
 * The date serial of a day, the inverse of `serialToIsoDate`.
 *
 * @param iso `yyyy-mm-dd`
 * @returns a whole number; `null` where the text is no such date or lies outside the system
 *
 * @example
 * isoDateToSerial('2006-02-01') // 38749
 * isoDateToSerial('2006-02-01', true) // 37287
 */
export function isoDateToSerial(iso: string, date1904 = false): number | null {
  const [, year, month, day] = /^(\d{4})-(\d{2})-(\d{2})$/.exec(iso) ?? [];
  if (dateFromParts(Number(year), Number(month), Number(day)) === null) return null;
  const time = Date.parse(`${iso}T00:00:00Z`);
  const days = (time - (date1904 ? DAY_0_OF_1904 : DAY_0_OF_1900)) / DAY_MS;
  const serial = !date1904 && days < 61 ? days - 1 : days;
  return serial < 0 ? null : serial;
}

function isoDate(time: number): string {
  return new Date(time).toISOString().slice(0, 10);
}
