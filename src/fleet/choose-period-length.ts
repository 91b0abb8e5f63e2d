import { ordinalDay } from './ordinal-day.js';
import { PERIOD_LENGTHS, type PeriodLength } from './period-summary.js';
import { periodOf } from './period-of.js';

/** The most periods that a trend lists. */
export const MOST_PERIODS = 400;
/** Days from the first to the last date for which weeks, and for which months, are short enough. */
const WEEKS_UP_TO = 70;
const MONTHS_UP_TO = 915;

/**
 * How long the periods of a trend are. As asked for; without a wish weeks for dates up to 70 days apart, months up to
 * 915 days (two years and a half), else quarters. Where that makes more than 400 periods, the next longer one that does
 * not is taken instead, whatever was asked for; 20 years by week become 20 years by month. Quarters are the longest.
 *
 * @param first the first date, `yyyy-mm-dd`
 * @param last the last date, `yyyy-mm-dd`
 * @example choosePeriodLength('2026-01-05', '2026-03-01', null) // 'week'
 */
export function choosePeriodLength(first: string, last: string, asked: PeriodLength | null): PeriodLength {
  const days = ordinalDay(last) - ordinalDay(first);
  const wanted = asked ?? (days <= WEEKS_UP_TO ? 'week' : days <= MONTHS_UP_TO ? 'month' : 'quarter');
  const longer = PERIOD_LENGTHS.slice(PERIOD_LENGTHS.indexOf(wanted));
  return longer.find((by) => periodOf(last, by).index - periodOf(first, by).index < MOST_PERIODS) ?? 'quarter';
}
