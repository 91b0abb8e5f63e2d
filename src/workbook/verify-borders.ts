import { BORDERS_SHEET, bordersSheet, bordersTitleRow } from './sheets/borders-sheet.js';
import type { Line } from './verify-line.js';
import { titlesMovedBy, verifyPlacedSheet } from './verify-placed-sheet.js';
import { expectedSheet } from './verify-sheets.js';
import type { Context, FilledContext } from './verify-summary-sheets.js';
import { showContent, type VerifyTally } from './verify-tally.js';

/** What the sheet Borders is compared with. */
export interface BordersTask {
  /** What the sheet is laid out from for the inspections of the workbook, with the numbers of its own sheet Limits. */
  readonly filled: FilledContext;
  /** The same without inspections, for a workbook that was written for entry; null otherwise. */
  readonly empty: Context | null;
  /** In a workbook for entry, the units in the order in which they first stand on Readings. */
  readonly appeared: readonly string[];
  readonly found: readonly Line[];
  readonly asWritten: boolean;
  readonly tally: VerifyTally;
}

/** Compares the sheet Borders cell by cell. Its units are taken in the order in which the sheet lists them. */
export function verifyBorders({ filled, empty, appeared, found, asWritten, tally }: BordersTask): void {
  const titleRow = bordersTitleRow(filled.plan);
  const written = expectedSheet(bordersSheet, empty ?? filled).lines;
  const moved = titlesMovedBy(written, found, titleRow) ?? 0;
  const listed = empty ? appeared : namesBelow(found, titleRow + moved);
  const place = new Map(listed.map((unit, index) => [unit.toLowerCase(), index]));
  const { summary } = filled.fleet;
  const units = [...summary.units].sort((a, b) => (place.get(a.unit.toLowerCase()) ?? listed.length) - (place.get(b.unit.toLowerCase()) ?? listed.length));
  const inOrder = expectedSheet(bordersSheet, { ...filled, fleet: { ...filled.fleet, summary: { ...summary, units } } }).lines;
  const expected = empty ? withUnits(written, inOrder, titleRow, units.length) : inOrder;
  verifyPlacedSheet({ sheet: BORDERS_SHEET, expected, found, titleRow, asWritten, results: true, tally });
}

function namesBelow(lines: readonly Line[], titleRow: number): string[] {
  const names: string[] = [];
  for (const { number, values } of lines) {
    if (number <= titleRow) continue;
    if (values[0] == null || values[0] === '' || number > titleRow + names.length + 1) break;
    names.push(showContent(values[0]).trim());
  }
  return names;
}

/** The lines of the empty sheet with what its formulas give for units that were typed; what stands below has its own place. */
function withUnits(empty: readonly Line[], filled: readonly Line[], titleRow: number, units: number): Line[] {
  const at = new Map(filled.map((line) => [line.number, line]));
  return empty.map((line) => {
    const other = line.number <= titleRow + units ? at.get(line.number) : undefined;
    return other ? { ...line, values: line.values.map((value, index) => (line.formulas[index] ? (other.values[index] ?? null) : value)) } : line;
  });
}
