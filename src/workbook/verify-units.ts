import type { LossTrend, UnitSummary } from '../fleet/unit-summary.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { serialToIsoDate } from '../readings/date-serial.js';
import { unitColumns } from './sheets/unit-columns.js';
import { COUNTED_TO_CELL } from './sheets/unit-header.js';
import { UNITS_FIRST_ROW, UNITS_TITLE_ROW } from './sheets/unit-places.js';
import type { Line } from './verify-line.js';
import { titlesMovedBy } from './verify-placed-sheet.js';
import type { CellContent } from './verify-tally.js';

/** The row and the 0-based column of the cell in which people may type the day that days are counted to. */
export const COUNTED_TO = { row: Number(COUNTED_TO_CELL.slice(1)), column: COUNTED_TO_CELL.charCodeAt(0) - 'A'.charCodeAt(0) } as const;

/** The day that days are counted to on the sheet Units; null where the cell holds none. */
export function countedToIn(expected: readonly Line[], found: readonly Line[]): string | null {
  const moved = titlesMovedBy(expected, found, UNITS_TITLE_ROW) ?? 0;
  return dayOf(found.find(({ number }) => number === COUNTED_TO.row + moved)?.values[COUNTED_TO.column] ?? null);
}

/**
 * The units with the trends that the sheet holds, and what it says of build-up and leak: they were computed when it was written,
 * and what to do, and Open work, go by them.
 */
export function withValuesOfSheet(units: readonly UnitSummary[], plan: LimitPlan, expected: readonly Line[], found: readonly Line[]): UnitSummary[] {
  const moved = titlesMovedBy(expected, found, UNITS_TITLE_ROW) ?? 0;
  const columns = unitColumns(plan).map(({ name }) => name);
  const [directionAt, crossingAt, explainedAt] = [columns.indexOf('trend'), columns.indexOf('crosses_on'), columns.indexOf('buildup_explained')];
  const lines = new Map(found.flatMap((line) => (line.number >= UNITS_FIRST_ROW + moved ? [[String(line.values[0] ?? '').toLowerCase(), line] as const] : [])));
  return units.map((unit) => {
    const line = lines.get(unit.unit.toLowerCase());
    if (!line) return unit;
    const explained = line.values[explainedAt] ?? null;
    const asOnSheet = { ...unit, buildup_explained: explained === null ? null : String(explained) };
    const [direction, crossing] = [line.values[directionAt] ?? null, line.values[crossingAt] ?? null];
    if (typeof direction !== 'string') return { ...asOnSheet, trends: [] };
    const words = typeof crossing === 'string' ? crossing : null;
    const first = { ...unit.trends[0], direction, crosses_on: dayOf(crossing), crossing: words } as LossTrend;
    return { ...asOnSheet, trends: [first, ...unit.trends.slice(1)] };
  });
}

/** The day that a cell holds; null for anything else. */
export function dayOf(content: CellContent): string | null {
  return typeof content === 'number' ? serialToIsoDate(Math.floor(content), false) : null;
}
