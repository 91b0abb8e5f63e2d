import type { FillValue } from '../../formats/xlsx-package/assemble-xlsx.js';
import type { ShownLoss } from './one-unit-losses.js';
import { LEAST_ROOM, MOST_SHOWN, OFF_CHART, ROOM } from './one-unit-places.js';

/** Adds the columns that the charts are drawn from, see `one-unit-chart-columns.ts`. */
export function addChartValues({ columns, figures, losses }: { readonly columns: Map<string, readonly FillValue[]>; readonly figures: ReadonlyMap<string, FillValue>; readonly losses: readonly ShownLoss[] }): void {
  const repeated = (values: readonly FillValue[], otherwise: FillValue): FillValue[] => Array.from({ length: MOST_SHOWN }, (_, index) => (values.length === 0 ? otherwise : (values[Math.min(index, values.length - 1)] ?? null)));
  const nowhere = figures.get('nowhere')!;
  const edge = spanOf(columns.get('date')!, nowhere as number)[1];
  const packed = (id: string, of: string, after: number | null): void => {
    const values = columns.get(of)!;
    const points = values.flatMap((value, index) => (typeof value === 'number' ? [{ value, date: columns.get('date')![index]! }] : []));
    columns.set(`${id}_count`, countsDown(values));
    const days = points.map(({ date }) => date);
    columns.set(`${id}_x`, repeated(after === null || days.length === 0 || days.length >= MOST_SHOWN ? days : [...days, after], nowhere));
    columns.set(`${id}_y`, repeated(points.map(({ value }) => value), OFF_CHART));
  };
  for (const index of losses.keys()) {
    packed(`drawn${index}`, `loss${index}`, null);
    packed(`bound${index}`, `limit${index}`, edge);
  }
  const line = (id: string): FillValue[] => repeated([], figures.get(id) ?? OFF_CHART);
  columns.set('control_x', repeated(columns.get('point_date')!, nowhere));
  columns.set('control_y', repeated(columns.get('point_loss')!, OFF_CHART));
  columns.set('control_centre', line('centre'));
  columns.set('control_upper', line('upper'));
  columns.set('cusum_y', repeated(figures.get('decision') === null ? [] : columns.get('high')!, OFF_CHART));
  columns.set('cusum_limit', line('decision'));
  columns.set('frame_x', spanOf(columns.get('date')!, nowhere as number));
  columns.set('control_frame_x', spanOf(columns.get('point_date')!, nowhere as number));
  columns.set('frame_y', [0, 0]);
}

function spanOf(values: readonly FillValue[], nowhere: number): [number, number] {
  const days = values.filter((value) => typeof value === 'number');
  if (days.length === 0) return [Math.max(0, nowhere - LEAST_ROOM), nowhere + LEAST_ROOM];
  const [first, last] = [Math.min(...days), Math.max(...days)];
  const room = Math.max(LEAST_ROOM, Math.round(ROOM * (last - first)));
  return [first - room, last + room];
}

/** How many numbers there are down to each row. */
export function countsDown(values: readonly FillValue[]): number[] {
  let count = 0;
  return Array.from({ length: MOST_SHOWN }, (_, index) => (typeof values[index] === 'number' ? (count += 1) : count));
}
