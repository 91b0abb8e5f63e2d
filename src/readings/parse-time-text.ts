import { parseNumberText } from './parse-number-text.js';
import type { ParseResult } from './parse-result.js';
import { notUnderstood, understood } from './parse-result.js';

/** A length of time with units or colons. */
export interface WrittenTime {
  readonly seconds: number;
  /** True where hours are written: rare in these tests, and often a spreadsheet's doing. */
  readonly hours: boolean;
}

const EXPECTED = 'a time such as 60 s, 1:00 or 4 min 10 s';
const CLOCK = /^(\d{1,2}):(\d{2})(?::\d{2})? ?[ap]\.?m\.?$/iu;
const MINUTES_SECONDS = /^(\d*):(\d{1,2})(?:[.,](\d+))?(?: ?(?:m|mins?|minutes?)\.?)?$/iu;
const HOURS_MINUTES_SECONDS = /^(\d+):(\d{2}):(\d{2})(?:[.,](\d+))?$/u;
const NUMBER = String.raw`(\d+(?:[.,]\d+)?|\.\d+) ?`;
const GAP = '(?:,? ?(?:and )?)';
const WITH_UNITS = new RegExp(
  `^(?:${NUMBER}(?:hours?|hrs?|h)\\.?${GAP})?(?:${NUMBER}(?:minutes?|mins?|m|'(?!'))\\.?${GAP})?(?:${NUMBER}(seconds?|secs?|s|"|'')?\\.?)?$`,
  'iu',
);

/**
 * Reads a length of time written with units (`60 s`, `4m 10s`, `4.2 min`, `4' 10"`) or colons (`4:10`,
 * `0:47.5`, `1:02:03`). A bare number is not read here.
 *
 * @param text a text cleaned by `cleanCellText`, without a mark of approximation
 *
 * @example
 * parseTimeText('4m 10s') // { ok: true, value: { seconds: 250, hours: false }, exact: true }
 */
export function parseTimeText(text: string): ParseResult<WrittenTime> {
  const clock = CLOCK.exec(text);
  if (clock) return notUnderstood(EXPECTED, `write ${clock[1]}:${clock[2]} if minutes and seconds are meant: this is a time of day`);
  return parseColons(text) ?? parseWithUnits(text);
}

function parseColons(text: string): ParseResult<WrittenTime> | null {
  const long = HOURS_MINUTES_SECONDS.exec(text);
  if (long) {
    const [, hours, minutes, seconds, decimals] = long;
    return join(Number(hours), Number(minutes), Number(`${seconds}.${decimals ?? 0}`));
  }
  const short = MINUTES_SECONDS.exec(text);
  if (!short) return null;
  const [, minutes, seconds = '', decimals] = short;
  if (seconds.length === 1) {
    return notUnderstood(EXPECTED, `write the seconds with two digits, such as ${minutes || '0'}:0${seconds}`);
  }
  return join(null, Number(minutes), Number(`${seconds}.${decimals ?? 0}`));
}

function parseWithUnits(text: string): ParseResult<WrittenTime> {
  const parts = WITH_UNITS.exec(text);
  if (!parts) return notUnderstood(EXPECTED);
  const [, hoursText, minutesText, secondsText, secondsUnit] = parts;
  if (secondsUnit === undefined && secondsText !== undefined && minutesText === undefined) {
    return notUnderstood(EXPECTED, 'write the unit of every part');
  }
  const numbers: (number | null)[] = [];
  let exact = true;
  for (const part of [hoursText, minutesText, secondsText]) {
    if (part === undefined) {
      numbers.push(null);
      continue;
    }
    const number = parseNumberText(part);
    if (!number.ok) return notUnderstood(EXPECTED, number.hint);
    exact &&= number.exact;
    numbers.push(number.value);
  }
  const [hours = null, minutes = null, seconds = null] = numbers;
  const time = join(hours, minutes, seconds);
  return time.ok ? understood(time.value, exact) : time;
}

/** Adds the parts up. A part below another must be less than 60, and the part above it whole. */
function join(hours: number | null, minutes: number | null, seconds: number | null): ParseResult<WrittenTime> {
  if (hours === null && minutes === null && seconds === null) return notUnderstood(EXPECTED);
  if ((hours !== null && minutes !== null && minutes >= 60) || (minutes !== null && seconds !== null && seconds >= 60)) {
    return notUnderstood(EXPECTED, 'write less than 60 seconds beside minutes, and less than 60 minutes beside hours');
  }
  const above = seconds !== null ? [hours, minutes] : minutes !== null ? [hours] : [];
  if (above.some((part) => part !== null && !Number.isInteger(part))) {
    return notUnderstood(EXPECTED, 'write decimals in the last part only');
  }
  return understood({ seconds: (hours ?? 0) * 3600 + (minutes ?? 0) * 60 + (seconds ?? 0), hours: hours !== null && hours > 0 }, true);
}
