import { FAIL_RATES_SHEET, RATE_COLUMNS, REASONS_TITLE_ROW } from './sheets/fail-rates-places.js';
import { RATE_HEADINGS } from './sheets/fail-rates-tables.js';
import { isBlankLine, verifyLine, type Line } from './verify-line.js';
import { verifyPlacedSheet } from './verify-placed-sheet.js';
import { verifySummaryLines } from './verify-summary-lines.js';
import type { VerifyTally } from './verify-tally.js';

/** Columns of a table; notes may stand beside it. */
const WIDTH = RATE_COLUMNS.length;
const HEADINGS: ReadonlySet<string> = new Set(Object.values(RATE_HEADINGS));

/** One table of the sheet: its heading, its column titles and its lines. */
interface Table {
  readonly heading: Line;
  readonly titles: Line;
  readonly lines: readonly Line[];
}

/**
 * Compares the sheet Fail rates: words, reasons and places where they stand, the tables of rates line by line, wherever
 * a line was sorted to within its table.
 *
 * @param forEntry whether the workbook is for entry, so that its lists grow by formulas and stand where they are written
 */
export function verifyFailRates(expected: readonly Line[], found: readonly Line[], forEntry: boolean, tally: VerifyTally): void {
  const first = expected.find(isHeading)?.number;
  if (forEntry || first === undefined) {
    verifyPlacedSheet({ sheet: FAIL_RATES_SHEET, expected, found, titleRow: REASONS_TITLE_ROW, tally });
    return;
  }
  const there = tablesOf(found);
  const endOfTop = there[0]?.heading.number ?? Infinity;
  verifyPlacedSheet({ sheet: FAIL_RATES_SHEET, expected: expected.filter(({ number }) => number < first), found: found.filter(({ number }) => number < endOfTop), titleRow: REASONS_TITLE_ROW, tally });
  for (const table of tablesOf(expected)) verifyTable(table, there.find((one) => headingOf(one.heading) === headingOf(table.heading)) ?? null, tally);
}

function verifyTable({ heading, titles, lines }: Table, other: Table | null, tally: VerifyTally): void {
  const name = headingOf(heading);
  const columnName = (index: number): string => (index === 0 ? name : String(titles.values[index] ?? ''));
  const options = { sheet: FAIL_RATES_SHEET, tally, columnName };
  if (!other) {
    tally.add({ code: 'line_missing', sheet: FAIL_RATES_SHEET, column: name, found: 'no such table', expected: name });
    return;
  }
  verifyLine(heading, other.heading, { ...options, constant: 'stored_value_differs', columnName: () => name });
  verifyLine(titles, other.titles, { ...options, constant: 'text_changed' });
  verifySummaryLines({ sheet: FAIL_RATES_SHEET, what: 'group', columnName, tally, found: other.lines, known: lines, growing: null });
}

function isHeading({ values }: Line): boolean {
  return HEADINGS.has(String(values[0] ?? ''));
}

function headingOf({ values }: Line): string {
  return String(values[0]);
}

function tablesOf(lines: readonly Line[]): Table[] {
  const starts = lines.flatMap((line, at) => (isHeading(line) ? [at] : []));
  return starts.flatMap((start, position) => {
    const [heading, titles, ...rest] = lines.slice(start, starts[position + 1]).filter((line) => !isBlankLine(line, WIDTH));
    return heading && titles ? [{ heading, titles, lines: rest }] : [];
  });
}
