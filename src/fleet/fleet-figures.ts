import type { FailRate } from './fail-rate.js';
import type { FleetMedians } from './fleet-medians.js';

/** Which way the fleet as a whole goes. */
export const FLEET_DIRECTIONS = ['getting better', 'getting worse', 'no trend shown', 'too few periods'] as const;
/** One of {@link FLEET_DIRECTIONS}: which way the fleet as a whole goes. */
export type FleetDirection = (typeof FLEET_DIRECTIONS)[number];

/** Whether a figure of the fleet rises or falls from period to period. */
export interface FleetTrend {
  readonly figure: 'fail_rate' | 'released_loss_median' | 'applied_loss_median' | 'buildup_time_median';
  /** `Cochran-Armitage` or `Mann-Kendall`. */
  readonly test: string;
  readonly periods: number;
  readonly z: number | null;
  /** Two-sided. */
  readonly p: number | null;
  readonly direction: FleetDirection;
}

/** One bar of a Pareto chart. */
export interface Reason {
  readonly reason: string;
  readonly failed: number;
  /** Share of all, and of all down to this one. */
  readonly share: number;
  readonly running_share: number;
}

/** Figures of the whole fleet over the period. */
export interface FleetFigures extends FailRate, FleetMedians {
  readonly inspections: number;
  readonly units: number;
  /** Units with a failure that is still open at the end of the period. */
  readonly open: number;
  readonly overdue: number;
  /** Inspections that were no retest and passed, of those that passed or failed; with its 95 % Wilson interval. */
  readonly first_time: { readonly tested: number; readonly passed: number; readonly rate: number | null; readonly low: number | null; readonly high: number | null };
  /** Failures that were closed by a passing test in the period, and the days that took. */
  readonly closed: { readonly failures: number; readonly days_median: number | null; readonly days_p90: number | null };
  readonly trends: readonly FleetTrend[];
  readonly reasons: readonly Reason[];
  readonly leak_places: readonly Reason[];
}
