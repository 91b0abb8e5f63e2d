import { openXlsx } from '../../src/formats/read-xlsx.js';
import { columnLetters } from '../../src/util/column-letters.js';
import { plainValue } from '../../src/util/raw-table.js';
import { convertByLibreOffice } from './run-libreoffice.js';

/** A computed cell whose stored value is not what LibreOffice computes. */
export interface Difference {
  readonly cell: string;
  readonly formula: string;
  readonly stored: unknown;
  readonly computed: unknown;
}

/**
 * Recalculates a twin without stored values in LibreOffice and compares every formula cell with the value stored in the
 * workbook itself: numbers to 1e-9 (relative beyond 1), texts to the letter, an empty text as a blank.
 */
export async function compareWithRecalculation(workbook: Uint8Array, twin: Uint8Array): Promise<{ readonly compared: number; readonly differences: readonly Difference[] }> {
  return compareWith(workbook, (await convertByLibreOffice(twin, 'twin.xlsx', 'xlsx')).get('twin.xlsx'));
}

/** The same of a twin that LibreOffice has recalculated already. */
export async function compareWith(workbook: Uint8Array, recalculated: Uint8Array | undefined): Promise<{ readonly compared: number; readonly differences: readonly Difference[] }> {
  if (!recalculated) throw new Error('LibreOffice wrote no workbook');
  const computed = await cellsOf(recalculated);
  const book = await openXlsx(workbook);
  const differences: Difference[] = [];
  let compared = 0;
  for (const sheet of book.sheets) {
    for await (const { number, cells, formulas } of sheet.rowsWithFormulas()) {
      for (const [index, formula] of formulas.entries()) {
        if (formula === null || formula === undefined) continue;
        compared += 1;
        const cell = `${sheet.name}!${columnLetters(index)}${number}`;
        const [a, b] = [blankAsNull(plainValue(cells[index])), blankAsNull(computed.get(cell) ?? null)];
        if (!same(a, b)) differences.push({ cell, formula, stored: a, computed: b });
      }
    }
  }
  return { compared, differences };
}

async function cellsOf(bytes: Uint8Array): Promise<Map<string, string | number | boolean | null>> {
  const found = new Map<string, string | number | boolean | null>();
  for (const sheet of (await openXlsx(bytes)).sheets) {
    for await (const { number, cells } of sheet.table().rows) {
      for (const [index, cell] of cells.entries()) found.set(`${sheet.name}!${columnLetters(index)}${number}`, plainValue(cell));
    }
  }
  return found;
}

function blankAsNull(value: string | number | boolean | null): string | number | boolean | null {
  return value === '' ? null : value;
}

function same(a: unknown, b: unknown): boolean {
  if (typeof a === 'number' && typeof b === 'number') return Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(a), Math.abs(b));
  return a === b;
}
