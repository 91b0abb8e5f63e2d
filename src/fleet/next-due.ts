import type { IntervalPlan } from '../limits/interval.js';
import { ordinalDate, ordinalDay } from './ordinal-day.js';

const LAST_YEAR = 9999;

/**
 * The day so many months after another, as a spreadsheet's EDATE has it: the same day of the month, or the month's last
 * where it is shorter. Null beyond the year 9999.
 *
 * @param on `yyyy-mm-dd`
 * @param months a whole number, 0 or more
 * @example monthsAfter('2026-01-31', 1) // '2026-02-28'
 */
export function monthsAfter(on: string, months: number): string | null {
  const [year, month, day] = on.split('-').map(Number) as [number, number, number];
  const first = firstOfMonth(year, month - 1 + months);
  const next = firstOfMonth(year, month + months);
  if (Number(first.slice(0, first.indexOf('-'))) > LAST_YEAR) return null;
  return ordinalDate(Math.min(ordinalDay(first) + day - 1, ordinalDay(next) - 1));
}

/**
 * The day on which the next inspection is due.
 *
 * @param on the day of the latest inspection, `yyyy-mm-dd`
 * @returns null where the set names no interval, and beyond the year 9999
 * @example nextDue('2026-02-28', plan.interval) // '2027-02-28'
 */
export function nextDue(on: string, interval: Pick<IntervalPlan, 'unit' | 'every'> | null): string | null {
  if (interval === null) return null;
  if (interval.unit === 'months') return monthsAfter(on, interval.every);
  const due = ordinalDate(ordinalDay(on) + interval.every);
  return due.length > on.length ? null : due;
}

/** @param month 0 is January of that year, 12 that of the next */
function firstOfMonth(year: number, month: number): string {
  return `${String(year + Math.floor(month / 12)).padStart(4, '0')}-${String((month % 12) + 1).padStart(2, '0')}-01`;
}
