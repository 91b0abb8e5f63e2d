import type { UnitRecord } from './unit-record.js';

/** A time in which a unit had a failed check that had not passed since. */
export interface FailureEpisode {
  readonly openedOn: string;
  /** The day of the inspection after which no check was open; null while one is. */
  readonly closedOn: string | null;
}

/** How the failures of a unit went. */
export interface FailureCourse {
  readonly episodes: readonly FailureEpisode[];
  /** The checks that are open at the end, by number, and since when. */
  readonly open: ReadonlyMap<number, string>;
  /** For each inspection, whether a check was open just before it. */
  readonly openBefore: readonly boolean[];
}

/**
 * Follows the failures of one unit. A check is open from its first failure after its last pass until an inspection
 * passes it; one that cannot decide it, or leaves it out, changes nothing. A unit is open while any check is.
 *
 * @param records the inspections in order
 * @example followFailures([failed, passed]).episodes // [{ openedOn: '2026-03-01', closedOn: '2026-03-05' }]
 */
export function followFailures(records: readonly Pick<UnitRecord, 'on' | 'decided'>[]): FailureCourse {
  const open = new Map<number, string>();
  const episodes: FailureEpisode[] = [];
  const openBefore: boolean[] = [];
  let openedOn: string | null = null;
  for (const { on, decided } of records) {
    openBefore.push(open.size > 0);
    for (let check = 0; check < decided.length; check++) {
      if (decided[check] === 'p') open.delete(check);
      else if (decided[check] === 'f' && !open.has(check)) open.set(check, on);
    }
    if (open.size > 0) openedOn ??= on;
    else if (openedOn !== null) {
      episodes.push({ openedOn, closedOn: on });
      openedOn = null;
    }
  }
  if (openedOn !== null) episodes.push({ openedOn, closedOn: null });
  return { episodes, open, openBefore };
}
