import { parseCellPosition } from '../../src/formats/xlsx-reader/cell-position.js';
import type { LimitPlan } from '../../src/limits/compile-limit-set.js';
import { oneUnitLayout, type OneUnitLayout } from '../../src/workbook/sheets/one-unit-layout.js';
import { MOST_SHOWN, ONE_UNIT_FIRST_ROW, ONE_UNIT_SHEET, SIGNAL_ROW } from '../../src/workbook/sheets/one-unit-places.js';
import { rowsOfSheet, type PlainCell } from './sheet-tables.js';

type Cells = Readonly<Record<string, string>>;

/** A test of both losses, each over a minute, in psi; the set `common-practice` allows 3 with the brakes released and 4 applied. */
export function losses(inspected_on: string, unit: string, released: number | null, applied: number | null, more: Cells = {}): Cells {
  const end = (loss: number): string => String(Number((160 - loss).toFixed(6)));
  return {
    inspected_on,
    unit,
    ...(released !== null && { released_primary_start: '160', released_primary_end: end(released), released_time: '1:00' }),
    ...(applied !== null && { applied_primary_start: '160', applied_primary_end: end(applied), applied_settle_time: '1:30', applied_time: '1:00' }),
    ...more,
  };
}

/** So many days after a day. */
export function dayAfter(day: string, days: number): string {
  return new Date(Date.parse(day) + days * 86_400_000).toISOString().slice(0, 10);
}

function course(unit: string, from: string, step: number, released: readonly number[]): Cells[] {
  return released.map((loss, index) => losses(dayAfter(from, index * step), unit, loss, null));
}

/** NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2: the ten values of its individuals chart. */
export const HANDBOOK = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1] as const;

/** A made-up fleet in which every rule of the sheet One unit decides something. */
export const COURSE_ROWS: readonly Cells[] = [
  ...course('R-1', '2025-01-06', 14, HANDBOOK),
  // In the table the latest stands first.
  ...course('S-2', '2025-01-07', 10, [1, 2, 1, 2, 4, 5, 6, 7]).reverse(),
  ...course('D-3', '2025-01-08', 20, [8, 8, 8, 8, 5, 4, 3, 2]),
  ...course('M-4', '2025-01-09', 30, [2, 2, 2, 2, 2, 2]),
  losses('2025-04-01', 'O-5', 1.25, null, { inspection_id: 'o1' }),
  // Several on one day.
  ...[1, 3].map((loss) => losses('2025-03-01', 'E-6', loss, null)),
  ...[2, 5, 4].map((loss) => losses('2025-03-02', 'e-6', loss, null)),
  ...[1, 2].map((loss) => losses('2025-03-03', 'E-6', loss, null)),
  // No day that can be read.
  losses('', 'N-7', 2, 2),
  losses('yesterday', 'N-7', 2, 2),
  // A repair that took effect, and a later one that did not.
  losses('2025-04-20', 'P-8', 5, null),
  losses('2025-04-28', 'P-8', 6, null),
  losses('2025-05-02', 'P-8', 1, null, { repaired_on: '2025-05-01' }),
  ...course('P-8', '2025-05-12', 10, [1.2, 1.1, 1.3]),
  losses('2025-07-02', 'P-8', 1.2, null, { repaired_on: '2025-07-01' }),
  losses('2025-07-12', 'P-8', 1.4, null),
  // The applied loss is nearer its limit.
  ...Array.from({ length: 7 }, (_, index) => losses(dayAfter('2025-02-01', 12 * index), 'Q-9', 1, 3 + (index % 3) / 4)),
  // Half a minute is too short to decide.
  losses('2025-06-01', 'Z-10', null, null, { released_primary_start: '104', released_primary_end: '103', released_time: '0:30' }),
  // More than are shown.
  ...Array.from({ length: MOST_SHOWN + 2 }, (_, index) => losses(dayAfter('2025-01-01', 3 * index), 'Y-11', 1 + (index % 5) / 10, null)),
  // Names that spreadsheet programs take for patterns or for one number.
  ...course('K*', '2025-05-05', 7, [2, 2.5]),
  ...course('K9', '2025-05-06', 7, [1, 1.5]),
  ...course('007', '2025-05-07', 7, [0.5, 1]),
  ...course('7', '2025-05-08', 7, [0.25, 0.75]),
  // Both losses use half their limit.
  losses('2025-05-20', 'T-12', 1.5, 2),
];

/** What the sheet One unit says of a unit, worked out by hand. */
export const SAID: Readonly<Record<string, string>> = {
  // Target (49.6 + 47.6 + 49.9 + 51.3) / 4 = 49.6; sigma 1.8778 / 1.128 = 1.6647. From the sixth on the sum gathers
  // 0.768, 2.935, 4.903, 8.071, 9.738: beyond 5 sigma = 8.323.
  'R-1': 'Released loss, the loss nearest its limit: drifting up',
  // Mean 3.5, sigma 8/7/1.128 = 1.0132, upper limit 6.5395; the sum is 13.97, its limit 5.07.
  'S-2': 'Released loss, the loss nearest its limit: one reading far above its own; drifting up',
  'D-3': 'Released loss, the loss nearest its limit: drifting down',
  'M-4': 'Released loss, the loss nearest its limit: it never moved',
  'O-5': 'Released loss, the loss nearest its limit: too few inspections for a control chart of its own (days with that loss needed: 6)',
  'E-6': 'Released loss, the loss nearest its limit: too few inspections for a control chart of its own (days with that loss needed: 6)',
  'N-7': 'No inspection of this unit has a date up to that day.',
  // Since the repair: 1 1.2 1.1 1.3 1.2 1.4, moving ranges 0.2 0.1 0.2 0.1 0.2, sigma 0.16/1.128 = 0.1418; mean 1.2, so 1.4
  // is inside; target 1.15, the sum ends at 0.179 and its limit is 0.709.
  'P-8': 'Released loss, the loss nearest its limit: its own control chart shows no signal',
  'Q-9': 'Applied loss, the loss nearest its limit: its own control chart shows no signal',
  'Z-10': 'No loss of this unit could be decided.',
  'Y-11': 'Released loss, the loss nearest its limit: its own control chart shows no signal. Shown and charted are the latest 60.',
  'K*': 'Released loss, the loss nearest its limit: too few inspections for a control chart of its own (days with that loss needed: 6)',
  '7': 'Released loss, the loss nearest its limit: too few inspections for a control chart of its own (days with that loss needed: 6)',
  'T-12': 'Released loss, the loss nearest its limit: too few inspections for a control chart of its own (days with that loss needed: 6)',
};

/** What the sheet One unit of a workbook shows. */
export interface ShownUnit {
  readonly said: PlainCell;
  /** A column without the rows at its end that hold nothing. */
  readonly column: (id: string) => PlainCell[];
  readonly figure: (id: string) => PlainCell;
  readonly layout: OneUnitLayout;
}

/** Reads the sheet One unit. */
export async function shownUnit(workbook: Uint8Array, plan: LimitPlan): Promise<ShownUnit> {
  const rows = await rowsOfSheet(workbook, ONE_UNIT_SHEET);
  const layout = oneUnitLayout(plan);
  return {
    said: rows.get(SIGNAL_ROW)![0]!,
    column: (id) => {
      const cells = Array.from({ length: MOST_SHOWN }, (_, index) => rows.get(ONE_UNIT_FIRST_ROW + index)?.[layout.columnAt(id)] ?? null);
      return cells.slice(0, cells.findLastIndex((cell) => cell !== null) + 1);
    },
    figure: (id) => {
      const { row, column } = parseCellPosition(layout.figureCell(id).replaceAll('$', ''))!;
      return rows.get(row)?.[column - 1] ?? null;
    },
    layout,
  };
}
