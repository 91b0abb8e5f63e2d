import type { FillValue } from '../../formats/xlsx-package/assemble-xlsx.js';
import type { Problem } from '../../readings/problem.js';
import { setUpPrint, styleCell } from '../cell-styles.js';
import type { SheetContext, SheetParts } from '../sheet-context.js';
import { wrappedHeight, writeHeader, writeTitle, type TableColumn } from '../write-table.js';
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
export function problemsSheet({ book, fleet }: SheetContext): SheetParts {
  const sheet = book.addWorksheet(PROBLEMS_SHEET, { views: [{ state: 'frozen', ySplit: FIRST_ROW - 1 }] });
  COLUMNS.forEach(({ width }, index) => (sheet.getColumn(index + 1).width = width));
  writeTitle(sheet, 'Problems', 'Cells of the input that could not be taken as they stood. Nothing was dropped: the cell keeps what was found. Rows and cells are those of the input.', COLUMNS.length);
  sheet.getRow(2).height = 20;
  writeHeader(sheet, FIRST_ROW - 1, COLUMNS);
  COLUMNS.forEach((_, index) => styleCell(sheet.getCell(`${columnLetters(index)}${FIRST_ROW}`), { line: true, wrap: index > 4, top: true, right: index === 2 }));
  const problems = fleet?.problems ?? [];
  const rows = problems.length > 0 ? problems.map(rowOf) : [[fleet ? 'None: every cell was understood.' : 'None yet.', null, null, null, null, null, null]];
  sheet.autoFilter = `A${FIRST_ROW - 1}:${columnLetters(COLUMNS.length - 1)}${FIRST_ROW - 1 + rows.length}`;
  setUpPrint(sheet, { titleRows: `1:${FIRST_ROW - 1}` });
  return { fill: { sheet: PROBLEMS_SHEET, templateRow: FIRST_ROW, count: rows.length, rows, heightOf: (values) => wrappedHeight(values, COLUMNS) } };
}

function rowOf({ code, sheet, row, column, cell, found, expected }: Problem): FillValue[] {
  return [code, sheet, row, cell, column, found.slice(0, 1000), expected.slice(0, 1000)];
}
