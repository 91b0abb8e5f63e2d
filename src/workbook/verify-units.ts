import type { FleetSummary } from '../fleet/summary.js';
import { UNITS_FIRST_ROW, UNITS_SHEET, UNITS_TITLE_ROW } from './sheets/unit-places.js';
import { COUNTED_TO_CELL } from './sheets/unit-header.js';
import { verifyLine, type Line } from './verify-line.js';
import { titlesMovedBy, verifyPlacedSheet } from './verify-placed-sheet.js';
import { verifySummaryLines } from './verify-summary-lines.js';
import type { CellContent, VerifyTally } from './verify-tally.js';

const COUNTED_TO_ROW = Number(COUNTED_TO_CELL.slice(1));
const COUNTED_TO_COLUMN = COUNTED_TO_CELL.charCodeAt(0) - 'A'.charCodeAt(0);
const COUNTED_TO: ReadonlySet<number> = new Set([COUNTED_TO_COLUMN]);

/** The units of a summary in the order in which the sheet has them now, for it may have been sorted; others stand last. */
export function inOrderOfSheet(units: FleetSummary['units'], expected: readonly Line[], found: readonly Line[]): FleetSummary['units'] {
  const moved = titlesMovedBy(expected, found, UNITS_TITLE_ROW) ?? 0;
  const place = new Map<string, number>();
  for (const { number, values } of found) if (number >= UNITS_FIRST_ROW + moved && values[0] != null) place.set(String(values[0]).trim().toLowerCase(), place.size);
  const placeOf = (unit: string): number => place.get(unit.trim().toLowerCase()) ?? Infinity;
  return [...units].sort((a, b) => (placeOf(a.unit) === placeOf(b.unit) ? 0 : placeOf(a.unit) - placeOf(b.unit)));
}

/** What the cell holds in which people may type the day that days are counted to. */
export function countedToOf(expected: readonly Line[], found: readonly Line[]): CellContent {
  const moved = titlesMovedBy(expected, found, UNITS_TITLE_ROW) ?? 0;
  return found.find(({ number }) => number === COUNTED_TO_ROW + moved)?.values[COUNTED_TO_COLUMN] ?? null;
}

/**
 * Compares the sheet Units: what stands above the table in its place, and the line of each unit wherever it was sorted to.
 *
 * @param expected as it is written for the inspections of the workbook, the units in the order of the sheet
 * @param how whether the workbook is for entry, so that its list grows by formulas; and whether its formulas are live
 */
export function verifyUnits(expected: readonly Line[], found: readonly Line[], how: { readonly forEntry: boolean; readonly live: boolean }, tally: VerifyTally): void {
  const entries = (row: number): ReadonlySet<number> | undefined => (how.live && row === COUNTED_TO_ROW ? COUNTED_TO : undefined);
  const moved = titlesMovedBy(expected, found, UNITS_TITLE_ROW);
  if (how.forEntry || moved === null) {
    verifyPlacedSheet({ sheet: UNITS_SHEET, expected, found, titleRow: UNITS_TITLE_ROW, entries, tally });
    return;
  }
  const isAbove = ({ number }: Line): boolean => number < UNITS_FIRST_ROW;
  const titles = expected.find(({ number }) => number === UNITS_TITLE_ROW)!.values;
  const at = new Map(found.map((line) => [line.number, line]));
  for (const line of expected.filter(isAbove)) {
    const number = line.number + moved;
    verifyLine(line, at.get(number) ?? { number, values: [], formulas: [] }, { sheet: UNITS_SHEET, tally, constant: 'text_changed', except: entries(line.number) });
  }
  const below = found.filter(({ number, values, formulas }) => number >= UNITS_FIRST_ROW + moved && (values[0] != null || formulas[0] != null));
  const known = expected.filter((line) => !isAbove(line) && (line.values[0] != null || line.formulas[0] != null));
  verifySummaryLines({ sheet: UNITS_SHEET, what: 'unit', columnName: (index) => String(titles[index] ?? ''), tally, found: below, known, growing: null });
}
