import type { CellValue, Worksheet } from 'exceljs';
import { columnLetters } from '../util/column-letters.js';
import { styleCell, type CellLook } from './cell-styles.js';
import { PALETTE } from './palette.js';

/** A column of a small table in a sheet. */
export interface TableColumn {
  readonly title: string;
  readonly width: number;
  readonly look?: CellLook;
}

/** Writes the header row of a table. */
export function writeHeader(sheet: Worksheet, row: number, columns: readonly TableColumn[], from = 0): void {
  for (const [index, column] of columns.entries()) {
    const cell = sheet.getCell(`${columnLetters(from + index)}${row}`);
    cell.value = column.title;
    styleCell(cell, { ...PALETTE.header, bold: true, wrap: true, line: true });
  }
}

/** Writes one row of a table. */
export function writeRow(sheet: Worksheet, row: number, columns: readonly TableColumn[], values: readonly CellValue[], from = 0): void {
  for (const [index, column] of columns.entries()) {
    const cell = sheet.getCell(`${columnLetters(from + index)}${row}`);
    cell.value = values[index] ?? null;
    styleCell(cell, { line: true, top: true, wrap: true, ...column.look });
  }
}

/** The height in points that a row needs for its wrapped texts. */
export function wrappedHeight(values: readonly unknown[], columns: readonly TableColumn[]): number {
  const lines = values.map((value, index) => (typeof value === 'string' ? Math.ceil(value.length / ((columns[index]?.width ?? 10) * 1.15)) : 1));
  return 3 + 13 * Math.max(1, ...lines);
}

/** Writes the title of a sheet over its first row, and a line of explanation below. */
export function writeTitle(sheet: Worksheet, title: string, explanation: string, across: number): void {
  const cell = sheet.getCell('A1');
  cell.value = title;
  for (let index = 0; index < across; index++) styleCell(sheet.getCell(`${columnLetters(index)}1`), { ...PALETTE.title, bold: true, size: 14 });
  sheet.getRow(1).height = 26;
  sheet.mergeCells(`A2:${columnLetters(across - 1)}2`);
  const words = sheet.getCell('A2');
  words.value = explanation;
  styleCell(words, { wrap: true, top: true, ink: PALETTE.header.ink });
}
