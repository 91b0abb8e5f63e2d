import type { UnitSummary } from '../../fleet/unit-summary.js';
import type { UnitRows } from './unit-rows.js';

/** The words for a unit whose leak has reached its limit. */
export const REACHED = 'already reached';

/**
 * What to do with a unit, in words: what has failed and is open, what is about to reach its limit, what is overdue. The
 * sheet's formula says the same.
 *
 * @param isRepaired whether a repair was noted since it failed last, see {@link repairedSince}
 * @returns an empty text when there is nothing to do
 * @example toDo(unit, true) // 'open failure, 34 days; repaired, retest it'
 */
export function toDo(unit: UnitSummary, isRepaired: boolean): string {
  const said: string[] = [];
  if (unit.open_since !== null) {
    said.push(`open failure, ${days(unit.days_open ?? 0)}`);
    if (isRepaired) said.push('repaired, retest it');
  }
  const trend = unit.trends[0];
  if (trend?.direction === 'rising' && trend.crosses_on !== null) said.push(`leak rising, limit reached by ${trend.crosses_on}`);
  else if (trend?.direction === 'rising' && trend.crossing === REACHED) said.push('leak rising, may be at its limit now');
  if (unit.overdue_days !== null) said.push(`overdue ${days(unit.overdue_days)}`);
  return said.join('; ');
}

/** Whether a repair was noted after the inspection at which an open check failed last. On the day of the repair itself, a retest comes after it. */
export function repairedSince({ last_repair_on: repaired }: UnitSummary, { openOn, openIsRetest }: UnitRows): boolean {
  if (repaired === null || openOn === null) return false;
  return repaired > openOn || (repaired === openOn && !openIsRetest);
}

function days(count: number): string {
  return `${count} ${count === 1 ? 'day' : 'days'}`;
}
