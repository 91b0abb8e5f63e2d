/** What is to be done on one unit: its failures that have no passing retest. */
export interface OpenWork {
  readonly unit: string;
  readonly site: string | null;
  /** The day of its first failure that is still open. */
  readonly open_since: string;
  readonly days_open: number;
  /** The titles of the checks that failed and have not passed since. */
  readonly open_checks: readonly string[];
  /** The inspection that is shown: the latest at which one of them failed. */
  readonly inspection_id: string | null;
  readonly row: number;
  readonly inspected_on: string;
  readonly reason: string;
  /** The place heard leaking, as written down. */
  readonly leak_place: string | null;
  /** Likely places to look for that pattern of readings; common practice, no source. */
  readonly where_to_look: string | null;
  /** How much of a slow build-up of the unit the leak explains (see `UnitSummary`). For diagnosis, never for the verdict. */
  readonly buildup_explained: string | null;
  /** The latest repair noted on or after that inspection; it awaits its retest. */
  readonly repaired_on: string | null;
}
