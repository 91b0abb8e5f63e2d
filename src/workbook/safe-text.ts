import { escapeCellText } from '../formats/xlsx-package/cell-text.js';

/** Longest text of a cell in the sheets that are laid out whole. */
const LONGEST = 32_000;

/** Text from outside, made fit for a cell that exceljs writes. */
export function safeText(text: string): string {
  return escapeCellText(text.length > LONGEST ? `${text.slice(0, LONGEST)}…` : text);
}
