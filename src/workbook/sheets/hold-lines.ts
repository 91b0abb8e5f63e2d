import type { CellValue } from 'exceljs';
import { roundHalfAway } from '../../util/round-half-away.js';
import type { CellLook } from '../cell-styles.js';
import { gaugesUsed, USUAL_GAUGE, type GaugeUsed } from '../gauges-used.js';
import { HOLD_DECIMALS, holdFormulas, SHEET_HOLDS } from '../hold-formulas.js';
import { leakLimits } from '../leak-limits.js';
import type { SheetContext } from '../sheet-context.js';
import type { TableColumn } from '../write-table.js';

/** The most lines that the table of holds has, and the most gauges. */
export const MOST_HOLD_LINES = 18;
const MOST_GAUGES = 3;

/** The columns of the table of holds. */
export const HOLD_COLUMNS: readonly TableColumn[] = [
  { title: 'Gauge', width: 18 },
  { title: 'Can be told apart', width: 9 },
  { title: 'Limit for', width: 30 },
  { title: 'Limit a minute', width: 9 },
  { title: 'Unmoved needle passes after (s)', width: 12 },
  ...SHEET_HOLDS.flatMap((minutes) => [
    { title: `${minutes} min: sure pass at most`, width: 8 },
    { title: `${minutes} min: sure fail at least`, width: 8 },
  ]),
];

/** One line of the table: cells, how they look, and the height of the row in points. */
export interface HoldTableLine {
  readonly values: readonly CellValue[];
  readonly looks: readonly CellLook[];
  readonly height: number;
}

/** The titles of the columns. */
export function holdHeader(): string[] {
  return HOLD_COLUMNS.map(({ title }) => title);
}

/** The lines of the table, for each gauge in use and each leak limit of the set, and how many more there would be. */
export function holdLines({ plan, fleet }: SheetContext, firstRow: number): { readonly lines: readonly HoldTableLine[]; readonly more: number } {
  const gauges = fleet ? gaugesUsed(fleet.evaluations, plan.dictionary, MOST_GAUGES) : [USUAL_GAUGE];
  const every = gauges.flatMap((gauge) => leakLimits(plan).map((leak) => ({ gauge, leak })));
  const lines = every.slice(0, MOST_HOLD_LINES).map(({ gauge, leak }, index): HoldTableLine => {
    const row = firstRow + index;
    const { readable, limit, unmoved, holds } = holdFormulas(plan, gauge, leak, { readable: `$B${row}`, limit: `$D${row}` });
    const values = [gaugeWords(gauge), readable, leak.title, limit, unmoved, ...holds.flatMap(({ pass, fail }) => [pass, fail])].map((value): CellValue => (typeof value === 'string' ? value : { formula: value.formula, result: value.result }));
    const number: CellLook = { right: true, format: HOLD_DECIMALS[gauge.unit] === 2 ? '0.00' : '0.0' };
    const looks: CellLook[] = [{ bold: true }, { centre: true, format: '0.0#' }, {}, number, { right: true, format: '0' }, ...holds.flatMap(() => [number, number])];
    return { values, looks, height: 4 + 13 * Math.max(1, Math.ceil(leak.title.length / 34), Math.ceil(gaugeWords(gauge).length / 20)) };
  });
  return { lines, more: every.length - lines.length };
}

/** A number that was converted has digits that no gauge shows. */
function shown(number: number): string {
  return String(roundHalfAway(number, 3));
}

function gaugeWords({ unit, step, readableTo }: GaugeUsed): string {
  if (step === null) return `read to ${shown(readableTo!)} ${unit}`;
  return `${shown(step)} ${unit} steps${readableTo === null ? '' : `, read to ${shown(readableTo)}`}`;
}
