import type { Worksheet } from 'exceljs';
import { styleCell } from '../cell-styles.js';
import { PALETTE } from '../palette.js';

/**
 * Writes a heading over a part of the sheet Fail rates.
 *
 * @param from the 0-based column that it begins in, over so many columns
 */
export function bandHeading(sheet: Worksheet, row: number, words: string, from: number, across: number): void {
  for (let index = 0; index < across; index++) styleCell(sheet.getCell(row, from + index + 1), { ...PALETTE.band, bold: true });
  sheet.getCell(row, from + 1).value = words;
}
