import type { CellValue } from 'exceljs';
import type { RateDifference } from '../../fleet/baseline-comparison.js';
import type { FailRate } from '../../fleet/fail-rate.js';
import type { CellLook } from '../cell-styles.js';
import { PALETTE } from '../palette.js';
import type { TableColumn } from '../write-table.js';

/** A column of the table of rates. */
export interface BaselineColumn extends TableColumn {
  readonly id: string;
  /** The heading over it and its neighbours. */
  readonly group: string;
  readonly value: (rate: RateDifference) => CellValue;
}

/** The headings of the two sides. */
export const THEN = 'Then: the baseline';
export const NOW = 'Now: this table';

const COUNT: CellLook = { format: '0', right: true };
const PERCENT: CellLook = { format: '0.0 %', right: true };
const POINTS: CellLook = { format: '+0.0 %;-0.0 %;0.0 %', right: true };
const MUTED: CellLook = { ...PERCENT, ink: PALETTE.name.ink };
const DIFFERENCE = 'Difference: now less then';

function side(prefix: 'then' | 'now', group: string, of: (rate: RateDifference) => FailRate): BaselineColumn[] {
  return [
    { id: `${prefix}_tested`, group, title: 'Tested', width: 8.5, look: COUNT, value: (rate) => of(rate).tested },
    { id: `${prefix}_failed`, group, title: 'Failed', width: 8.5, look: COUNT, value: (rate) => of(rate).failed },
    { id: `${prefix}_recheck`, group, title: 'Recheck', width: 9, look: COUNT, value: (rate) => of(rate).recheck },
    { id: `${prefix}_rate`, group, title: 'Fail rate', width: 9.5, look: { ...PERCENT, bold: true }, value: (rate) => of(rate).rate },
    { id: `${prefix}_low`, group, title: '95 % interval, from', width: 10, look: PERCENT, value: (rate) => of(rate).low },
    { id: `${prefix}_high`, group, title: 'to', width: 9.5, look: PERCENT, value: (rate) => of(rate).high },
  ];
}

/** The table, from the left. */
export const BASELINE_COLUMNS: readonly BaselineColumn[] = [
  { id: 'name', group: '', title: 'Fail rate of', width: 38, look: { bold: true, wrap: true }, value: ({ name }) => name },
  ...side('then', THEN, ({ before }) => before),
  ...side('now', NOW, ({ now }) => now),
  { id: 'difference', group: DIFFERENCE, title: 'Percentage points', width: 10.5, look: { ...POINTS, bold: true }, value: ({ difference }) => difference },
  { id: 'low', group: DIFFERENCE, title: '95 % interval, from', width: 10, look: POINTS, value: ({ low }) => low },
  { id: 'high', group: DIFFERENCE, title: 'to', width: 9.5, look: POINTS, value: ({ high }) => high },
  { id: 'verdict', group: DIFFERENCE, title: 'In words', width: 21, look: { centre: true }, value: ({ verdict }) => verdict },
];

/** How far the whiskers of the chart reach; they stand apart to the right and are not printed. */
export const BASELINE_CHART_DATA: readonly BaselineColumn[] = (['then', 'now'] as const).flatMap((prefix) => {
  const of = (rate: RateDifference): FailRate => (prefix === 'then' ? rate.before : rate.now);
  const title = prefix === 'then' ? 'Then' : 'Now';
  const group = 'Chart data: how far the whiskers reach';
  return [
    { id: `${prefix}_up`, group, title: `${title}: rate to upper end`, width: 12, look: MUTED, value: (rate: RateDifference) => less(of(rate).high, of(rate).rate) },
    { id: `${prefix}_down`, group, title: `${title}: rate to lower end`, width: 12, look: MUTED, value: (rate: RateDifference) => less(of(rate).rate, of(rate).low) },
  ];
});

function less(a: number | null, b: number | null): number | null {
  return a === null || b === null ? null : a - b;
}
