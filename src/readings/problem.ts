/** The closed list of problem codes. README explains each. */
export type ProblemCode =
  | 'not_understood'
  | 'implausible'
  | 'required_blank'
  | 'date_order_unknown'
  | 'header_twice'
  | 'header_assumed'
  | 'sheet_not_read'
  | 'left_alone'
  | 'row_set_aside'
  | 'not_placed'
  | 'cells_beyond_header'
  | 'inspection_id_twice'
  | 'inspection_twice'
  | 'unit_twice_on_a_day'
  | 'unit_spelled_differently'
  | 'rise_in_test'
  | 'pressure_in_time'
  | 'position_twice'
  | 'retest_of_unknown'
  | 'as_found_outdated'
  | 'text_too_long';

/** One cell (or row, or column) of the input that could not be taken as it stood. */
export interface Problem {
  readonly code: ProblemCode;
  readonly sheet: string;
  /** Row of the sheet or line of the file; null when the whole column is meant. */
  readonly row: number | null;
  /** Name of the column as our dictionary or the file's header has it. */
  readonly column: string;
  /** The cell as a spreadsheet names it, such as `D7`; empty when no single cell is meant. */
  readonly cell: string;
  readonly found: string;
  /** What would have been understood, and how to mend it. */
  readonly expected: string;
}

/** What is expected of a text that is too long for a cell. */
export const LONG_EXPECTED = 'at most 32,767 characters, for a cell of a workbook holds no more: it holds the beginning and says that it was cut; CSV and JSON keep the whole';

/** What is told of a text that is too long for a cell. */
export function longFound(text: string): string {
  return `${text.slice(0, 60)}… (${text.length} characters)`;
}
