import { PERIOD_LENGTHS, type PeriodLength } from '../fleet/period-summary.js';
import { dateFromParts } from '../readings/date-from-parts.js';
import { TreadlebookError } from '../util/treadlebook-error.js';

/** Which inspections the summaries count, as a caller asks. Dates are `yyyy-mm-dd`, both inclusive; without one the period is open. */
export interface PeriodOptions {
  /** Trend and rates count from this day on; how units stand is told from all inspections up to `to`. */
  readonly from?: string | null;
  /** Everything is told as it stood at the end of this day. */
  readonly to?: string | null;
  /** The same as `to`. */
  readonly asOf?: string | null;
  /** How long the periods of the trend are; without it, as suits the span. */
  readonly by?: PeriodLength | null;
}

/** The period that was asked for; null is open, or as suits the span. */
export interface AskedPeriod {
  readonly from: string | null;
  readonly to: string | null;
  readonly by: PeriodLength | null;
}

/** What the options are called where they were given, for messages. */
export interface PeriodNames extends Readonly<Record<keyof PeriodOptions, string>> {
  readonly where: string;
}

const LIBRARY: PeriodNames = { where: 'evaluateReadings', from: 'from', to: 'to', asOf: 'asOf', by: 'by' };

/**
 * Checks the period that a caller asks for.
 *
 * @throws TreadlebookError `usage` for what is no date, a first day after the last, two last days, or an unknown length
 * @example askedPeriod({ from: '2026-01-01', asOf: '2026-06-30' }) // { from: '2026-01-01', to: '2026-06-30', by: null }
 */
export function askedPeriod(asked: PeriodOptions, names: PeriodNames = LIBRARY): AskedPeriod {
  const wrong = (what: string, mend: string): TreadlebookError => new TreadlebookError({ code: 'usage', where: names.where, what, mend });
  const dateOf = (option: 'from' | 'to' | 'asOf'): string | null => {
    const date = asked[option] ?? null;
    if (date !== null && !isIsoDate(date)) throw wrong(`${names[option]} ${shown(date)} is no date`, 'write it as 2026-03-14');
    return date;
  };
  const [from, to, asOf] = [dateOf('from'), dateOf('to'), dateOf('asOf')];
  if (to !== null && asOf !== null && to !== asOf) throw wrong(`${names.to} ${to} and ${names.asOf} ${asOf} are two ends of one period`, 'give one of them');
  const end = to ?? asOf;
  if (from !== null && end !== null && from > end) throw wrong(`${names.from} ${from} is after ${to === null ? names.asOf : names.to} ${end}`, `give the earlier day to ${names.from}`);
  const by = asked.by ?? null;
  if (by !== null && !PERIOD_LENGTHS.includes(by)) throw wrong(`${names.by} ${shown(by)} is not known`, 'write week, month or quarter');
  return { from, to: end, by };
}

/** True for a day as `yyyy-mm-dd`. */
export function isIsoDate(date: unknown): boolean {
  if (typeof date !== 'string') return false;
  const [year, month, day] = date.split('-').map(Number);
  return dateFromParts(year!, month!, day!) === date;
}

function shown(value: unknown): string {
  return (JSON.stringify(value) ?? String(value)).slice(0, 60);
}
