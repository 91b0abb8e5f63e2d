import { quantile } from '../statistics/quantile.js';
import { isBeforeRepair } from './repairs.js';
import type { UnitRecord } from './unit-record.js';

/** Days kept of a series, the latest: every pair of them enters the slope. */
const MOST_DATES = 1000;

/** One loss of one unit, one value for each day. */
export interface LossSeries {
  /** `yyyy-mm-dd`, in order, all different. */
  readonly dates: readonly string[];
  readonly losses: readonly number[];
  /** The limit at the latest of them; null where there is none. */
  readonly limit: number | null;
}

/**
 * The course of a loss from a repair on: the median of the decided losses of each day.
 *
 * @param records the inspections of the unit, in order
 * @param loss number of the loss among those ranked
 * @param since the repair; null for the whole course
 */
export function lossSeries(records: readonly UnitRecord[], loss: number, since: string | null): LossSeries {
  const days = new Map<string, number[]>();
  let limit: number | null = null;
  for (const record of records) {
    const reading = record.losses[loss];
    if (!reading || (since !== null && isBeforeRepair(record, since))) continue;
    const day = days.get(record.on);
    if (day) day.push(reading.value);
    else days.set(record.on, [reading.value]);
    limit = reading.limit;
  }
  const latest = [...days].slice(-MOST_DATES);
  return { dates: latest.map(([date]) => date), losses: latest.map(([, values]) => quantile(values, 0.5)!), limit };
}
