import type { OpenWork } from './open-work.js';
import { isBeforeRepair } from './repairs.js';
import type { OpenFailure, UnitHistory } from './unit-history.js';
import { inOrder } from './unit-record.js';
import type { UnitSummary } from './unit-summary.js';

/**
 * What is to be done on a unit; null where nothing is open. The inspection shown is the latest at which one of its open
 * checks failed.
 *
 * @param repairs the days of its repairs, in order
 */
export function openWorkOf(history: UnitHistory, { unit, site, open_since, days_open, open_checks, buildup_explained }: UnitSummary, repairs: readonly string[]): OpenWork | null {
  const shown = history.openFailures().reduce<OpenFailure | null>((last, failure) => (last === null || inOrder(last, failure) < 0 ? failure : last), null);
  if (shown === null || open_since === null || days_open === null) return null;
  const { inspection_id, reason, leak_place, where_to_look } = shown.text;
  const repair = repairs.at(-1);
  const repaired_on = repair !== undefined && isBeforeRepair(shown, repair) ? repair : null;
  return { unit, site, open_since, days_open, open_checks, inspection_id, row: shown.row, inspected_on: shown.on, reason, leak_place, where_to_look, buildup_explained, repaired_on };
}
