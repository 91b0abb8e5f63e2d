import type { RawCell } from '../util/raw-table.js';
import { cellText } from './checklist-cell.js';
import { parseDate } from './parse-date.js';

/**
 * What the unit, the date and the inspection number of a row have in common with those of the other rows of its inspection.
 *
 * @example inspectionKey(['A-1', '2026-03-14', 'T 7'], false) === inspectionKey(['a-1', '14 Mar 2026', 't 7'], false) // true
 */
export function inspectionKey([id, date, unit]: readonly [RawCell, RawCell, RawCell], date1904: boolean): string {
  return JSON.stringify([wordsOf(id), dayOf(date, date1904), wordsOf(unit)]);
}

function wordsOf(cell: RawCell): string {
  return cellText(cell).toLowerCase();
}

function dayOf(cell: RawCell, date1904: boolean): string {
  const read = parseDate(cell, { order: null, date1904 });
  return read?.ok && read.value !== null ? read.value : wordsOf(cell);
}
