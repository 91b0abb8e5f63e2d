import { dateFormatKind } from './date-format-kind.js';
import { serialToIsoDate } from './date-serial.js';
import type { FormattedNumber } from '../util/raw-table.js';

const SECONDS_OF_DAY = 86_400;

/**
 * What a spreadsheet shows of a date or a time, as text: `2026-03-14`, `2026-03-14 07:45`, `7:45`, `0:04:10`. Null where the
 * number is no date or time.
 *
 * @example dateTimeText({ value: 0.5, format: 'h:mm' }) // '12:00'
 */
export function dateTimeText({ value, format }: FormattedNumber, date1904 = false): string | null {
  const { date: showsDate, time: showsTime } = dateFormatKind(format);
  const seconds = Math.round(value * SECONDS_OF_DAY);
  if (!(value >= 0) || (!showsDate && !showsTime)) return null;
  if (!showsDate) return clock(seconds, '');
  const date = serialToIsoDate(seconds / SECONDS_OF_DAY, date1904);
  const ofDay = seconds % SECONDS_OF_DAY;
  return date === null || (!showsTime && ofDay === 0) ? date : `${date} ${clock(ofDay, '0')}`;
}

function clock(seconds: number, pad: '' | '0'): string {
  const two = (part: number): string => String(part).padStart(2, '0');
  const hours = Math.floor(seconds / 3600);
  const rest = seconds % 60;
  return `${pad === '' ? hours : two(hours)}:${two(Math.floor(seconds / 60) % 60)}${rest === 0 ? '' : `:${two(rest)}`}`;
}
