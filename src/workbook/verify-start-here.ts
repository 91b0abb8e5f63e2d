import { cautions } from './cautions.js';
import { holdHeader } from './sheets/hold-lines.js';
import { START_SHEET } from './sheets/start-here-sheet.js';
import type { Line } from './verify-line.js';
import { verifyPlacedSheet } from './verify-placed-sheet.js';
import { sameContent, type VerifyTally } from './verify-tally.js';

/**
 * Compares what matters on the sheet Start here: that every caution stands there as it is written, and the table of how
 * long to hold a leak test.
 *
 * @param asWritten whether entries and limits are those with which the workbook was written; the table goes by both
 */
export function verifyStartHere(expected: readonly Line[], found: readonly Line[], asWritten: boolean, tally: VerifyTally): void {
  for (const caution of cautions()) {
    tally.cellsCompared += 1;
    if (!found.some(({ values }) => values.some((value) => sameContent(value, caution)))) tally.add({ code: 'text_changed', sheet: START_SHEET, column: 'Cautions', found: 'no such line', expected: caution });
  }
  const [gauge, readable] = holdHeader();
  const titles = expected.find(({ values }) => values[0] === gauge && values[1] === readable);
  if (!titles || !asWritten) return;
  const from = found.find(({ values }) => values[0] === gauge && values[1] === readable)?.number ?? Infinity;
  verifyPlacedSheet({
    sheet: START_SHEET,
    expected: expected.filter(({ number }) => number >= titles.number),
    found: found.filter(({ number }) => number >= from),
    titleRow: titles.number,
    asWritten,
    results: true,
    tally,
  });
}
