import type { LimitPlan } from '../../limits/compile-limit-set.js';
import { LOSS_FORMATS } from '../loss-formats.js';
import { columnLetters } from '../../util/column-letters.js';
import type { OneUnitCells, OneUnitColumn, OneUnitPart } from './one-unit-cells.js';
import { oneUnitColumns } from './one-unit-columns.js';
import { oneUnitFigures, type OneUnitFigure } from './one-unit-figures.js';
import { shownLosses, type ShownLoss } from './one-unit-losses.js';
import { MOST_SHOWN, ONE_UNIT_FIRST_ROW, PICKED_CELL, UP_TO_CELL } from './one-unit-places.js';

/** Where everything stands on the sheet One unit. Columns are counted from 0. */
export interface OneUnitLayout {
  readonly losses: readonly ShownLoss[];
  readonly columns: readonly OneUnitColumn[];
  readonly figures: readonly OneUnitFigure[];
  readonly columnAt: (id: string) => number;
  /** First and last column of a part. */
  readonly span: (part: OneUnitPart | 'figures') => readonly [number, number];
  /** The widths of the columns that are printed, from the left. */
  readonly widths: readonly number[];
  /** All rows of a column, `$B$31:$B$90`. */
  readonly range: (id: string) => string;
  readonly cellsIn: (row: number) => OneUnitCells;
  readonly figureCell: (id: string) => string;
}

/** Widths of the free columns between the parts, and of the figures' two. */
const GAP = 3;
const FIGURE_WIDTHS = [32, 20] as const;
const PARTS = ['inspections', 'control', 'figures', 'working', 'chart'] as const;

/** Lays the parts of the sheet out side by side, a column free between them. */
export function oneUnitLayout(plan: LimitPlan): OneUnitLayout {
  const losses = shownLosses(plan);
  const columns = oneUnitColumns(plan, losses);
  const figures = oneUnitFigures(losses, columns.some(({ id }) => id === 'share'), LOSS_FORMATS[plan.shownPressure].fine);
  const places = new Map<string, number>();
  const spans = new Map<string, readonly [number, number]>();
  let next = 0;
  for (const part of PARTS) {
    const own = columns.filter((column) => column.part === part);
    const width = part === 'figures' ? 2 : own.length;
    own.forEach(({ id }, index) => places.set(id, next + index));
    spans.set(part, [next, next + width - 1]);
    next += width + 1;
  }
  const byId = new Map(columns.map((column) => [column.id, column]));
  const letters = (id: string): string => `$${columnLetters(places.get(id)!)}`;
  const lastRow = (id: string): number => ONE_UNIT_FIRST_ROW + (byId.get(id)!.rows ?? MOST_SHOWN) - 1;
  const range = (id: string): string => `${letters(id)}$${ONE_UNIT_FIRST_ROW}:${letters(id)}$${lastRow(id)}`;
  const figureLetters = columnLetters(spans.get('figures')![1]);
  const entries: Readonly<Record<string, string>> = { picked: PICKED_CELL, up_to: UP_TO_CELL };
  const figureCell = (id: string): string => {
    const entry = entries[id];
    return entry === undefined ? `$${figureLetters}$${ONE_UNIT_FIRST_ROW + figures.findIndex((figure) => figure.id === id)}` : entry.replace(/([A-Z]+)(\d+)/, '$$$1$$$2');
  };
  return {
    losses,
    columns,
    figures,
    columnAt: (id) => places.get(id)!,
    span: (part) => spans.get(part)!,
    widths: [...columns.filter(({ part }) => part === 'inspections').map(({ width }) => width), GAP, ...columns.filter(({ part }) => part === 'control').map(({ width }) => width), GAP, ...FIGURE_WIDTHS],
    range,
    figureCell,
    cellsIn: (row) => ({
      at: (id) => `${letters(id)}${row}`,
      all: range,
      down: (id) => `${letters(id)}$${ONE_UNIT_FIRST_ROW}:${letters(id)}${row}`,
      last: (id) => `${letters(id)}$${lastRow(id)}`,
      above: (id) => (row === ONE_UNIT_FIRST_ROW ? null : `${letters(id)}${row - 1}`),
      figure: figureCell,
    }),
  };
}
