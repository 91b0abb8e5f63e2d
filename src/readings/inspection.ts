import type { RawCell } from '../util/raw-table.js';

/**
 * What was understood of one cell: a pressure as entered in the row's own unit, a time in seconds, a date as
 * `yyyy-mm-dd`, yes and no as true and false, text as text; null when the cell is blank or was not understood.
 */
export type Entry = number | string | boolean | null;

/** One inspection: one row of the readings table. */
export interface Inspection {
  /** Row of the sheet, line of the file, or position in a JSON list. Rows of the sheets on which a table goes on are counted on, see `placeOfRow`. */
  readonly row: number;
  /**
   * What was understood, by position in the dictionary. Where no optional column is filled, it ends with the standard ones,
   * so that many inspections take less room: what is not there is blank.
   */
  readonly values: readonly Entry[];
  /** The text as found, by field name, where it says more than the value, or could not be understood. */
  readonly asFound: ReadonlyMap<string, string>;
  /** Names of the fields whose cell could not be understood. The text stands in `asFound`. */
  readonly notRead: readonly string[];
  /** The cells of the columns that are not ours, in the order of those columns. */
  readonly extra: readonly RawCell[];
}

/** A `notRead` with nothing in it. */
export const ALL_READ: readonly string[] = [];

/** An `asFound` with nothing in it. */
export const NOTHING_FOUND: ReadonlyMap<string, string> = new Map();
