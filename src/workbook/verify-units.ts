import { UNITS_SHEET } from './sheets/units-sheet.js';
import { isBlankLine, verifyLine, type Line } from './verify-line.js';
import type { ExpectedSheet } from './verify-sheets.js';
import { verifySummaryLines } from './verify-summary-lines.js';
import type { VerifyTally } from './verify-tally.js';

/** The row of the column titles, as it is written. */
const TITLE_ROW = 3;

/**
 * Compares the sheet Units.
 *
 * @param expected as it is written for the inspections of the workbook
 * @param blank as it is written for entry, if the workbook was; null otherwise
 * @param units in the order in which they first stand on Readings
 */
export function verifyUnits(expected: ExpectedSheet, blank: ExpectedSheet | null, units: readonly string[], found: readonly Line[], tally: VerifyTally): void {
  const titles = (blank ?? expected).lines[TITLE_ROW - 1]!;
  const above = found.find(({ values }) => values[0] === titles.values[0]) ?? found.find(({ number }) => number === TITLE_ROW);
  const columnName = (index: number): string => String(titles.values[index] ?? '');
  if (above) verifyLine(titles, above, { sheet: UNITS_SHEET, tally, columnName, constant: 'text_changed' });
  const below = (line: Line): boolean => line.number > (above?.number ?? TITLE_ROW) && !isBlankLine(line, titles.values.length);
  verifySummaryLines({
    sheet: UNITS_SHEET,
    what: 'unit',
    columnName,
    tally,
    found: found.filter(below),
    known: expected.lines.filter(({ number, values }) => number > TITLE_ROW && values[0] !== null),
    growing: blank && { lines: blank.lines.filter(({ number }) => number > TITLE_ROW), names: units },
  });
}
