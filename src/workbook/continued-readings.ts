import type { XlsxBook, XlsxSheet } from '../formats/read-xlsx.js';
import { findHeader, HEADER_SEARCH_ROWS } from '../readings/choose-header.js';
import type { Dictionary } from '../readings/dictionary.js';
import type { ColumnMap, Header } from '../readings/find-header.js';
import { continuedSheet, ROWS_OF_SHEET } from '../util/continued-sheets.js';
import type { RawRow, RawTable } from '../util/raw-table.js';

/** A sheet of a table that goes on over several. */
export interface TablePart {
  readonly sheet: XlsxSheet;
  readonly headerRow: number;
}

/** A table that goes on over several sheets. */
export interface ContinuedTable {
  readonly table: RawTable;
  /** The sheet that it begins on, and those on which it goes on, in order. */
  readonly parts: readonly TablePart[];
  /** Sheets named as if the table went on there, with a header of readings that is another. */
  readonly apart: readonly string[];
}

/**
 * Joins a sheet and those on which its table goes on: `Readings`, `Readings 2`, `Readings 3` and so on, without a gap, as long as their
 * headers are alike. Each row of a sheet after the first is numbered on from the last row that the sheet before could hold.
 *
 * @example (await continuedTable(book, book.sheets[0], { dictionary })).parts.length // 1 for most workbooks
 */
export async function continuedTable(book: XlsxBook, first: XlsxSheet, { dictionary, map }: { readonly dictionary: Dictionary; readonly map?: ColumnMap }): Promise<ContinuedTable> {
  const headerOf = async (sheet: XlsxSheet): Promise<Header | null> => findHeader(await topOf(sheet.table()), dictionary, map);
  const own = sheetNamed(book, continuedSheet(first.name, 2)) ? await headerOf(first) : null;
  const parts: TablePart[] = [{ sheet: first, headerRow: own?.row ?? 0 }];
  const apart: string[] = [];
  for (let sheet = own && sheetNamed(book, continuedSheet(first.name, 2)); sheet; sheet = sheetNamed(book, continuedSheet(first.name, parts.length + apart.length + 1)) ?? null) {
    const header = await headerOf(sheet);
    const alike = header !== null && apart.length === 0 && columnsOf(header) === columnsOf(own!);
    if (alike) parts.push({ sheet, headerRow: header.row });
    else if (header !== null) apart.push(sheet.name);
    else break;
  }
  const table = first.table();
  return { table: parts.length === 1 ? table : { ...table, rows: joinedRows(parts) }, parts, apart };
}

/** A sheet by its name, in whatever case. */
export function sheetNamed(book: Pick<XlsxBook, 'sheets'>, name: string): XlsxSheet | undefined {
  return book.sheets.find((sheet) => sheet.name.toLowerCase() === name.toLowerCase());
}

/** The columns of a header as a text: what each is, and what a column of the user's own is called. */
function columnsOf({ columns }: Header): string {
  return JSON.stringify(columns.map((column) => [column.role, column.role === 'field' ? column.position : column.header]));
}

async function topOf({ rows }: RawTable): Promise<RawRow[]> {
  const top: RawRow[] = [];
  for await (const row of rows) {
    top.push(row);
    if (top.length >= HEADER_SEARCH_ROWS) break;
  }
  return top;
}

async function* joinedRows(parts: readonly TablePart[]): AsyncGenerator<RawRow> {
  for (const [index, { sheet, headerRow }] of parts.entries()) {
    for await (const row of sheet.table().rows) {
      if (index === 0) yield row;
      else if (row.number > headerRow) yield { ...row, number: index * ROWS_OF_SHEET + row.number };
    }
  }
}
