import { expect, it } from 'vitest';
import { continuedSheet, countedRow, placeOfRow, ROWS_OF_SHEET, rowWords } from '../../src/util/continued-sheets.js';

// Excel specifications and limits: 1,048,576 rows by 16,384 columns.
it.each([
  [1, 'Readings', 1],
  [1_048_576, 'Readings', 1_048_576],
  [1_048_577, 'Readings 2', 1],
  [1_048_580, 'Readings 2', 4],
  [2_097_152, 'Readings 2', 1_048_576],
  [2_097_153, 'Readings 3', 1],
])('row %i of the readings is on %s, row %i', (row, sheet, on) => {
  expect(placeOfRow('Readings', row)).toStrictEqual({ sheet, row: on });
  expect(countedRow('Readings', { sheet, row: on })).toBe(row);
  expect(rowWords('Readings', row)).toBe(sheet === 'Readings' ? `row ${on}` : `row ${on} of ${sheet}`);
});

it('a table without a sheet has as many rows as it has', () => {
  expect(placeOfRow('', 3_000_000)).toStrictEqual({ sheet: '', row: 3_000_000 });
  expect(countedRow('', { sheet: '', row: 3_000_000 })).toBe(3_000_000);
});

it('a sheet of another name is not one on which the table goes on', () => {
  for (const sheet of ['Readings two', 'Readings 02', 'Readings 1', 'Other 2', 'Readings 2.5', 'Readings -2']) expect(countedRow('Readings', { sheet, row: 7 })).toBe(7);
  expect([continuedSheet('Readings', 1), continuedSheet('Readings', 12), ROWS_OF_SHEET]).toStrictEqual(['Readings', 'Readings 12', 1_048_576]);
});
