/** A cell's place, both counted from 1. */
export interface CellPosition {
  readonly column: number;
  readonly row: number;
}

/** Beyond every cap, and still exact. */
const TOO_FAR = 2 ** 40;

/**
 * The place that a cell reference such as `D4` names; null if it is no reference. Letters or digits without end give
 * places far beyond every sheet.
 *
 * @example parseCellPosition('AB7') // { column: 28, row: 7 }
 */
export function parseCellPosition(reference: string): CellPosition | null {
  let at = 0;
  let column = 0;
  for (; at < reference.length; at += 1) {
    const letter = (reference.charCodeAt(at) | 0x20) - 0x60;
    if (letter < 1 || letter > 26) break;
    column = Math.min(column * 26 + letter, TOO_FAR);
  }
  const row = at === 0 ? null : parseCount(reference, at);
  return row === null ? null : { column, row };
}

/**
 * A whole number of at least 1, from the digits that make up the rest of a text; null if it is none.
 *
 * @example parseCount('r12', 1) // 12
 */
export function parseCount(text: string, from = 0): number | null {
  let count = 0;
  for (let at = from; at < text.length; at += 1) {
    const digit = text.charCodeAt(at) - 0x30;
    if (digit < 0 || digit > 9) return null;
    count = Math.min(count * 10 + digit, TOO_FAR);
  }
  return count > 0 ? count : null;
}
