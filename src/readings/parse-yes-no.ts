import type { RawCell } from '../util/raw-table.js';
import { cleanCellText } from './clean-cell-text.js';
import { parseNotMeasured } from './parse-not-measured.js';
import type { ParseResult } from './parse-result.js';
import { notUnderstood, understood } from './parse-result.js';

/** Each mark with its meaning, and whether it says no more than yes or no. */
const MARKS: ReadonlyMap<string, readonly [value: boolean, exact: boolean]> = new Map([
  ['y', [true, true]],
  ['yes', [true, true]],
  ['true', [true, true]],
  ['1', [true, true]],
  ['x', [true, false]],
  ['✓', [true, false]],
  ['✔', [true, false]],
  ['n', [false, true]],
  ['no', [false, true]],
  ['false', [false, true]],
  ['0', [false, true]],
  ['none', [false, true]],
]);

const EXPECTED = 'yes or no';

/**
 * Reads a yes or a no in the usual marks: y, yes, true, 1, x, a tick; n, no, false, 0, none.
 *
 * @returns `null` for a blank cell; an understood `null` for a mark such as `n/a`. A tick or a cross in a box is
 * not exact, so that what was written can be kept.
 *
 * @example
 * parseYesNo('Y') // { ok: true, value: true, exact: true }
 */
export function parseYesNo(cell: RawCell): ParseResult<boolean | null> | null {
  if (cell === null) return null;
  if (typeof cell === 'boolean') return understood(cell, true);
  if (typeof cell === 'number') return cell === 1 || cell === 0 ? understood(cell === 1, true) : notUnderstood(EXPECTED);
  if (typeof cell === 'object') return notUnderstood(EXPECTED);

  // The variation selectors only choose how a tick is drawn.
  const text = cleanCellText(cell).toLowerCase().replace(/[\ufe0e\ufe0f]/gu, '');
  if (text === '') return null;
  const mark = MARKS.get(text);
  if (mark) return understood(...mark);
  const notMeasured = parseNotMeasured(text);
  if (notMeasured) return notMeasured;
  if (/^(?:ok|okay|o\.k\.|good|fine|pass|passed)$/u.test(text)) {
    return notUnderstood(EXPECTED, 'write no if nothing was found, yes if something was');
  }
  return notUnderstood(EXPECTED);
}
