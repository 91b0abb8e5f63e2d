import { formatTime } from './format-time.js';
import type { ParseResult } from './parse-result.js';
import { notUnderstood, understood } from './parse-result.js';
import type { TimeOptions } from './parse-time-options.js';
import { expectedTime, isPlausibleTime } from './parse-time-options.js';
import { serialTimes } from './parse-time-serial.js';

/**
 * Reads a number without a unit as a length of time. It is seconds where that lies in the plausible span. Below 1
 * it may also be a spreadsheet's fraction of a day, or a part of a minute: then it is understood only where one
 * reading alone is plausible. Minutes are never taken, only proposed.
 *
 * @param value a number from 0 to 86400
 * @returns seconds, to the millisecond
 *
 * @example
 * parseTimeBare(60, { shortest: 15, longest: 900 }) // { ok: true, value: 60, exact: true }
 * parseTimeBare(1, { shortest: 15, longest: 900 }).hint // 'write 1 min if minutes are meant'
 */
export function parseTimeBare(value: number, options: TimeOptions): ParseResult<number> {
  return value > 0 && value < 1 ? parseFraction(value, options) : parseSeconds(value, options);
}

function parseSeconds(value: number, options: TimeOptions): ParseResult<number> {
  if (isPlausibleTime(value, options)) return understood(toMillisecond(value), hasAtMostThreeDecimals(value));
  const minutes = value * 60;
  if (!isPlausibleTime(minutes, options)) return notUnderstood(expectedTime(options), `write ${value} s if seconds are meant`);
  // `4.10` may be 4.1 minutes, or 4 minutes 10 seconds.
  const pointed = toMillisecond(Math.floor(value) * 60 + (value % 1) * 100);
  const hint =
    Number.isInteger(pointed) && pointed < (Math.floor(value) + 1) * 60 && !Number.isInteger(value)
      ? `write ${value} min (that is ${formatTime(minutes)}) or ${formatTime(pointed)}, whichever is meant`
      : `write ${value} min if minutes are meant`;
  return notUnderstood(expectedTime(options), hint);
}

function parseFraction(value: number, options: TimeOptions): ParseResult<number> {
  // Nobody writes more than three decimals of a second or a minute; a fraction of a day has more.
  const byHand = hasAtMostThreeDecimals(value);
  const { stored, typed, whole } = serialTimes(value);
  const readings = [
    { seconds: value, words: `${value} s`, taken: byHand, possible: byHand },
    { seconds: value * 60, words: `${value} min`, taken: false, possible: byHand },
    { seconds: typed, words: formatTime(typed), taken: true, possible: whole },
    { seconds: stored, words: formatTime(stored), taken: true, possible: true },
  ];
  const plausible = readings.filter(({ seconds, possible }) => possible && isPlausibleTime(seconds, options));
  const [only] = plausible;
  if (only && plausible.length === 1 && only.taken) return understood(only.seconds, only.seconds === value);
  const named = only ? plausible : readings.slice(2);
  return notUnderstood(expectedTime(options), `write ${named.map(({ words }) => words).join(' or ')}, ${named.length > 1 ? 'whichever' : 'if that'} is meant`);
}

function toMillisecond(seconds: number): number {
  return Math.round(seconds * 1000) / 1000;
}

function hasAtMostThreeDecimals(value: number): boolean {
  return toMillisecond(value) === value;
}
