import { PALETTE } from '../palette.js';
import type { TableColumn } from '../write-table.js';

/** How the formulas of the sheet One unit name its cells. */
export interface OneUnitCells {
  /** The cell of a column in the formula's own row. */
  readonly at: (id: string) => string;
  /** The whole column; its cells down to the formula's own row; its last cell. */
  readonly all: (id: string) => string;
  readonly down: (id: string) => string;
  readonly last: (id: string) => string;
  /** The cell above of a column; null in the first row. */
  readonly above: (id: string) => string | null;
  /** The cell of a figure, see `one-unit-figures.ts`, or `picked` or `up_to`. */
  readonly figure: (id: string) => string;
}

export type OneUnitPart = 'inspections' | 'control' | 'working' | 'chart';

/** A column of the sheet One unit. A row of the part `inspections` is an inspection, one of the part `control` a day. */
export interface OneUnitColumn extends TableColumn {
  readonly id: string;
  readonly part: OneUnitPart;
  /** Null for a number that counts the rows. */
  readonly formula: ((cells: OneUnitCells) => string) | null;
  /** Rows that it has; without it, all. */
  readonly rows?: number;
}

/** Looks of the cells. */
export const DATE = { format: 'yyyy-mm-dd', centre: true } as const;
export const LOSS = { format: '0.00', right: true } as const;
export const COUNT = { format: '0', right: true } as const;
export const MUTED = { ...PALETTE.name, size: 8 } as const;

/** 1 for the dated inspections of the unit that was picked. A unit is compared by `=`: MATCH would take `K*` for a pattern. */
export const OWN = (figure: OneUnitCells['figure']): string => `(readings_unit=${figure('picked')})`;
/** 1 for the inspections that count: those with a day, up to the day typed. */
export const COUNTED = (figure: OneUnitCells['figure']): string => `ISNUMBER(readings_inspected_on)*(readings_inspected_on<IF(ISNUMBER(${figure('up_to')}),${figure('up_to')},2958465)+1)`;

/** The cell of a range of Readings in the row that a row of the sheet shows. */
export const inReadings = (range: string, at: OneUnitCells['at']): string => `INDEX(${range},${at('position')})`;
