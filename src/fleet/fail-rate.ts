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
