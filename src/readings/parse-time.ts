import type { RawCell } from '../util/raw-table.js';
import { cleanCellText } from './clean-cell-text.js';
import { formatTime } from './format-time.js';
import { parseApproximate } from './parse-approximate.js';
import { parseNotMeasured } from './parse-not-measured.js';
import { parseNumberText } from './parse-number-text.js';
import type { ParseResult } from './parse-result.js';
import { notUnderstood, understood } from './parse-result.js';
import { parseTimeBare } from './parse-time-bare.js';
import type { TimeOptions } from './parse-time-options.js';
import { expectedTime, isPlausibleTime } from './parse-time-options.js';
import { parseTimeSerial } from './parse-time-serial.js';
import { parseTimeText } from './parse-time-text.js';

export type { TimeOptions };

const MAX_LENGTH = 80;
const LONGEST_WRITTEN = 86_400;
const BARE = /^(?:\d+(?:[.,]\d+)?|\.\d+)$/;

/**
 * Reads a length of time as people write it: `60 s`, `1 min`, `1:00`, `4m 10s`, `4.2 min`, and a spreadsheet's
 * time of day. A time with a unit or a colon is taken as written, even outside the plausible span, unless
 * it has hours; a bare number is seconds, and only within the span.
 *
 * @returns seconds, to the millisecond; `null` for a blank cell; an understood `null` for a mark such as `n/a`
 *
 * @example
 * parseTime('4:10', { shortest: 15, longest: 900 }) // { ok: true, value: 250, exact: true }
 * parseTime({ value: 250 / 1440, format: 'h:mm' }, { shortest: 15, longest: 900 }) // { ok: true, value: 250, exact: true }
 */
export function parseTime(cell: RawCell, options: TimeOptions): ParseResult<number | null> | null {
  const expected = expectedTime(options);
  if (cell === null) return null;
  if (typeof cell === 'boolean') return notUnderstood(expected);
  if (typeof cell === 'object') return parseTimeSerial(cell, options);
  if (typeof cell === 'number') return parseBare(cell, options);

  const text = cleanCellText(cell);
  if (text === '') return null;
  const mark = parseNotMeasured(text);
  if (mark) return mark;
  if (text.length > MAX_LENGTH) return notUnderstood(expected);

  const { approximate, rest } = parseApproximate(text);
  if (BARE.test(rest)) {
    const number = parseNumberText(rest);
    if (!number.ok) return notUnderstood(expected, number.hint);
    const time = parseBare(number.value, options);
    return time.ok ? understood(time.value, time.exact && !approximate) : time;
  }
  const written = parseTimeText(rest);
  if (!written.ok) return notUnderstood(expected, written.hint);
  const { seconds, hours } = written.value;
  if (seconds > LONGEST_WRITTEN) return notUnderstood(expected, 'write a time shorter than a day');
  if (hours && !isPlausibleTime(seconds, options)) {
    const typed = seconds / 60;
    const hint = isPlausibleTime(typed, options)
      ? `write ${formatTime(typed)} if minutes and seconds are meant: this has hours`
      : 'write minutes and seconds: this has hours';
    return notUnderstood(expected, hint);
  }
  const rounded = Math.round(seconds * 1000) / 1000;
  return understood(rounded, written.exact && !approximate && Math.abs(rounded - seconds) < 1e-9);
}

function parseBare(value: number, options: TimeOptions): ParseResult<number> {
  return value >= 0 && value <= LONGEST_WRITTEN ? parseTimeBare(Math.abs(value), options) : notUnderstood(expectedTime(options));
}
