import type { FillValue } from '../../formats/xlsx-package/assemble-xlsx.js';
import { controlChart } from '../../fleet/control-chart.js';
import type { Evaluation } from '../../fleet/evaluation.js';
import { lossSeries } from '../../fleet/loss-series.js';
import { isBeforeRepair, tookEffect } from '../../fleet/repairs.js';
import { UnitHistory } from '../../fleet/unit-history.js';
import type { LossReading, UnitRecord } from '../../fleet/unit-record.js';
import { UnitRecorder } from '../../fleet/unit-recorder.js';
import type { LimitPlan } from '../../limits/compile-limit-set.js';
import { OVERALL_VERDICT } from '../../limits/overall-trees.js';
import { toShown } from '../../limits/shown-pressure.js';
import { isoDateToSerial } from '../../readings/date-serial.js';
import { fieldPosition } from '../../readings/dictionary.js';
import { computedCell } from '../cell-values.js';
import { addChartValues, countsDown } from './one-unit-chart-values.js';
import { FROM_THE_FIRST, TOO_FEW } from './one-unit-figures.js';
import { computedColumn, type LossColumn, type ShownLoss } from './one-unit-losses.js';
import { LEAST_CHARTED, MOST_REPAIRS, MOST_SHOWN } from './one-unit-places.js';

/** What the cells of the sheet One unit hold: the rows of each column, and the figures. A null is an empty text. */
export interface OneUnitView {
  readonly column: (id: string) => readonly FillValue[];
  readonly figure: (id: string) => FillValue;
}

/** Of what the view is made. */
export interface OneUnitSource {
  readonly plan: LimitPlan;
  readonly losses: readonly ShownLoss[];
  readonly evaluations: readonly Evaluation[];
  /** The first row of the sheet Readings. */
  readonly firstRow: number;
  /** Null where none is chosen. */
  readonly unit: string | null;
  /** The last day that is shown, `yyyy-mm-dd`; null for all. */
  readonly upTo: string | null;
}

interface Shown {
  /** Among the rows of Readings, 1 is the first. */
  readonly position: number;
  readonly evaluation: Evaluation;
  readonly record: UnitRecord;
}

/** Computes what the formulas of the sheet One unit compute, by the rules of the fleet. */
export function oneUnitView(source: OneUnitSource): OneUnitView {
  const { plan, losses, evaluations } = source;
  const { rows, inspections, repairs } = rowsOf(source);
  const columns = new Map<string, readonly FillValue[]>();
  const figures = new Map<string, FillValue>();
  const text = (evaluation: Evaluation, name: string): string | null => evaluation.inspection.values[fieldPosition(plan.dictionary, name)] as string | null;
  const computed = (evaluation: Evaluation, column: LossColumn | null): FillValue => (column === null ? null : computedCell(evaluation.computed[column.index] ?? null));
  const add = (id: string, values: readonly FillValue[]): void => void columns.set(id, values);
  const share = computedColumn(plan, 'leak_share');

  add('place', Array.from({ length: MOST_SHOWN }, (_, index) => index + 1));
  add('order', rows.map(({ record, position }) => serial(record.on)! + (source.firstRow + position - 1) / 1e7));
  add('position', rows.map(({ position }) => position));
  add('number', rows.map((_, index) => inspections - rows.length + index + 1));
  add('date', rows.map(({ record }) => serial(record.on)));
  add('inspection', rows.map(({ evaluation }) => evaluation.inspection_id));
  add('verdict', rows.map(({ evaluation }) => evaluation.computed[plan.columns.findIndex(({ id }) => id === OVERALL_VERDICT)] as string));
  add('share', rows.map(({ evaluation }) => computed(evaluation, share)));
  add('repaired', rows.map(({ evaluation }) => serial(text(evaluation, 'repaired_on'))));
  for (const [index, { columns: of }] of losses.entries()) {
    add(`loss${index}`, rows.map(({ evaluation }) => computed(evaluation, of.shownValue)));
    add(`limit${index}`, rows.map(({ evaluation }) => computed(evaluation, of.shownLimit)));
    add(`decided${index}`, rows.map(({ record }) => record.losses[index]?.value ?? null));
  }

  const records = rows.map(({ record }) => record);
  const shareRow = records.findLastIndex(({ leakShare }) => leakShare !== null);
  const measured = losses.map((_, index) => records.findLast((record) => record.losses[index] != null)?.on ?? null);
  const leading = (shareRow < 0 ? null : records[shareRow]!.leading) ?? lastMeasured(measured);
  const readings = records.map((record) => (leading === null ? null : record.losses[leading] ?? null));
  add('leading_loss', readings.map((reading) => reading?.value ?? null));
  add('leading_limit', rows.map(({ evaluation }) => (leading === null ? null : computed(evaluation, losses[leading]!.columns.limit))));
  add('leading_u', rows.map(({ evaluation }) => (leading === null ? null : computed(evaluation, losses[leading]!.columns.uncertainty))));
  add('retest', records.map(({ isRetest }) => (isRetest ? 1 : 0)));

  const tried = repairs.slice(-MOST_REPAIRS).reverse().map((repair) => tryRepair(repair, records, readings));
  add('repair', tried.map(({ repair }) => serial(repair)));
  add('before', tried.map(({ before }) => before));
  add('after', tried.map(({ after }) => after));
  add('drop', tried.map(({ drop }) => drop));
  add('effective', tried.map(({ effective, repair }) => (effective ? serial(repair) : null)));
  const since = tried.find(({ effective }) => effective)?.repair ?? null;

  const series = leading === null ? null : lossSeries(records, leading, since);
  const [dates, computedDays] = [series?.dates ?? [], series?.losses ?? []];
  const days = computedDays.map((loss) => toShown(loss, losses[leading!]!.unit, plan)!);
  const charted = records.map((record, index) => (readings[index] && (since === null || !isBeforeRepair(record, since)) ? readings[index].value : null));
  const lastOfDay = new Map(records.flatMap((record, index) => (charted[index] === null ? [] : [[record.on, index] as const])));
  add('charted', charted);
  add('median', records.map((record, index) => (lastOfDay.get(record.on) === index ? computedDays[dates.indexOf(record.on)]! : null)));
  add('day_count', countsDown(columns.get('median')!));
  add('found', dates.map((date) => lastOfDay.get(date)! + 1));
  add('point', dates.map((_, index) => index + 1));
  add('point_date', dates.map(serial));
  add('point_loss', days);
  add('moved', days.map((loss, index) => (index === 0 ? null : Math.abs(loss - days[index - 1]!))));
  const chart = controlChart(days);
  add('high', chart?.cusum_high ?? []);
  add('low', chart?.cusum_low ?? []);

  const sum = (columns.get('moved') as (number | null)[]).reduce<number>((all, moved) => all + (moved ?? 0), 0);
  const meanMoved = chart === null ? null : sum / (days.length - 1);
  const sigma = meanMoved === null ? null : meanMoved / 1.128;
  const set = (id: string, value: FillValue): void => void figures.set(id, value);
  set('picked', source.unit);
  set('inspections', inspections);
  set('shown', rows.length);
  set('leading_title', leading === null ? null : losses[leading]!.title);
  set('since', leading === null ? null : since === null ? FROM_THE_FIRST : serial(since));
  set('days', days.length);
  set('centre', chart?.centre ?? null);
  set('mean_moved', meanMoved);
  set('sigma', sigma);
  set('upper', chart?.upper ?? null);
  set('lower', chart?.lower ?? null);
  set('target', chart?.cusum_target ?? null);
  set('slack', sigma === null ? null : 0.5 * sigma);
  set('decision', chart?.cusum_limit ?? null);
  set('signal', leading === null ? null : days.length < LEAST_CHARTED ? TOO_FEW : chart!.signals.join('; '));
  set('share_row', shareRow < 0 ? null : shareRow + 1);
  for (const [index, { columns: of }] of losses.entries()) {
    set(`share${index}`, shareRow < 0 ? null : computed(rows[shareRow]!.evaluation, of.share));
    set(`measured${index}`, serial(measured[index]!));
  }
  set('leading', leading === null ? null : leading + 1);
  const dated = evaluations.flatMap(({ inspected_on: on }) => serial(on) ?? []);
  set('nowhere', rows.length > 0 ? serial(records.at(-1)!.on) : dated.reduce((latest, day) => Math.max(latest, day), 0));
  addChartValues({ columns, figures, losses });
  return { column: (id) => columns.get(id) ?? [], figure: (id) => figures.get(id) ?? null };
}

function rowsOf({ plan, evaluations, unit, upTo }: OneUnitSource): { readonly rows: readonly Shown[]; readonly inspections: number; readonly repairs: readonly string[] } {
  if (unit === null) return { rows: [], inspections: 0, repairs: [] };
  const recorder = new UnitRecorder(plan);
  const history = new UnitHistory(unit, recorder);
  const places = new Map<number, { readonly position: number; readonly evaluation: Evaluation }>();
  const repairs = new Set<string>();
  for (const [index, evaluation] of evaluations.entries()) {
    if (evaluation.unit?.toLowerCase() !== unit.toLowerCase()) continue;
    const repaired = recorder.field(evaluation, 'repaired_on');
    if (repaired !== null && isoDateToSerial(repaired) !== null) repairs.add(repaired);
    const on = evaluation.inspected_on;
    if (on === null || isoDateToSerial(on) === null || (upTo !== null && on > upTo)) continue;
    history.add(evaluation);
    places.set(evaluation.row, { position: index + 1, evaluation });
  }
  const records = history.records();
  return { rows: records.slice(-MOST_SHOWN).map((record) => ({ record, ...places.get(record.row)! })), inspections: records.length, repairs: [...repairs].sort() };
}

/** The number of the loss that was decided last; the first of several. */
function lastMeasured(days: readonly (string | null)[]): number | null {
  const latest = days.reduce<string | null>((last, day) => (day !== null && (last === null || day > last) ? day : last), null);
  return latest === null ? null : days.indexOf(latest);
}

interface TriedRepair {
  readonly repair: string;
  readonly before: number | null;
  readonly after: number | null;
  readonly drop: number | null;
  readonly effective: boolean;
}

function tryRepair(repair: string, records: readonly UnitRecord[], readings: readonly (LossReading | null)[]): TriedRepair {
  const side = (before: boolean) => (record: UnitRecord, index: number): boolean => readings[index] !== null && isBeforeRepair(record, repair) === before;
  const [before, after] = [records.findLastIndex(side(true)), records.findIndex(side(false))];
  const both = before >= 0 && after >= 0;
  return {
    repair,
    before: before < 0 ? null : before + 1,
    after: after < 0 ? null : after + 1,
    drop: both ? readings[before]!.value - readings[after]!.value : null,
    effective: both && tookEffect(readings[before]!, readings[after]!),
  };
}

function serial(iso: string | null): number | null {
  return iso === null ? null : isoDateToSerial(iso);
}
