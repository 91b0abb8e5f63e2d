import { roundHalfAway } from '../util/round-half-away.js';
import type { LossReading, UnitRecord } from './unit-record.js';

/** The 95 % point of the standard normal distribution, one-sided (JCGM 106:2012, Table 1). */
const Z = 1.645;
/** The part of the limit by which a loss must fall where the gauge is not known; common practice, no source. */
const LEAST_DROP = 0.1;
const COMPARED_DECIMALS = 6;

/** What was found last before a repair, and first after it. */
export interface AroundRepair<T> {
  readonly before: T | null;
  readonly after: T | null;
}

/** Whether an inspection came before a repair: on an earlier day, or on its day and not as a retest. */
export function isBeforeRepair({ on, isRetest }: Pick<UnitRecord, 'on' | 'isRetest'>, repair: string): boolean {
  return on < repair || (on === repair && !isRetest);
}

/**
 * What was found last before a repair and first after it.
 *
 * @param records the inspections of the unit, in order
 * @param repair the day of the repair, `yyyy-mm-dd`
 * @param pick what is looked for in an inspection; null where it has none
 */
export function aroundRepair<T>(records: readonly UnitRecord[], repair: string, pick: (record: UnitRecord) => T | null): AroundRepair<T> {
  const start = firstOn(records, repair);
  let before: T | null = null;
  let after: T | null = null;
  for (let at = start; at < records.length && after === null; at++) {
    const record = records[at]!;
    if (!isBeforeRepair(record, repair)) after = pick(record);
  }
  let end = start;
  while (end < records.length && records[end]!.on === repair) end += 1;
  for (let at = end - 1; at >= 0 && before === null; at--) {
    const record = records[at]!;
    if (isBeforeRepair(record, repair)) before = pick(record);
  }
  return { before, after };
}

/**
 * Whether a loss fell by more than its gauge explains (one-sided 95 %, both readings uncertain); where the gauge is not
 * known, by a tenth of the limit or more; where there is no limit either, at all.
 *
 * @example tookEffect({ value: 4, limit: 3, uncertainty: null }, { value: 1, limit: 3, uncertainty: null }) // true
 */
export function tookEffect(before: LossReading, after: LossReading): boolean {
  const drop = before.value - after.value;
  if (before.uncertainty !== null && after.uncertainty !== null) return roundHalfAway(drop - Z * Math.hypot(before.uncertainty, after.uncertainty), COMPARED_DECIMALS) > 0;
  const limit = after.limit ?? before.limit;
  return drop > 0 && (limit === null || roundHalfAway(drop - LEAST_DROP * limit, COMPARED_DECIMALS) >= 0);
}

/**
 * The latest repair after which a loss was lower; null where none was.
 *
 * @param records the inspections of the unit, in order
 * @param repairs the days of its repairs, in order
 * @param loss number of the loss among those ranked
 */
export function lastEffectiveRepair(records: readonly UnitRecord[], repairs: readonly string[], loss: number): string | null {
  const decided = records.filter(({ losses }) => losses[loss] != null);
  for (const repair of repairs.toReversed()) {
    const { before, after } = aroundRepair(decided, repair, ({ losses }) => losses[loss]!);
    if (before !== null && after !== null && tookEffect(before, after)) return repair;
  }
  return null;
}

/** The place of the first inspection on a day or later. */
function firstOn(records: readonly UnitRecord[], day: string): number {
  let [low, high] = [0, records.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (records[middle]!.on < day) low = middle + 1;
    else high = middle;
  }
  return low;
}
