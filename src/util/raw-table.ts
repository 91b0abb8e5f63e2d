/**
 * A number from a workbook together with its number format, kept only where the format says that the
 * number is a date or a time. `format` is the format code, such as `h:mm` or `yyyy-mm-dd`.
 */
export interface FormattedNumber {
  readonly value: number;
  readonly format: string;
}

/** One cell as a file holds it, before any meaning is read into it. CSV gives only strings; a blank is null or ''. */
export type RawCell = string | number | boolean | null | FormattedNumber;

/** Where a cell of a table that was put together from another stood: 1-based row, 0-based column. */
export interface CellOrigin {
  readonly row: number;
  readonly column: number;
  /** The sheet, where the table was put together from several. */
  readonly sheet?: string;
}

/** One row as a file holds it. */
export interface RawRow {
  /** 1-based: the row of the sheet, or the line of the file on which the record starts. */
  readonly number: number;
  readonly cells: readonly RawCell[];
  /** Where each cell stood in the file, when that is not this row and the same column. */
  readonly origins?: readonly (CellOrigin | null)[];
  /** 0-based columns of formulas without a stored value; their cells are null. */
  readonly unstored?: readonly number[];
}

/** A table as a file holds it: rows from the top, header and all. Rows can be walked once. */
export interface RawTable {
  /** The sheet's name; empty for CSV and JSON. */
  readonly sheet: string;
  /** True when the workbook counts days from 1904. */
  readonly date1904: boolean;
  readonly rows: AsyncIterable<RawRow>;
}

/** The plain value of a cell, without its number format. */
export function plainValue(cell: RawCell | undefined): string | number | boolean | null {
  if (cell === undefined || cell === null) return null;
  return typeof cell === 'object' ? cell.value : cell;
}
