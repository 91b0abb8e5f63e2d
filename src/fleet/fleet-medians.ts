/** Medians over all inspections of the period. Losses in psi/min, build-up time in s; null where nothing was measured. */
export interface FleetMedians {
  readonly released_loss_median: number | null;
  readonly applied_loss_median: number | null;
  readonly buildup_time_median: number | null;
}
