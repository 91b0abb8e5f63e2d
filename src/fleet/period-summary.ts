import type { FailRate } from './fail-rate.js';

/** How long a period of the trend is. */
export const PERIOD_LENGTHS = ['week', 'month', 'quarter'] as const;
/** One of {@link PERIOD_LENGTHS}: how long a period of the trend is. */
export type PeriodLength = (typeof PERIOD_LENGTHS)[number];

/** One period of the fleet. Losses in psi/min, build-up times in s; quantiles by linear interpolation (type 7 of Hyndman and Fan). */
export interface PeriodSummary extends FailRate {
  /** `2026-W03` (ISO 8601 week), `2026-03` or `2026-Q1`. */
  readonly period: string;
  /** The first and the last day, `yyyy-mm-dd`. */
  readonly from: string;
  readonly to: string;
  readonly inspections: number;
  /** Different units that were inspected. */
  readonly units: number;
  readonly released_loss_median: number | null;
  readonly released_loss_p90: number | null;
  readonly applied_loss_median: number | null;
  readonly applied_loss_p90: number | null;
  readonly buildup_time_median: number | null;
  readonly buildup_time_p90: number | null;
}
