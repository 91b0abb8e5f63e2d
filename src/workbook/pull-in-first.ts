import type { FleetSummary } from '../fleet/summary.js';
import { urgencyOf } from './sheets/unit-columns.js';
import { toDo } from './sheets/unit-to-do.js';

/** A unit to pull in, and why. */
export interface UnitToPullIn {
  readonly unit: string;
  /** What the sheet Units says under "What to do". */
  readonly toDo: string;
}

/**
 * The units to pull in first, as the top of the sheet Units names them: open failures, the longest open first, then leaks
 * that are about to reach their limit, then what is overdue.
 *
 * @param most how many at most
 * @example pullInFirst(fleet)[0] // { unit: 'K-103', toDo: 'open failure, 34 days' }
 */
export function pullInFirst({ summary }: { readonly summary: Pick<FleetSummary, 'units' | 'open_work'> }, most = 3): UnitToPullIn[] {
  const repaired = new Set(summary.open_work.flatMap(({ unit, repaired_on: on }) => (on === null ? [] : unit)));
  return summary.units
    .flatMap((unit, index) => {
      const urgency = urgencyOf({ unit }, index + 1);
      return urgency === null ? [] : [{ urgency, unit }];
    })
    .sort((a, b) => a.urgency - b.urgency)
    .slice(0, most)
    .map(({ unit }) => ({ unit: unit.unit, toDo: toDo(unit, repaired.has(unit.unit)) }));
}
