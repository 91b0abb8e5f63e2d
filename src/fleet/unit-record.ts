import type { Verdict } from '../limits/verdict.js';
import type { UnitBuildup } from './explain-slow-build-up.js';

/** A loss that was decided on, in the unit of its measure. */
export interface LossReading {
  readonly value: number;
  /** The upper limit that it was held against; null where there is none. */
  readonly limit: number | null;
  /** Its standard uncertainty from the gauge's readability; null where that is not known. */
  readonly uncertainty: number | null;
}

/** A build-up that was timed. */
export interface BuildupRecord {
  /** Null where its pressures were not written down: it compares with none. */
  readonly test: UnitBuildup | null;
  /** Whether its check passed; true where the limit set has no check on a build-up. */
  readonly passed: boolean;
}

/** What is kept of one inspection of a unit. Only inspections with a date have one. */
export interface UnitRecord {
  /** `yyyy-mm-dd` */
  readonly on: string;
  readonly row: number;
  readonly verdict: Verdict;
  /** One letter for each check of the plan: `f` failed, `p` passed, `-` neither. */
  readonly decided: string;
  /** Whether it names an inspection that it repeats. */
  readonly isRetest: boolean;
  /** The worst share of a leak's limit. */
  readonly leakShare: number | null;
  /** Which of the ranked losses used the highest share of its limit; null where none has a share. */
  readonly leading: number | null;
  /** One for each ranked loss; null where it was not decided. */
  readonly losses: readonly (LossReading | null)[];
  /** Null where none was timed. */
  readonly buildup: BuildupRecord | null;
}

/** When an inspection was made, and where it stands in its table. */
export type Placed = Pick<UnitRecord, 'on' | 'row'>;

/**
 * Compares two inspections by the order in which things happened: by date, and on one date by row of the table.
 *
 * @example inOrder({ on: '2026-03-01', row: 9 }, { on: '2026-03-02', row: 2 }) // below 0
 */
export function inOrder(a: Placed, b: Placed): number {
  return a.on < b.on ? -1 : a.on > b.on ? 1 : a.row - b.row;
}
