/** Where the inspections came from, and how many rows there were. */
export interface SourceInfo {
  readonly name: string;
  readonly sheet: string;
  /** SHA-256 of the bytes that were read. */
  readonly sha256: string;
  readonly rows_read: number;
  readonly rows_blank: number;
  /** Rows that sum up others, and were not taken as inspections. */
  readonly rows_set_aside: number;
  readonly inspections: number;
}
