import type { FailRateGroup } from '../../fleet/group-fail-rate.js';
import type { CellLook } from '../cell-styles.js';
import { columnLetters } from '../../util/column-letters.js';
import { PALETTE } from '../palette.js';
import type { TableColumn } from '../write-table.js';

/** The sheet's name. */
export const FAIL_RATES_SHEET = 'Fail rates';

/** The row of the heading over what stands out, in words, and how many lines there are. */
export const WORDS_ROW = 3;
export const WORDS_LINES = 5;
/** The charts lie below this row. */
export const CHARTS_ABOVE = WORDS_ROW + WORDS_LINES + 1;
export const CHART_ROWS = 19;
/** The row of the titles of the first table, that of the reasons. */
export const REASONS_TITLE_ROW = CHARTS_ABOVE + CHART_ROWS + 3;
/** The rows of the table of reasons at most, but for more reasons that there are. */
export const REASON_ROWS = 16;
/** The rows that the chart beside the tables of reasons and places takes. */
export const PARETO_ROWS = 18;
/** The rows of the table of places heard leaking. */
export const PLACE_ROWS = 12;
/** What a blank workbook says in place of estimates, and where more was typed than its tables have rows for. */
export const NO_ESTIMATES = 'no estimates before it is evaluated';
export const MORE_THAN_ROWS = 'There are more than these rows hold: evaluate the workbook to see them all.';

/** The columns of a table of rates. */
export type RateColumnId = 'name' | 'tested' | 'failed' | 'recheck' | 'rate' | 'low' | 'high' | 'estimate' | 'flag' | 'up' | 'down';

const count: CellLook = { right: true, format: '0' };
const percent: CellLook = { right: true, format: '0.0 %' };
const working: CellLook = { ...PALETTE.name, size: 8 };

/** A column of a table of rates. */
export interface RateColumn extends TableColumn {
  readonly id: RateColumnId;
}

/** The columns of a table of rates, from the left. */
export const RATE_COLUMNS: readonly RateColumn[] = [
  { id: 'name', title: 'Group', width: 40, look: { bold: true } },
  { id: 'tested', title: 'Tested', width: 9.5, look: count },
  { id: 'failed', title: 'Failed', width: 9.5, look: count },
  { id: 'recheck', title: 'Recheck', width: 9.5, look: count },
  { id: 'rate', title: 'Fail rate', width: 10.5, look: { ...percent, bold: true } },
  { id: 'low', title: '95 % interval, from', width: 11, look: percent },
  { id: 'high', title: 'to', width: 11, look: percent },
  { id: 'estimate', title: 'Estimate (drawn to the others)', width: 13, look: percent },
  { id: 'flag', title: 'Beside the others', width: 27, look: { centre: true } },
];

/** What the whiskers of the charts are drawn from; it stands apart, at the right. */
export const WHISKER_COLUMNS: readonly RateColumn[] = [
  { id: 'up', title: 'Rate to upper end', width: 11, look: { ...working, ...percent } },
  { id: 'down', title: 'Rate to lower end', width: 11, look: { ...working, ...percent } },
];

/** The columns of a Pareto table, from the left. */
export const PARETO_COLUMNS: readonly TableColumn[] = [
  { title: 'Why it failed', width: 40, look: { bold: true } },
  { title: 'Failures', width: 9.5, look: count },
  { title: 'Share of all', width: 9.5, look: percent },
  { title: 'Share down to here', width: 9.5, look: percent },
];

/** What a Pareto table is sorted from; it stands apart, at the right. */
export const PARETO_WORKING: readonly TableColumn[] = [
  { title: 'By name', width: 11, look: working },
  { title: 'Failures', width: 11, look: { ...working, ...count } },
  { title: 'Order', width: 11, look: { ...working, right: true, format: '0.000000' } },
];

/** The groups of which a chart is drawn. */
export const CHARTED_GROUPS = ['check', 'site'] as const satisfies readonly FailRateGroup[];
export type ChartedGroup = (typeof CHARTED_GROUPS)[number];

/** Whether a chart is drawn of a group. */
export function isCharted(group: FailRateGroup): group is ChartedGroup {
  return CHARTED_GROUPS.includes(group as ChartedGroup);
}

/** The 0-based column in which what stands apart begins. */
export const APART_FROM = RATE_COLUMNS.length + 1;

/** The letters of a column of a table of rates. */
export function rateLetters(id: RateColumnId): string {
  const index = RATE_COLUMNS.findIndex((column) => column.id === id);
  return columnLetters(index >= 0 ? index : APART_FROM + WHISKER_COLUMNS.findIndex((column) => column.id === id));
}

/** The letters of a column of the table that a Pareto table is sorted from. */
export const PARETO_APART = { name: columnLetters(APART_FROM), failed: columnLetters(APART_FROM + 1), order: columnLetters(APART_FROM + 2) } as const;
