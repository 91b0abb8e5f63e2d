/** What was seen of a table, by which another is found to hold the same. Plain data; rows are those of the table. */
export interface SeenRows {
  /** The row of each inspection_id. */
  readonly ids: ReadonlyMap<string, number>;
  /** The row of each set of readings, by its fingerprint. */
  readonly readings: ReadonlyMap<string, number>;
  /** The first inspection of each unit on each day. */
  readonly days: ReadonlyMap<string, { readonly row: number; readonly isRetest: boolean }>;
  /** The first spelling of each unit. */
  readonly spellings: ReadonlyMap<string, { readonly spelling: string; readonly row: number }>;
  /** Retests of what the table does not hold. */
  readonly retests: readonly { readonly row: number; readonly id: string }[];
}

/** Remembers of a table that is one of several what the others may hold too. */
export class SeenRecorder {
  readonly ids = new Map<string, number>();
  readonly readings = new Map<string, number>();
  readonly days = new Map<string, { readonly row: number; readonly isRetest: boolean }>();

  addId(id: string, row: number): void {
    if (!this.ids.has(id)) this.ids.set(id, row);
  }

  /** @param unit the unit's key, @param on the date, `yyyy-mm-dd` */
  addReadings(readings: string, unit: string, on: string, row: number, isRetest: boolean): void {
    if (!this.readings.has(readings)) this.readings.set(readings, row);
    const day = `${unit} ${on}`;
    if (!this.days.has(day)) this.days.set(day, { row, isRetest });
  }
}
