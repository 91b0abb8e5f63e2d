import ExcelJS from 'exceljs';
import { expect, test } from 'vitest';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';

const HEADER = ['unit', 'inspected_on', 'cut_in'];

async function bookOf(sheets: readonly (readonly [name: string, state: 'visible' | 'hidden' | 'veryHidden', unit: string])[]): Promise<Uint8Array> {
  const book = new ExcelJS.Workbook();
  for (const [name, state, unit] of sheets) {
    const sheet = book.addWorksheet(name, { state });
    sheet.addRow(HEADER);
    sheet.addRow([unit, '2026-03-14', 99]);
  }
  return new Uint8Array(await book.xlsx.writeBuffer());
}

test('readings on a hidden sheet are not taken, and the sheet is named', async () => {
  const bytes = await bookOf([
    ['Old', 'hidden', 'H-1'],
    ['March', 'visible', 'V-1'],
    ['Older', 'veryHidden', 'H-2'],
  ]);
  const fleet = await evaluateReadings(bytes, { format: 'xlsx' });
  expect(fleet.evaluations.map(({ unit }) => unit)).toStrictEqual(['V-1']);
  expect(fleet.problems.map(({ code, sheet }) => [code, sheet])).toStrictEqual([
    ['sheet_not_read', 'Old'],
    ['sheet_not_read', 'Older'],
  ]);
  const named = await evaluateReadings(bytes, { format: 'xlsx', sheet: 'Old' });
  expect(named.evaluations.map(({ unit }) => unit)).toStrictEqual(['H-1']);
});
