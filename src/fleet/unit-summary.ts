/** Which way a loss goes, by the Mann-Kendall test at 5 %. */
export const DIRECTIONS = ['rising', 'steady', 'falling', 'too few inspections'] as const;
/** One of {@link DIRECTIONS}: which way a loss goes. */
export type Direction = (typeof DIRECTIONS)[number];

/** What is known of the day on which a loss reaches its limit. */
export const CROSSINGS = ['on the day shown', 'already reached', 'no rise shown', 'beyond 10 years', 'no limit', 'too few inspections'] as const;
/** One of {@link CROSSINGS}: what is known of the day on which a loss reaches its limit. */
export type Crossing = (typeof CROSSINGS)[number];

/** What a unit's own control chart says of its latest loss. */
export const CONTROL_SIGNALS = ['one reading far above its own', 'drifting up', 'drifting down', 'never moved', 'none'] as const;
/** One of {@link CONTROL_SIGNALS}: what a unit's own control chart says of its latest loss. */
export type ControlSignal = (typeof CONTROL_SIGNALS)[number];

/** Individuals and CUSUM chart of one loss of one unit (NIST/SEMATECH e-Handbook 6.3.2.2 and 6.3.2.3). */
export interface ControlChart {
  readonly centre: number;
  /** Null when the loss never moved. */
  readonly upper: number | null;
  readonly lower: number | null;
  readonly cusum_target: number;
  readonly cusum_limit: number | null;
  readonly cusum_high: readonly number[];
  readonly cusum_low: readonly number[];
  readonly signals: readonly ControlSignal[];
}

/** The course of one loss of one unit since its last repair that took effect. */
export interface LossTrend {
  /** The measure, `released_loss`. */
  readonly measure: string;
  /** The measure's unit, `psi/min`. */
  readonly unit: string;
  /** The dates, `yyyy-mm-dd`, and the loss on each (the median where there are several on one day). */
  readonly dates: readonly string[];
  readonly losses: readonly number[];
  /** The limit at the latest of them, in the measure's unit; null where the set has none. */
  readonly limit: number | null;
  /** The repair at which the course begins; null when it begins with the first inspection. */
  readonly since_repair: string | null;
  /** Theil-Sen slope per 90 days with its 95 % interval. */
  readonly slope_per_90_days: number | null;
  readonly slope_low: number | null;
  readonly slope_high: number | null;
  /** Mann-Kendall, two-sided. */
  readonly p: number | null;
  readonly direction: Direction;
  readonly crossing: Crossing;
  /** The day on which the one-sided 95 % confidence bound of the fitted loss meets the limit (ICH Q1E). */
  readonly crosses_on: string | null;
  readonly control: ControlChart | null;
}

/** One unit over all its inspections. Losses in psi/min, shares as parts of 1. */
export interface UnitSummary {
  readonly unit: string;
  readonly vehicle_kind: string | null;
  readonly site: string | null;
  readonly inspections: number;
  readonly failed: number;
  readonly latest_on: string | null;
  readonly latest_verdict: string | null;
  readonly latest_released_loss: number | null;
  readonly latest_applied_loss: number | null;
  /** Share of a leak's limit at the latest inspection that has one: the worse of its leak checks. */
  readonly share_now: number | null;
  readonly share_now_on: string | null;
  readonly worst_released_loss: number | null;
  readonly worst_applied_loss: number | null;
  /** The highest share of a leak's limit on any inspection. */
  readonly worst_share: number | null;
  /** The loss that uses the highest share of its limit now: the measure that leads `trends`. */
  readonly trend_of: string | null;
  /** One per loss that the limit set checks, the leading one first. */
  readonly trends: readonly LossTrend[];
  /** The titles of the checks that failed and have not passed since. */
  readonly open_checks: readonly string[];
  readonly open_since: string | null;
  readonly days_open: number | null;
  readonly last_repair_on: string | null;
  /** Share of a leak's limit at the last inspection before that repair, and at the first after it. */
  readonly share_before_repair: number | null;
  readonly share_after_repair: number | null;
  readonly next_due: string | null;
  readonly overdue_days: number | null;
  /**
   * How much of a slow build-up the leak explains, at the latest inspection with a build-up beside the last earlier one that
   * passed, with no repair that took effect in between; null where it is not slow, or nothing compares. For diagnosis, never
   * for the verdict.
   */
  readonly buildup_explained: string | null;
}
