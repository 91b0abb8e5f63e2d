import { explainSlowBuildUp } from './explain-slow-build-up.js';
import { isBeforeRepair } from './repairs.js';
import type { UnitRecord } from './unit-record.js';

/**
 * Says of the latest build-up of a unit how much of its slowness the leak explains, beside the last earlier one that passed.
 * For diagnosis, never for the verdict.
 *
 * @param records the inspections of the unit, in order
 * @param since the latest repair that took effect, `yyyy-mm-dd`; a build-up before it is not compared with. Null where none did
 * @returns the sentence of `explainSlowBuildUp`; null where there is none, or nothing to compare
 */
export function buildupExplained(records: readonly UnitRecord[], since: string | null): string | null {
  const latest = records.findLastIndex(({ buildup }) => buildup !== null);
  const now = records[latest]?.buildup?.test ?? null;
  if (now === null) return null;
  const good = records.slice(0, latest).findLast((record) => record.buildup?.passed && record.buildup.test !== null && !(since !== null && isBeforeRepair(record, since)));
  return good ? explainSlowBuildUp(good.buildup!.test!, now) : null;
}
