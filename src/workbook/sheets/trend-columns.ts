import type { FillValue } from '../../formats/xlsx-package/assemble-xlsx.js';
import type { PeriodSummary } from '../../fleet/period-summary.js';
import { IN_PSI, toShown, unitShown, type ShownIn } from '../../limits/shown-pressure.js';
import { isoDateToSerial } from '../../readings/date-serial.js';
import { Z_95 } from '../../statistics/wilson-interval.js';
import { columnLetters } from '../../util/column-letters.js';
import type { CellLook } from '../cell-styles.js';
import { LOSS_FORMATS } from '../loss-formats.js';
import { PALETTE } from '../palette.js';
import type { TableColumn } from '../write-table.js';

/** The columns of the sheet Trend, from the left; those of `CHART_DATA` stand apart to the right. */
export type TrendColumnId = 'period' | 'from' | 'to' | 'inspections' | 'units' | 'tested' | 'failed' | 'recheck' | 'rate' | 'low' | 'high' | `${TrendMeasure}_${'median' | 'p90' | 'whisker'}` | 'rate_up' | 'rate_down';
export type TrendMeasure = 'released_loss' | 'applied_loss' | 'buildup_time';

export interface TrendColumn extends TableColumn {
  readonly id: TrendColumnId;
  readonly value: (period: PeriodSummary) => FillValue;
  /** The live formula, over the row's own cells; null where a value stands. */
  readonly formula: ((at: (id: TrendColumnId) => string) => string) | null;
  readonly array?: boolean;
}

type At = (id: TrendColumnId) => string;

const date = { format: 'yyyy-mm-dd', centre: true } as const;
const count = { format: '0', right: true } as const;
const percent = { format: '0.0 %', right: true } as const;
const seconds = { format: '0', right: true } as const;
const bold = { bold: true } as const;
const muted = { ink: PALETTE.name.ink } as const;

/** 1 for the inspections of the row's period. A text in place of a date is greater than every number, and so in no period. */
const inPeriod = (at: At): string => `(readings_inspected_on>=${at('from')})*(readings_inspected_on<${at('to')}+1)`;
const counted = (test: string): ((at: At) => string) => (at) => `SUMPRODUCT(${inPeriod(at)}*(${test}))`;
const difference = (more: TrendColumnId, less: TrendColumnId): ((at: At) => string) => (at) => `IF(${at(more)}="","",${at(more)}-${at(less)})`;

/** The last character that MATCH takes as it stands, after the signs that it would take for a pattern. */
const literally = 'SUBSTITUTE(SUBSTITUTE(SUBSTITUTE(readings_unit,"~","~~"),"*","~*"),"?","~?")';
const ordinal = 'ROW(readings_unit)-MIN(ROW(readings_unit))+1';

const named = (at: At): string => `${inPeriod(at)}*(readings_unit<>"")`;

/** Counts different units: each inspection of the period stands for the first row that names its unit, and FREQUENCY counts those rows once. LibreOffice has no frequencies of nothing. */
const differentUnits = (at: At): string => `IF(SUM(${named(at)})=0,0,SUM(--(FREQUENCY(IF(${named(at)},IFERROR(MATCH(${literally},readings_unit,0),${ordinal}),""),${ordinal})>0)))`;

function interval(end: 'low' | 'high'): (at: At) => string {
  const z2 = Z_95 * Z_95;
  return (at) => {
    const [n, p] = [at('tested'), at('rate')];
    const centre = `${p}+${z2}/(2*${n})`;
    const half = `${Z_95}*SQRT(${p}*(1-${p})/${n}+${z2}/(4*${n}^2))`;
    const atEnd = end === 'low' ? `IF(${at('failed')}=0,0,MAX(0,(${centre}-${half})/(1+${z2}/${n})))` : `IF(${at('failed')}=${n},1,MIN(1,(${centre}+${half})/(1+${z2}/${n})))`;
    return `IF(N(${n})=0,"",${atEnd})`;
  };
}

/** A measure of the sheet, as it is shown. */
interface ShownMeasure {
  readonly measure: TrendMeasure;
  readonly title: string;
  readonly unit: string;
  readonly look: CellLook;
  readonly range: string;
  readonly shown: (value: number | null) => number | null;
}

function quantileColumns({ measure, title, unit, look, range, shown }: ShownMeasure): TrendColumn[] {
  const numbers = (at: At): string => `IF(${inPeriod(at)},${range},"")`;
  const guarded = (at: At, quantile: string): string => `IF(COUNT(${numbers(at)})=0,"",${quantile})`;
  return [
    { id: `${measure}_median`, title: `${title}, median (${unit})`, width: 11, look: { ...look, ...bold }, value: (period) => shown(period[`${measure}_median`]), formula: (at) => guarded(at, `MEDIAN(${numbers(at)})`), array: true },
    { id: `${measure}_p90`, title: `${title}, 90th percentile (${unit})`, width: 11.5, look, value: (period) => shown(period[`${measure}_p90`]), formula: (at) => guarded(at, `PERCENTILE(${numbers(at)},0.9)`), array: true },
  ];
}

function whisker({ measure, title, look, shown }: ShownMeasure): TrendColumn {
  return {
    id: `${measure}_whisker`,
    title: `${title}: median to 90th percentile`,
    width: 13,
    look: { ...look, ...muted },
    value: (period) => minus(shown(period[`${measure}_p90`]), shown(period[`${measure}_median`])),
    formula: difference(`${measure}_p90`, `${measure}_median`),
    array: true,
  };
}

function shownMeasures(shownIn: ShownIn): readonly ShownMeasure[] {
  const loss = (measure: 'released_loss' | 'applied_loss', title: string): ShownMeasure => ({
    measure,
    title,
    unit: unitShown('psi/min', shownIn.shownPressure),
    look: { format: LOSS_FORMATS[shownIn.shownPressure].usual, right: true },
    range: `computed_${measure}${shownIn.shownPressure === 'psi' ? '' : '_shown'}`,
    shown: (value) => toShown(value, 'psi/min', shownIn),
  });
  return [
    loss('released_loss', 'Released loss'),
    loss('applied_loss', 'Applied loss'),
    { measure: 'buildup_time', title: 'Build-up', unit: 's', look: seconds, range: 'computed_buildup_time', shown: (value) => value },
  ];
}

const BEFORE_MEASURES: readonly TrendColumn[] = [
  { id: 'period', title: 'Period', width: 11, look: bold, value: ({ period }) => period, formula: null },
  { id: 'from', title: 'From', width: 11, look: date, value: ({ from }) => isoDateToSerial(from), formula: null },
  { id: 'to', title: 'To', width: 11, look: date, value: ({ to }) => isoDateToSerial(to), formula: null },
  { id: 'inspections', title: 'Inspections', width: 11, look: count, value: ({ inspections }) => inspections, formula: (at) => `SUMPRODUCT(${inPeriod(at)})` },
  { id: 'units', title: 'Different units', width: 10, look: count, value: ({ units }) => units, formula: differentUnits, array: true },
  { id: 'tested', title: 'Tested', width: 9, look: count, value: ({ tested }) => tested, formula: counted('(computed_verdict="pass")+(computed_verdict="fail")') },
  { id: 'failed', title: 'Failed', width: 9, look: count, value: ({ failed }) => failed, formula: counted('computed_verdict="fail"') },
  { id: 'recheck', title: 'Recheck', width: 9, look: count, value: ({ recheck }) => recheck, formula: counted('computed_verdict="recheck"') },
  { id: 'rate', title: 'Fail rate', width: 10, look: { ...percent, ...bold }, value: ({ rate }) => rate, formula: (at) => `IF(N(${at('tested')})=0,"",${at('failed')}/${at('tested')})` },
  { id: 'low', title: '95 % interval, from', width: 10.5, look: percent, value: ({ low }) => low, formula: interval('low') },
  { id: 'high', title: 'to', width: 10.5, look: percent, value: ({ high }) => high, formula: interval('high') },
];

const RATE_WHISKERS: readonly TrendColumn[] = [
  { id: 'rate_up', title: 'Rate to upper end', width: 12, look: { ...percent, ...muted }, value: ({ high, rate }) => minus(high, rate), formula: difference('high', 'rate') },
  { id: 'rate_down', title: 'Rate to lower end', width: 12, look: { ...percent, ...muted }, value: ({ rate, low }) => minus(rate, low), formula: difference('rate', 'low') },
];

/** The columns of the table, and those that the whiskers of the charts are drawn from, with losses in the unit in which they are shown. */
export function trendColumns(shownIn: ShownIn): { readonly table: readonly TrendColumn[]; readonly chartData: readonly TrendColumn[] } {
  const measures = shownMeasures(shownIn);
  return { table: [...BEFORE_MEASURES, ...measures.flatMap(quantileColumns)], chartData: [...RATE_WHISKERS, ...measures.map(whisker)] };
}

/** The table and the chart's data with losses in psi: for where columns stand, which is the same in every unit. */
export const { table: TREND_COLUMNS, chartData: CHART_DATA } = trendColumns(IN_PSI);

/** A cell of the sheet Trend, `$F$32`. */
export function trendCell(id: TrendColumnId, row: number): string {
  return `$${columnLetters(TREND_COLUMNS.findIndex((column) => column.id === id))}$${row}`;
}

function minus(a: number | null, b: number | null): number | null {
  return a === null || b === null ? null : a - b;
}
