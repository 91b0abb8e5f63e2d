/** Where a table came from, and how many rows it had. */
export interface TableSource {
  readonly name: string;
  readonly sheet: string;
  /** SHA-256 of the bytes that were read. */
  readonly sha256: string;
  readonly rows_read: number;
  readonly rows_blank: number;
  /** Rows that sum up others, and were taken as none of their own. */
  readonly rows_set_aside: number;
}

/** Where the inspections came from, and how many there were: read = blank + set aside + inspections. */
export interface SourceInfo extends TableSource {
  readonly inspections: number;
}
