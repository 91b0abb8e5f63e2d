import type { FleetFigures } from './fleet-figures.js';
import type { GroupFailRate, RatePrior } from './group-fail-rate.js';
import type { OpenWork } from './open-work.js';
import type { PeriodLength, PeriodSummary } from './period-summary.js';
import type { UnitSummary } from './unit-summary.js';

/** Which inspections are counted, and how they are put together. Dates are `yyyy-mm-dd`, both inclusive; null is open. */
export interface Period {
  readonly from: string | null;
  readonly to: string | null;
  readonly by: PeriodLength;
}

/** The fleet in figures. */
export interface FleetSummary {
  readonly period: Period;
  /** The day to which days open and overdue are counted; null when no inspection has a date. */
  readonly counted_to: string | null;
  /** The highest share of a leak's limit now first. */
  readonly units: readonly UnitSummary[];
  readonly trend: readonly PeriodSummary[];
  readonly fail_rates: readonly GroupFailRate[];
  readonly priors: readonly RatePrior[];
  /** The longest open first. */
  readonly open_work: readonly OpenWork[];
  readonly fleet: FleetFigures;
}
