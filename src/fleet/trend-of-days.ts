import { choosePeriodLength, MOST_PERIODS } from './choose-period-length.js';
import { DayTally } from './day-tally.js';
import { nextPeriod, periodOf, type CalendarPeriod } from './period-of.js';
import type { PeriodLength, PeriodSummary } from './period-summary.js';

/** The periods of a fleet, and how long they are. */
export interface PeriodTrend {
  readonly by: PeriodLength;
  readonly trend: readonly PeriodSummary[];
}

/**
 * Merges the tallies of days into periods, in the order of time: every period from the first to the last date, also those
 * without an inspection. Where even quarters would be more than 400 (dates a hundred years apart are a slip of the pen),
 * only periods with inspections are listed, the latest 400.
 *
 * @param days the tallies by date, `yyyy-mm-dd`
 * @param asked the length that was asked for; see {@link choosePeriodLength}
 */
export function trendOfDays(days: ReadonlyMap<string, DayTally>, asked: PeriodLength | null): PeriodTrend {
  const dates = [...days.keys()].sort();
  const [first, last] = [dates[0], dates.at(-1)];
  if (first === undefined || last === undefined) return { by: asked ?? 'month', trend: [] };
  const by = choosePeriodLength(first, last, asked);
  const periods = new Map<number, { readonly calendar: CalendarPeriod; readonly tally: DayTally }>();
  const listed = (calendar: CalendarPeriod): DayTally => {
    const tally = periods.get(calendar.index)?.tally ?? new DayTally();
    periods.set(calendar.index, { calendar, tally });
    return tally;
  };
  const [from, to] = [periodOf(first, by), periodOf(last, by)];
  if (to.index - from.index < MOST_PERIODS) for (let period = from; period.index <= to.index; period = nextPeriod(period, by)) listed(period);
  for (const date of dates) listed(periodOf(date, by)).merge(days.get(date)!.state());
  const trend = [...periods.values()].slice(-MOST_PERIODS).map(({ calendar, tally }) => ({ period: calendar.period, from: calendar.from, to: calendar.to, ...tally.result() }));
  return { by, trend };
}
