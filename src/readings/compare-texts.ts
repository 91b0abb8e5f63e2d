import { cleanCellText } from './clean-cell-text.js';

/** How two texts stand to each other: alike, alike but for case and spaces, or different. */
export type TextLikeness = 'same' | 'spelling' | 'value';

/** A plain decimal number of at most 15 digits and without leading zeros: what a spreadsheet would keep as it is. */
const PLAIN_NUMBER = /^-?(?:0|[1-9]\d{0,9})(?:\.\d{1,5})?$/;

/**
 * Compares two texts without the spaces at their ends. A line end is a line end, whichever way a file writes it.
 *
 * @example compareTexts('K-101 ', 'k - 101') // 'spelling'
 */
export function compareTexts(a: string, b: string): TextLikeness {
  if (a === b) return 'same';
  const [left, right] = [trimmed(a), trimmed(b)];
  if (left === right) return 'same';
  return foldText(left) === foldText(right) ? 'spelling' : 'value';
}

/**
 * Compares two texts of a column that is not ours: plain numbers by their value, since a workbook keeps `9.50` as 9.5.
 *
 * @example compareLooseTexts('9.50', '9.5') // 'same'
 * @example compareLooseTexts('007', '7') // 'value'
 */
export function compareLooseTexts(a: string, b: string): TextLikeness {
  const likeness = compareTexts(a, b);
  if (likeness !== 'value' || !PLAIN_NUMBER.test(a.trim()) || !PLAIN_NUMBER.test(b.trim())) return likeness;
  return sameNumber(Number(a), Number(b), 1e-9) ? 'same' : 'value';
}

/** Whether two numbers are one but for a share of their size (or, below 1, for that much). */
export function sameNumber(a: number, b: number, tolerance: number): boolean {
  return Math.abs(a - b) <= tolerance * Math.max(1, Math.abs(a), Math.abs(b));
}

/** A text without the spaces at its ends, with plain line ends. */
export function trimmed(text: string): string {
  return text.replace(/\r\n?/g, '\n').trim();
}

/** A text without case and spaces. */
function foldText(text: string): string {
  return cleanCellText(text).replace(/\s+/gu, '').toLowerCase();
}
