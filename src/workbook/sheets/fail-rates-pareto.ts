import type { CellFormulaValue, CellValue, Worksheet } from 'exceljs';
import type { Reason } from '../../fleet/fleet-figures.js';
import { columnLetters } from '../../util/column-letters.js';
import { writeHeader, writeRow, type TableColumn } from '../write-table.js';
import { APART_FROM, PARETO_APART, PARETO_COLUMNS, PARETO_WORKING } from './fail-rates-places.js';

/** One of the things that a Pareto table counts. */
export interface ParetoItem {
  readonly name: CellValue;
  readonly failed: number;
  /** The live formula of its count. */
  readonly formula: string;
}

/** A Pareto table and what it is sorted from. */
export interface ParetoTable {
  /** The row of its titles. */
  readonly titleRow: number;
  /** What the first column is called. */
  readonly title: string;
  /** In the order of the table. */
  readonly reasons: readonly Reason[];
  /** Null where the table holds values; else what it is sorted from, alike ones in this order. */
  readonly items: readonly ParetoItem[] | null;
  readonly rowCount: number;
}

/** Writes a Pareto table. Live, it sorts itself: a list apart holds the counts, and its rows take the greatest, the next, and so on. */
export function writePareto(sheet: Worksheet, table: ParetoTable): void {
  const { titleRow, title, reasons, items, rowCount } = table;
  const first = titleRow + 1;
  const columns: readonly TableColumn[] = [{ ...PARETO_COLUMNS[0]!, title }, ...PARETO_COLUMNS.slice(1)];
  writeHeader(sheet, titleRow, columns);
  sheet.getRow(titleRow).height = 30;
  const names = items && range(PARETO_APART.name, first, items.length);
  const counts = items && range(PARETO_APART.failed, first, items.length);
  const order = items && range(PARETO_APART.order, first, items.length);
  const all = `SUM(${counts ?? ''})`;
  for (let index = 0; index < rowCount; index++) {
    const row = first + index;
    const reason = reasons[index];
    const values: readonly CellValue[] = reason ? [reason.reason, reason.failed, reason.share, reason.running_share] : [null, null, null, null];
    if (!items) {
      writeRow(sheet, row, columns, values);
      continue;
    }
    const number = `(ROW($A${row})-ROW($A$${titleRow}))`;
    const nth = (cells: string): string => `IF(${number}>COUNT(${order}),"",INDEX(${cells},MATCH(LARGE(${order},${number}),${order},0)))`;
    const formulas = [nth(names!), nth(counts!), `IF($B${row}="","",$B${row}/${all})`, `IF($B${row}="","",SUM($B$${first}:$B${row})/${all})`];
    writeRow(sheet, row, columns, formulas.map((formula, at) => ({ formula, result: values[at] ?? '' }) as CellFormulaValue));
  }
  if (items) writeItems(sheet, titleRow, items);
}

function range(letters: string, first: number, count: number): string {
  return `$${letters}$${first}:$${letters}$${first + count - 1}`;
}

function writeItems(sheet: Worksheet, titleRow: number, items: readonly ParetoItem[]): void {
  writeHeader(sheet, titleRow, PARETO_WORKING, APART_FROM);
  for (const [index, { name, failed, formula }] of items.entries()) {
    const row = titleRow + 1 + index;
    const cell = (at: number): string => `$${columnLetters(APART_FROM + at)}${row}`;
    const order = failed === 0 ? '' : failed - (index + 1) / 1e6;
    writeRow(
      sheet,
      row,
      PARETO_WORKING,
      [name, { formula, result: failed } as CellFormulaValue, { formula: `IF(N(${cell(1)})=0,"",${cell(1)}-(ROW(${cell(1)})-ROW($${columnLetters(APART_FROM + 1)}$${titleRow}))/1E6)`, result: order } as CellFormulaValue],
      APART_FROM,
    );
  }
}
