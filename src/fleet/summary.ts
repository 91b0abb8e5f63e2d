/** A count of inspections and how many of them failed, with the 95 % Wilson interval of the rate. Null where nothing was tested. */
export interface FailRate {
  /** Inspections (or checks) that passed or failed. */
  readonly tested: number;
  readonly failed: number;
  readonly recheck: number;
  readonly rate: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

/** What fail rates are broken down by. */
export const FAIL_RATE_GROUPS = ['check', 'vehicle_kind', 'site', 'inspector'] as const;
export type FailRateGroup = (typeof FAIL_RATE_GROUPS)[number];

/** The fail rate of one group. */
export interface GroupFailRate extends FailRate {
  readonly group: FailRateGroup;
  readonly name: string;
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
  readonly worst_released_loss: number | null;
  readonly worst_applied_loss: number | null;
  /** The highest share of a leak's limit on any inspection. */
  readonly worst_share: number | null;
}

/** One month of the fleet. Losses in psi/min. */
export interface MonthSummary extends FailRate {
  /** `yyyy-mm` */
  readonly month: string;
  readonly inspections: number;
  readonly released_loss_median: number | null;
  readonly released_loss_p90: number | null;
  readonly applied_loss_median: number | null;
  readonly applied_loss_p90: number | null;
}

/** The fleet in figures. */
export interface FleetSummary {
  /** The highest share of a leak's limit now first. */
  readonly units: readonly UnitSummary[];
  readonly trend: readonly MonthSummary[];
  readonly fail_rates: readonly GroupFailRate[];
}
