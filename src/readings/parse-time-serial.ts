import type { FormattedNumber } from '../util/raw-table.js';
import { dateFormatKind } from './date-format-kind.js';
import { formatTime } from './format-time.js';
import type { ParseResult } from './parse-result.js';
import { notUnderstood, understood } from './parse-result.js';
import type { TimeOptions } from './parse-time-options.js';
import { isPlausibleTime } from './parse-time-options.js';

const EXPECTED = 'a time such as 60 s, 1:00 or 4 min 10 s, in a cell formatted as text';
const LONGEST_DAYS = 10_000;

/** The two lengths of time that a fraction of a day may stand for, in seconds to the millisecond. */
export interface SerialTimes {
  /** As stored: the fraction of a day. */
  readonly stored: number;
  /** As typed: `4:10` was taken for 4 h 10 min and means 4 min 10 s. */
  readonly typed: number;
  /** True where `typed` is whole seconds, as it is when minutes and seconds were typed. */
  readonly whole: boolean;
}

/**
 * The lengths of time a fraction of a day may stand for.
 *
 * @example
 * serialTimes(250 / 1440) // { stored: 15000, typed: 250, whole: true }
 */
export function serialTimes(days: number): SerialTimes {
  const seconds = days * 1440;
  const whole = Math.abs(seconds - Math.round(seconds)) < 0.01;
  return { stored: toMillisecond(days * 86_400), typed: whole ? Math.round(seconds) : toMillisecond(seconds), whole };
}

/**
 * Reads a spreadsheet's time as a length of time. Where the format shows no seconds, `4:10` was typed for
 * 4 min 10 s and stored as 4 h 10 min. Where it shows seconds, the reading that lies in the plausible span is
 * taken, and none where both do or neither does. Minutes and seconds are typed as whole seconds; a time of day that
 * would give a fraction of a second is not taken for them.
 *
 * @returns seconds, to the millisecond
 *
 * @example
 * parseTimeSerial({ value: 250 / 1440, format: 'h:mm' }, { shortest: 15, longest: 900 })
 * // { ok: true, value: 250, exact: true }
 */
export function parseTimeSerial(cell: FormattedNumber, options: TimeOptions): ParseResult<number> {
  const kind = dateFormatKind(cell.format);
  if (kind.date || !kind.time) {
    return notUnderstood(EXPECTED, 'type the time again in a cell formatted as text: the spreadsheet turned it into a date');
  }
  if (!(cell.value >= 0 && cell.value <= LONGEST_DAYS)) return notUnderstood(EXPECTED);
  const { stored, typed, whole } = serialTimes(Math.abs(cell.value));
  const typedFits = whole && isPlausibleTime(typed, options);
  const storedFits = isPlausibleTime(stored, options);
  if (typedFits && (!kind.seconds || stored === typed)) return understood(typed, !kind.clock);
  if (kind.seconds && typedFits !== storedFits) return understood(storedFits ? stored : typed, false);
  return notUnderstood(EXPECTED, `write ${formatTime(typed)} or ${formatTime(stored)} (minutes and seconds) as text, whichever is meant`);
}

function toMillisecond(seconds: number): number {
  return Math.round(seconds * 1000) / 1000;
}
