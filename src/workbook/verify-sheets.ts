import type { Cell, CellValue, Worksheet } from 'exceljs';
import type { SheetFill } from '../formats/xlsx-package/assemble-xlsx.js';
import type { StoredFormula } from '../formats/read-xlsx.js';
import { ExcelWorkbook } from './excel-workbook.js';
import { cutCellText } from '../util/cut-cell-text.js';
import type { SheetBuilder, SheetContext } from './sheet-context.js';
import type { Line } from './verify-line.js';
import type { CellContent } from './verify-tally.js';

/** A sheet as it is written: its lines, and the names of its cells. */
export interface ExpectedSheet {
  readonly lines: readonly Line[];
  readonly names: ReadonlyMap<string, string>;
}

/** Lays out one sheet with the builder that writes it, and gives the lines; rows that are streamed are taken as well, if asked for. */
export function expectedSheet(build: SheetBuilder, context: Omit<SheetContext, 'book'>, rows: 'template' | 'all' = 'all'): ExpectedSheet {
  const book = new ExcelWorkbook();
  const { fill, definedNames = [] } = build({ ...context, book });
  const sheet = book.worksheets[0]!;
  const lines: Line[] = [];
  // exceljs counts both anew, cell by cell, whenever it is asked.
  const { rowCount, columnCount } = sheet;
  for (let number = 1; number <= rowCount; number++) lines.push(lineOfTemplate(sheet, number, columnCount));
  if (fill && rows === 'all') lines.splice(fill.templateRow - 1, 1, ...filledLines(fill, lines[fill.templateRow - 1]!));
  return { lines, names: new Map(definedNames.map(({ name, reference }) => [name, reference])) };
}

function lineOfTemplate(sheet: Worksheet, number: number, columnCount: number): Line {
  const values: CellContent[] = [];
  const formulas: (StoredFormula | null)[] = [];
  for (let column = 1; column <= columnCount; column++) {
    const cell = sheet.getRow(number).getCell(column);
    const { value, formula } = cell.isMerged && cell.master !== cell ? { value: null, formula: null } : contentOf(cell);
    values.push(value);
    formulas.push(formula === null ? null : { row: number, column, text: formula });
  }
  return { number, values, formulas };
}

function contentOf(cell: Cell): { readonly value: CellContent; readonly formula: string | null } {
  // Of a formula, `cell.value` leaves out a result of 0 or an empty text.
  return cell.formula ? { value: plain(cell.result as CellValue), formula: cell.formula } : { value: plain(cell.value), formula: null };
}

function plain(value: CellValue): CellContent {
  if (typeof value === 'string') return cutCellText(value);
  return typeof value === 'number' || typeof value === 'boolean' ? value : null;
}

/** The rows of a fill are walked whole, so they must not wait. */
function* filledLines(fill: SheetFill, template: Line): Generator<Line> {
  let number = fill.templateRow;
  for (const values of fill.rows as Iterable<readonly CellContent[]>) yield { number: number++, values: values.map((value) => (typeof value === 'string' ? cutCellText(value) : value)), formulas: template.formulas };
}
