import type { CellOrigin, RawCell, RawRow } from '../util/raw-table.js';

/** A cell of the input that has no place in the table that was put together. */
export interface UnplacedCell extends CellOrigin {
  /** The header of its column, or the label beside it; may be empty. */
  readonly header: string;
  readonly found: string;
  /** What would have been placed, and how to mend it. */
  readonly expected: string;
}

/** A table of one row per inspection that was put together from another shape. */
export interface ReshapedTable {
  /** The fields in the dictionary's order, by name; after them the columns that are not ours. */
  readonly header: readonly string[];
  /** How many entries of `header` are fields. */
  readonly fieldCount: number;
  /** Each with the number of the first row that it comes from, and the origin of each cell. An origin is null where the cell is blank, or says a unit or a pressure that stood in a label or a header. */
  readonly rows: readonly RawRow[];
  readonly unplaced: readonly UnplacedCell[];
  /** Cells that are in no row and not unplaced: labels, words for a test or a circuit, and what repeats another cell of its inspection. */
  readonly used: readonly CellOrigin[];
  /** What was taken how, in plain sentences. */
  readonly notes: readonly string[];
}

/** A cell of an inspection that is being put together. */
export interface PlacedCell {
  readonly cell: RawCell;
  readonly origin: CellOrigin | null;
}
