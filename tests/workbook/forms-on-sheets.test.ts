import ExcelJS from 'exceljs';
import { expect, test } from 'vitest';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';

function form(book: ExcelJS.Workbook, name: string, rows: readonly (readonly (string | number)[])[]): void {
  const sheet = book.addWorksheet(name);
  for (const row of rows) sheet.addRow([...row]);
}

test('one form on each sheet: read together, and a problem names its sheet and cell', async () => {
  const book = new ExcelJS.Workbook();
  form(book, 'F1', [['Unit #', 'F-1'], ['Date of inspection', '2026-03-04'], ['Brakes released'], ['Primary start', 110], ['Primary end', 108], ['Time', '1:00'], ['Cut-in', 99]]);
  form(book, 'F2', [['Unit #', 'F-2'], ['Date of inspection', '2026-03-05'], ['Cab', 'green'], ['Brakes released'], ['Primary start', 112], ['Primary end', '11O'], ['Time', '1:00']]);
  const fleet = await evaluateReadings(new Uint8Array(await book.xlsx.writeBuffer()), { format: 'xlsx' });
  const value = (row: number, field: string): unknown => fleet.evaluations[row]!.inspection.values[fleet.plan.dictionary.position.get(field)!];
  expect(fleet.evaluations.map(({ unit, row }) => [unit, row])).toStrictEqual([
    ['F-1', 1],
    ['F-2', 2],
  ]);
  expect(['released_primary_start', 'released_primary_end', 'released_time', 'cut_in'].map((field) => [value(0, field), value(1, field)])).toStrictEqual([
    [110, 112],
    [108, null],
    [60, 60],
    [99, null],
  ]);
  expect(fleet.problems.map(({ code, sheet, cell, found }) => [code, sheet, cell, found])).toStrictEqual([['not_understood', 'F2', 'B6', '11O']]);
  expect(fleet.notes.at(-1)).toBe('One inspection per sheet: F1, F2.');
});
