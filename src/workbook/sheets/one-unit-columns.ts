import type { LimitPlan } from '../../limits/compile-limit-set.js';
import { PALETTE } from '../palette.js';
import type { TableColumn } from '../write-table.js';
import { computedColumn, type ShownLoss } from './one-unit-losses.js';
import { MOST_REPAIRS, OFF_CHART } from './one-unit-places.js';

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

const DATE = { format: 'yyyy-mm-dd', centre: true } as const;
const LOSS = { format: '0.00', right: true } as const;
const COUNT = { format: '0', right: true } as const;
const SHARE = { format: '0 %', right: true } as const;
const muted = { ...PALETTE.name, size: 8 } as const;

/** 1 for the dated inspections of the unit that was picked. A unit is compared by `=`: MATCH would take `K*` for a pattern. */
export const OWN = (figure: OneUnitCells['figure']): string => `(readings_unit=${figure('picked')})`;
/** 1 for the inspections that count: those with a day, up to the day typed. */
export const COUNTED = (figure: OneUnitCells['figure']): string => `ISNUMBER(readings_inspected_on)*(readings_inspected_on<IF(ISNUMBER(${figure('up_to')}),${figure('up_to')},2958465)+1)`;

const inReadings = (range: string, at: OneUnitCells['at']): string => `INDEX(${range},${at('position')})`;
const fromReadings = (range: string): ((cells: OneUnitCells) => string) => ({ at }) => `IF(${at('position')}="","",${inReadings(range, at)})`;
const dayFromReadings = (range: string): ((cells: OneUnitCells) => string) => ({ at }) => `IF(${at('position')}="","",IF(ISNUMBER(${inReadings(range, at)}),INT(${inReadings(range, at)}),""))`;

/** All columns that have a row for each of the inspections shown, from the left. */
export function oneUnitColumns(plan: LimitPlan, losses: readonly ShownLoss[]): readonly OneUnitColumn[] {
  return [...inspectionColumns(plan, losses), ...controlColumns(), ...workingColumns(losses), ...chartColumns(losses)];
}

function inspectionColumns(plan: LimitPlan, losses: readonly ShownLoss[]): OneUnitColumn[] {
  const part = 'inspections';
  const share = computedColumn(plan, 'leak_share');
  const ofLoss = (loss: ShownLoss, index: number): OneUnitColumn[] => {
    const { value, limit } = loss.columns;
    return [
      { id: `loss${index}`, part, title: `${loss.title} (${loss.unit})`, width: 11, look: { ...LOSS, bold: true }, formula: fromReadings(value!.range) },
      ...(limit ? [{ id: `limit${index}`, part, title: `its limit (${loss.unit})`, width: 9, look: LOSS, formula: fromReadings(limit.range) } as const] : []),
    ];
  };
  return [
    { id: 'number', part, title: 'No.', width: 7, look: COUNT, formula: ({ at, figure }) => `IF(${at('position')}="","",${figure('inspections')}-${figure('shown')}+${at('place')})` },
    { id: 'date', part, title: 'Date', width: 11, look: { ...DATE, bold: true }, formula: dayFromReadings('readings_inspected_on') },
    { id: 'inspection', part, title: 'Inspection', width: 12, look: { format: '@' }, formula: ({ at }) => `IF(${at('position')}="","",${inReadings('readings_inspection_id', at)}&"")` },
    { id: 'verdict', part, title: 'Verdict', width: 11, look: { centre: true }, formula: fromReadings('computed_verdict') },
    ...losses.flatMap(ofLoss),
    ...(share ? [{ id: 'share', part, title: 'Share of the leak\'s limit', width: 10, look: SHARE, formula: fromReadings(share.range) } as const] : []),
    { id: 'repaired', part, title: 'Repaired on', width: 11, look: DATE, formula: dayFromReadings('readings_repaired_on') },
  ];
}

function controlColumns(): OneUnitColumn[] {
  const part = 'control';
  const ofDay = (id: string): ((cells: OneUnitCells) => string) => ({ at, all }) => `IF(${at('found')}="","",INDEX(${all(id)},${at('found')}))`;
  const sum = (id: string, sign: '+' | '-'): ((cells: OneUnitCells) => string) => ({ at, above, figure }) =>
    `IF(OR(${at('found')}="",${figure('sigma')}=""),"",MAX(0,${above(id) ?? '0'}${sign}(${at('point_loss')}-${figure('target')})-${figure('slack')}))`;
  return [
    { id: 'point', part, title: 'Day no.', width: 7, look: COUNT, formula: ({ at }) => `IF(${at('found')}="","",${at('place')})` },
    { id: 'point_date', part, title: 'Date', width: 11, look: { ...DATE, bold: true }, formula: ofDay('date') },
    { id: 'point_loss', part, title: 'Loss (median of the day)', width: 11, look: { ...LOSS, bold: true }, formula: ofDay('median') },
    { id: 'moved', part, title: 'Moving range', width: 10, look: LOSS, formula: ({ at, above }) => (above('point_loss') === null ? '""' : `IF(${at('found')}="","",ABS(${at('point_loss')}-${above('point_loss')!}))`) },
    { id: 'high', part, title: 'CUSUM, high side', width: 10, look: LOSS, formula: sum('high', '+') },
    { id: 'low', part, title: 'CUSUM, low side', width: 10, look: LOSS, formula: sum('low', '-') },
  ];
}

function workingColumns(losses: readonly ShownLoss[]): OneUnitColumn[] {
  const part = 'working';
  const count = { ...muted, ...COUNT } as const;
  const loss = { ...muted, ...LOSS } as const;
  const date = { ...muted, ...DATE } as const;
  const width = 10;
  const choose = ({ figure }: OneUnitCells, each: readonly string[]): string => `CHOOSE(${figure('leading')},${each.join(',')})`;
  const ofLeading = (each: (loss: ShownLoss, index: number, cells: OneUnitCells) => string): ((cells: OneUnitCells) => string) => (cells) =>
    `IF(OR(${cells.figure('leading')}="",${cells.at('position')}=""),"",${choose(cells, losses.map((one, index) => each(one, index, cells)))})`;
  return [
    { id: 'place', part, title: 'Row shown', width, look: count, formula: null },
    {
      id: 'order',
      part,
      title: 'Day and row, in order',
      width: 13,
      look: { ...muted, format: '0.0000000', right: true },
      formula: ({ at, figure }) => `IF(${at('place')}>${figure('shown')},"",LARGE(IF(${OWN(figure)}*${COUNTED(figure)},INT(readings_inspected_on)+ROW(readings_unit)/1E7,""),${figure('shown')}-${at('place')}+1))`,
    },
    { id: 'position', part, title: 'Row among the readings', width, look: count, formula: ({ at }) => `IF(${at('order')}="","",ROUND(MOD(${at('order')},1)*1E7,0)-ROW(INDEX(readings_unit,1))+1)` },
    ...losses.map((one, index): OneUnitColumn => ({ id: `decided${index}`, part, title: `${one.title}, if decided`, width: 11, look: loss, formula: decided(one, index) })),
    { id: 'leading_loss', part, title: 'Leading loss, if decided', width: 11, look: loss, formula: ofLeading((_, index, { at }) => at(`decided${index}`)) },
    { id: 'leading_limit', part, title: 'its limit', width, look: loss, formula: ofLeading(({ columns }, index, { at }) => (columns.limit ? at(`limit${index}`) : '""')) },
    { id: 'leading_u', part, title: 'its standard uncertainty', width, look: loss, formula: ofLeading(({ columns }, _, { at }) => (columns.uncertainty ? inReadings(columns.uncertainty.range, at) : '""')) },
    { id: 'retest', part, title: 'Retest (1)', width, look: count, formula: ({ at }) => `IF(${at('position')}="","",IF(${inReadings('readings_retest_of', at)}="",0,1))` },
    {
      id: 'repair',
      part,
      title: 'Repairs, the latest first',
      width: 11,
      look: date,
      rows: MOST_REPAIRS,
      formula: ({ above, figure }) => {
        const before = above('repair');
        return `IF(${before ?? figure('picked')}="","",IFERROR(INT(LARGE(IF(${OWN(figure)}*ISNUMBER(readings_repaired_on)${before === null ? '' : `*(readings_repaired_on<${before})`},readings_repaired_on,""),1)),""))`;
      },
    },
    { id: 'before', part, title: 'Last row before', width, look: count, rows: MOST_REPAIRS, formula: around('LARGE', ({ all, at }) => `(${all('date')}<${at('repair')})+(${all('date')}=${at('repair')})*(${all('retest')}=0)`) },
    { id: 'after', part, title: 'First row after', width, look: count, rows: MOST_REPAIRS, formula: around('SMALL', ({ all, at }) => `(${all('date')}>${at('repair')})+(${all('date')}=${at('repair')})*(${all('retest')}=1)`) },
    { id: 'drop', part, title: 'Loss fell by', width, look: loss, rows: MOST_REPAIRS, formula: ({ at, all }) => `IF(OR(${at('before')}="",${at('after')}=""),"",INDEX(${all('leading_loss')},${at('before')})-INDEX(${all('leading_loss')},${at('after')}))` },
    { id: 'effective', part, title: 'Repair that took effect', width: 11, look: date, rows: MOST_REPAIRS, formula: effective },
    {
      id: 'charted',
      part,
      title: 'Loss since that repair',
      width,
      look: loss,
      formula: ({ at, figure }) => `IF(ISNUMBER(${at('leading_loss')}),IF(ISNUMBER(${figure('since')}),IF((${at('date')}>${figure('since')})+(${at('date')}=${figure('since')})*(${at('retest')}=1)>0,${at('leading_loss')},""),${at('leading_loss')}),"")`,
    },
    {
      id: 'median',
      part,
      title: 'Median of the day, on its last row',
      width: 11,
      look: loss,
      formula: ({ at, all }) => `IF(ISNUMBER(${at('charted')}),IF(SUM((${all('date')}=${at('date')})*ISNUMBER(${all('charted')})*(${all('place')}>${at('place')}))>0,"",MEDIAN(IF(${all('date')}=${at('date')},${all('charted')},""))),"")`,
    },
    { id: 'day_count', part, title: 'Days so far', width, look: count, formula: ({ down }) => `COUNT(${down('median')})` },
    { id: 'found', part, title: 'Row of the day', width, look: count, formula: ({ at, all, figure }) => `IF(${at('place')}>${figure('days')},"",MATCH(${at('place')},${all('day_count')},0))` },
  ];
}

function decided({ columns }: ShownLoss, index: number): (cells: OneUnitCells) => string {
  return ({ at }) => {
    const loss = at(`loss${index}`);
    const number = `IF(ISNUMBER(${loss}),ROUND(${loss},9),"")`;
    if (columns.verdict === null) return number;
    const verdict = inReadings(columns.verdict.range, at);
    return `IF(${at('position')}="","",IF((${verdict}="pass")+(${verdict}="fail")>0,${number},""))`;
  };
}

function around(which: 'LARGE' | 'SMALL', side: (cells: OneUnitCells) => string): (cells: OneUnitCells) => string {
  return (cells) => `IF(${cells.at('repair')}="","",IFERROR(${which}(IF(ISNUMBER(${cells.all('leading_loss')})*(${side(cells)}),${cells.all('place')},""),1),""))`;
}

/** The day of the repair, where the loss fell by more than its gauge explains; see `tookEffect`. */
function effective({ at, all }: OneUnitCells): string {
  const [drop, before, after] = [at('drop'), at('before'), at('after')];
  const [u1, u2] = [`INDEX(${all('leading_u')},${before})`, `INDEX(${all('leading_u')},${after})`];
  const beyondTenth = (row: string, otherwise: string): string => `IF(ISNUMBER(INDEX(${all('leading_limit')},${row})),ROUND(${drop}-0.1*INDEX(${all('leading_limit')},${row}),6)>=0,${otherwise})`;
  const beyondGauge = `ROUND(${drop}-1.645*SQRT(${u1}^2+${u2}^2),6)>0`;
  return `IF(${drop}="","",IF(IF(COUNT(${u1},${u2})=2,${beyondGauge},AND(${drop}>0,${beyondTenth(after, beyondTenth(before, 'TRUE'))})),${at('repair')},""))`;
}

function chartColumns(losses: readonly ShownLoss[]): OneUnitColumn[] {
  const part = 'chart';
  const width = 10;
  const [date, loss, count] = [{ ...muted, ...DATE }, { ...muted, ...LOSS }, { ...muted, ...COUNT }];
  // Rows below the last point repeat it: a text in their place would be drawn as 0.
  const packed = (id: string, of: string, title: string): OneUnitColumn[] => {
    const upTo = ({ at, all, last }: OneUnitCells): string => `MATCH(MIN(${at('place')},${last(`${id}_count`)}),${all(`${id}_count`)},0)`;
    return [
      { id: `${id}_count`, part, title: `${title}: so far`, width, look: count, formula: ({ down }) => `COUNT(${down(of)})` },
      { id: `${id}_x`, part, title: `${title}: date`, width: 11, look: date, formula: (cells) => `IF(${cells.last(`${id}_count`)}=0,${cells.figure('nowhere')},INDEX(${cells.all('date')},${upTo(cells)}))` },
      { id: `${id}_y`, part, title, width: 11, look: loss, formula: (cells) => `IF(${cells.last(`${id}_count`)}=0,${OFF_CHART},INDEX(${cells.all(of)},${upTo(cells)}))` },
    ];
  };
  const ofDay = (id: string, otherwise: (figure: OneUnitCells['figure']) => string): ((cells: OneUnitCells) => string) => ({ at, all, figure }) => `IF(${figure('days')}=0,${otherwise(figure)},INDEX(${all(id)},MIN(${at('place')},${figure('days')})))`;
  const line = (id: string): ((cells: OneUnitCells) => string) => ({ figure }) => `IF(${figure(id)}="",${OFF_CHART},${figure(id)})`;
  return [
    ...losses.flatMap((one, index) => [...packed(`drawn${index}`, `loss${index}`, one.title), ...(one.columns.limit ? packed(`bound${index}`, `limit${index}`, `Limit, ${lowerFirst(one.title)}`) : [])]),
    { id: 'control_x', part, title: 'Control chart: date', width: 11, look: date, formula: ofDay('point_date', (figure) => figure('nowhere')) },
    { id: 'control_y', part, title: 'Leading loss', width, look: loss, formula: ofDay('point_loss', () => String(OFF_CHART)) },
    { id: 'control_centre', part, title: 'Centre', width, look: loss, formula: line('centre') },
    { id: 'control_upper', part, title: 'Upper limit', width, look: loss, formula: line('upper') },
    { id: 'cusum_y', part, title: 'CUSUM, high side', width, look: loss, formula: ({ at, all, figure }) => `IF(${figure('decision')}="",${OFF_CHART},INDEX(${all('high')},MIN(${at('place')},${figure('days')})))` },
    { id: 'cusum_limit', part, title: 'CUSUM limit', width, look: loss, formula: line('decision') },
  ];
}

function lowerFirst(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}

