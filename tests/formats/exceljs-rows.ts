import ExcelJS from 'exceljs';
import { expect } from 'vitest';
import type { RawCell } from '../../src/util/raw-table.js';

/** A cell for comparison: a date as its ISO text, with its format; anything else as it is. */
export type PlainCell = string | number | boolean | null | { readonly date: string };

/** Stands where exceljs gives a formula without a result: it drops stored results that are false, 0 or empty text. */
const UNSAID = { date: 'unsaid' } as const;

/** The cells of every sheet as exceljs reads them: sheet, row number, cells up to the last that holds something. */
export async function exceljsRows(bytes: Uint8Array): Promise<Record<string, Record<number, PlainCell[]>>> {
  const workbook = new ExcelJS.Workbook();
  await workbook.xlsx.load(Buffer.from(bytes) as unknown as ExcelJS.Buffer);
  const sheets: Record<string, Record<number, PlainCell[]>> = {};
  for (const sheet of workbook.worksheets) {
    const rows: Record<number, PlainCell[]> = {};
    sheet.eachRow((row, number) => {
      const cells: PlainCell[] = [];
      row.eachCell({ includeEmpty: true }, (cell, column) => {
        cells[column - 1] = plain(cell.value);
      });
      while (cells.length > 0 && cells.at(-1) === null) cells.pop();
      if (cells.length > 0) rows[number] = cells;
    });
    sheets[sheet.name] = rows;
  }
  return sheets;
}

/** Holds our cells against those of exceljs; where it dropped a result, ours must be one of those that it drops. */
export function expectSameRows(ours: Record<number, PlainCell[]>, theirs: Record<number, PlainCell[]> | undefined): void {
  const completed: Record<number, PlainCell[]> = {};
  for (const [number, cells] of Object.entries(theirs ?? {})) {
    const own = ours[Number(number)] ?? [];
    const filled = cells.map((cell, column) => {
      if (cell !== UNSAID) return cell;
      expect([undefined, null, false, 0, '']).toContain(own[column]);
      return own[column] ?? null;
    });
    while (filled.length > 0 && filled.at(-1) === null) filled.pop();
    if (filled.length > 0) completed[Number(number)] = filled;
  }
  expect(ours).toStrictEqual(completed);
}

/** Our own cells in the same shape; a serial becomes a date as ECMA-376 Part 1, 18.17.4.1 has it (day 1 of 1900, or day 0 of 1904). */
export function plainRows(rows: readonly { readonly number: number; readonly cells: readonly RawCell[] }[], date1904: boolean): Record<number, PlainCell[]> {
  const found: Record<number, PlainCell[]> = {};
  for (const { number, cells } of rows) {
    if (cells.length === 0) continue;
    found[number] = cells.map((cell) => {
      if (cell === null || typeof cell !== 'object') return cell;
      const days = cell.value - 25_569 + (date1904 ? 1462 : 0);
      return { date: new Date(Math.round(days * 86_400_000)).toISOString() };
    });
  }
  return found;
}

function plain(value: ExcelJS.CellValue): PlainCell {
  if (value === null || value === undefined) return null;
  if (value instanceof Date) return { date: value.toISOString() };
  if (typeof value !== 'object') return value;
  if ('richText' in value) return value.richText.map((run) => run.text).join('');
  if ('error' in value) return value.error;
  if ('hyperlink' in value) return plain(value.text as ExcelJS.CellValue);
  if ('formula' in value || 'sharedFormula' in value) return value.result === undefined ? UNSAID : plain(value.result as ExcelJS.CellValue);
  throw new Error('a kind of cell that this comparison does not know');
}
