import { ordinalDate, ordinalDay } from './ordinal-day.js';
import type { PeriodLength } from './period-summary.js';

/** A week, month or quarter of the calendar. */
export interface CalendarPeriod {
  /** `2026-W03` (ISO 8601 week, Monday to Sunday, of the year that its Thursday is in), `2026-03` or `2026-Q1`. */
  readonly period: string;
  /** Its first and its last day, `yyyy-mm-dd`. */
  readonly from: string;
  readonly to: string;
  /** Counts the periods of this length one by one, so that the next one has the next number. */
  readonly index: number;
}

/** The last day that can be written `yyyy-mm-dd`. */
const LAST_DAY = ordinalDay('9999-12-31');

/**
 * The period that a day lies in.
 *
 * @param date `yyyy-mm-dd`, a day that exists
 * @example periodOf('2021-01-03', 'week').period // '2020-W53'
 */
export function periodOf(date: string, by: PeriodLength): CalendarPeriod {
  if (by === 'week') return periodAt(Math.floor((ordinalDay(date) - 1) / 7), by);
  const months = Number(date.slice(0, 4)) * 12 + Number(date.slice(5, 7)) - 1;
  return periodAt(by === 'month' ? months : Math.floor(months / 3), by);
}

/** The period after another one of the same length. */
export function nextPeriod(period: CalendarPeriod, by: PeriodLength): CalendarPeriod {
  return periodAt(period.index + 1, by);
}

function periodAt(index: number, by: PeriodLength): CalendarPeriod {
  if (by === 'week') return weekAt(index);
  const months = by === 'month' ? 1 : 3;
  const perYear = 12 / months;
  const [year, ordinal] = [Math.floor(index / perYear), index % perYear];
  const firstMonth = ordinal * months + 1;
  const first = (monthsOn: number): string => `${four(year + Math.floor((firstMonth - 1 + monthsOn) / 12))}-${two(((firstMonth - 1 + monthsOn) % 12) + 1)}-01`;
  return {
    period: by === 'month' ? `${four(year)}-${two(firstMonth)}` : `${four(year)}-Q${ordinal + 1}`,
    from: first(0),
    to: ordinalDate(ordinalDay(first(months)) - 1),
    index,
  };
}

function weekAt(index: number): CalendarPeriod {
  const monday = index * 7 + 1;
  const year = ordinalDate(monday + 3).slice(0, 4);
  const week = Math.floor((monday + 3 - ordinalDay(`${year}-01-01`)) / 7) + 1;
  return { period: `${year}-W${two(week)}`, from: ordinalDate(monday), to: ordinalDate(Math.min(monday + 6, LAST_DAY)), index };
}

const two = (number: number): string => String(number).padStart(2, '0');
const four = (number: number): string => String(number).padStart(4, '0');
