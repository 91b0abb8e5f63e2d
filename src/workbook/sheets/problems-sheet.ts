import type { FillValue } from '../../formats/xlsx-package/assemble-xlsx.js';
import type { Problem } from '../../readings/problem.js';
import { setUpPrint, styleCell } from '../cell-styles.js';
import type { SheetContext, SheetParts } from '../sheet-context.js';
import { wrappedHeight, writeHeader, writeTitle, type TableColumn } from '../write-table.js';
import { ROWS_OF_SHEET } from '../../util/continued-sheets.js';
import { columnLetters } from '../../util/column-letters.js';

/** The sheet's name. */
export const PROBLEMS_SHEET = 'Problems';

const COLUMNS: readonly TableColumn[] = [
  { title: 'Code', width: 21 },
  { title: 'Sheet', width: 14 },
  { title: 'Row', width: 8 },
  { title: 'Cell', width: 8 },
  { title: 'Column', width: 26 },
  { title: 'Found', width: 30 },
  { title: 'Expected, and how to mend it', width: 80 },
];
const FIRST_ROW = 4;

/** Lays out the sheet Problems: every cell that was not taken as it stood. */
export function problemsSheet({ book, fleet, mostLines }: SheetContext): SheetParts {
  const sheet = book.addWorksheet(PROBLEMS_SHEET, { views: [{ state: 'frozen', ySplit: FIRST_ROW - 1 }] });
  COLUMNS.forEach(({ width }, index) => (sheet.getColumn(index + 1).width = width));
  writeTitle(sheet, 'Problems', 'Cells of the input that could not be taken as they stood. Nothing was dropped: the cell keeps what was found. Rows and cells are those of the input.', COLUMNS.length);
  sheet.getRow(2).height = 20;
  writeHeader(sheet, FIRST_ROW - 1, COLUMNS);
  COLUMNS.forEach((_, index) => styleCell(sheet.getCell(`${columnLetters(index)}${FIRST_ROW}`), { line: true, wrap: index > 4, top: true, right: index === 2 }));
  const problems = fleet?.problems ?? [];
  const listed = problemsListed(problems.length, mostLines);
  const rows = problems.length > 0 ? [...problems.slice(0, listed).map(rowOf), ...(listed < problems.length ? [[null, null, null, null, null, moreWords(problems.length - listed), null]] : [])] : [[fleet ? 'None: every cell was understood.' : 'None yet.', null, null, null, null, null, null]];
  sheet.autoFilter = `A${FIRST_ROW - 1}:${columnLetters(COLUMNS.length - 1)}${FIRST_ROW - 1 + rows.length}`;
  setUpPrint(sheet, { titleRows: `1:${FIRST_ROW - 1}` });
  return { fill: { sheet: PROBLEMS_SHEET, templateRow: FIRST_ROW, count: rows.length, rows, heightOf: (values) => wrappedHeight(values, COLUMNS) } };
}

/** How many problems the sheet lists: all, or as many as leave room for a line that says how many more there are. */
export function problemsListed(problems: number, mostLines = ROWS_OF_SHEET - FIRST_ROW + 1): number {
  const room = Math.min(mostLines, ROWS_OF_SHEET - FIRST_ROW + 1);
  return problems <= room ? problems : room - 1;
}

/** What stands in the last line of a list that is longer than its sheet. */
export function moreWords(more: number): string {
  return `… and ${more} more: evaluate --json lists them all`;
}

function rowOf({ code, sheet, row, column, cell, found, expected }: Problem): FillValue[] {
  return [code, sheet, row, cell, column, found.slice(0, 1000), expected.slice(0, 1000)];
}
