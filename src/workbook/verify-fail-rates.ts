import { FAIL_RATES_SHEET } from './sheets/fail-rates-sheet.js';
import { isBlankLine, verifyLine, type Line } from './verify-line.js';
import type { ExpectedSheet } from './verify-sheets.js';
import { verifySummaryLines } from './verify-summary-lines.js';
import type { VerifyTally } from './verify-tally.js';

/** Columns of a table; notes may stand beside it. */
const WIDTH = 9;

/** One table of the sheet: its heading, its column titles and its lines. */
interface Table {
  readonly heading: string;
  readonly titles: Line;
  readonly lines: readonly Line[];
}

/**
 * Compares the sheet Fail rates table by table.
 *
 * @param expected as it is written for the inspections of the workbook
 * @param blank as it is written for entry, if the workbook was; null otherwise
 * @param names for each table of a blank workbook that grows by formulas, by its position: the names in the order in which they first stand on Readings
 */
export function verifyFailRates(expected: ExpectedSheet, blank: ExpectedSheet | null, names: ReadonlyMap<number, readonly string[]>, found: readonly Line[], tally: VerifyTally): void {
  const known = tablesOf(expected.lines, headingsOf(expected.lines));
  const written = blank ? tablesOf(blank.lines, headingsOf(blank.lines)) : known;
  const there = tablesOf(found, new Set(known.map(({ heading }) => heading)));
  for (const [position, table] of known.entries()) {
    const { heading, titles } = table;
    const columnName = (index: number): string => (index === 0 ? heading : String(titles.values[index] ?? ''));
    const other = there.find((candidate) => candidate.heading === heading);
    if (!other) {
      tally.add({ code: 'line_missing', sheet: FAIL_RATES_SHEET, column: heading, found: 'no such table', expected: heading });
      continue;
    }
    verifyLine(titles, other.titles, { sheet: FAIL_RATES_SHEET, tally, columnName, constant: 'text_changed' });
    const { lines } = written[position]!;
    const growing = blank && { lines, names: names.get(position) ?? lines.map(({ values }) => String(values[0] ?? '')) };
    verifySummaryLines({ sheet: FAIL_RATES_SHEET, what: 'group', columnName, tally, found: other.lines, known: table.lines, growing });
  }
}

/** The texts that stand above the titles of a table. */
function headingsOf(lines: readonly Line[]): Set<string> {
  const titles = lines.filter(({ values }) => values[1] === 'Tested');
  return new Set(titles.map(({ number }) => String(lines.find((line) => line.number === number - 1)?.values[0] ?? '')));
}

function tablesOf(lines: readonly Line[], headings: ReadonlySet<string>): Table[] {
  const starts = lines.flatMap(({ values }, at) => (headings.has(String(values[0] ?? '')) ? [at] : []));
  return starts.flatMap((start, position) => {
    const [heading, titles, ...rest] = lines.slice(start, starts[position + 1]).filter((line) => !isBlankLine(line, WIDTH));
    return heading && titles ? [{ heading: String(heading.values[0]), titles, lines: rest }] : [];
  });
}
