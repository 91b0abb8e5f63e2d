import type { LimitPlan } from '../../limits/compile-limit-set.js';
import { COUNT, DATE, inReadings, type OneUnitCells, type OneUnitColumn } from './one-unit-cells.js';
import { oneUnitChartColumns } from './one-unit-chart-columns.js';
import { computedColumn, leadingDivisor, type ShownLoss } from './one-unit-losses.js';
import { oneUnitWorkingColumns } from './one-unit-working-columns.js';

const SHARE = { format: '0 %', right: true } as const;

const fromReadings = (range: string): ((cells: OneUnitCells) => string) => ({ at }) => `IF(${at('position')}="","",${inReadings(range, at)})`;
const dayFromReadings = (range: string): ((cells: OneUnitCells) => string) => ({ at }) => `IF(${at('position')}="","",IF(ISNUMBER(${inReadings(range, at)}),INT(${inReadings(range, at)}),""))`;

/** All columns that have a row for each of the inspections shown, from the left. */
export function oneUnitColumns(plan: LimitPlan, losses: readonly ShownLoss[]): readonly OneUnitColumn[] {
  return [...inspectionColumns(plan, losses), ...controlColumns(losses), ...oneUnitWorkingColumns(losses), ...oneUnitChartColumns(losses)];
}

function inspectionColumns(plan: LimitPlan, losses: readonly ShownLoss[]): OneUnitColumn[] {
  const part = 'inspections';
  const share = computedColumn(plan, 'leak_share');
  const ofLoss = (loss: ShownLoss, index: number): OneUnitColumn[] => {
    const { shownValue: value, shownLimit: limit } = loss.columns;
    return [
      { id: `loss${index}`, part, title: `${loss.title} (${loss.shownUnit})`, width: 11, look: { ...loss.look, bold: true }, formula: fromReadings(value!.range) },
      ...(limit ? [{ id: `limit${index}`, part, title: `its limit (${loss.shownUnit})`, width: 9, look: loss.look, formula: fromReadings(limit.range) } as const] : []),
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

function controlColumns(losses: readonly ShownLoss[]): OneUnitColumn[] {
  const part = 'control';
  const { look } = losses[0]!;
  const ofDay = (id: string): ((cells: OneUnitCells) => string) => ({ at, all }) => `IF(${at('found')}="","",INDEX(${all(id)},${at('found')}))`;
  const shownOfDay: OneUnitColumn['formula'] = (cells) => {
    const divisor = leadingDivisor(losses, cells.figure('leading'));
    if (divisor === null) return ofDay('median')(cells);
    return `IF(${cells.at('found')}="","",INDEX(${cells.all('median')},${cells.at('found')})/${divisor})`;
  };
  const sum = (id: string, sign: '+' | '-'): ((cells: OneUnitCells) => string) => ({ at, above, figure }) =>
    `IF(OR(${at('found')}="",${figure('sigma')}=""),"",MAX(0,${above(id) ?? '0'}${sign}(${at('point_loss')}-${figure('target')})-${figure('slack')}))`;
  return [
    { id: 'point', part, title: 'Day no.', width: 7, look: COUNT, formula: ({ at }) => `IF(${at('found')}="","",${at('place')})` },
    { id: 'point_date', part, title: 'Date', width: 11, look: { ...DATE, bold: true }, formula: ofDay('date') },
    { id: 'point_loss', part, title: 'Loss (median of the day)', width: 11, look: { ...look, bold: true }, formula: shownOfDay },
    { id: 'moved', part, title: 'Moving range', width: 10, look, formula: ({ at, above }) => (above('point_loss') === null ? '""' : `IF(${at('found')}="","",ABS(${at('point_loss')}-${above('point_loss')!}))`) },
    { id: 'high', part, title: 'CUSUM, high side', width: 10, look, formula: sum('high', '+') },
    { id: 'low', part, title: 'CUSUM, low side', width: 10, look, formula: sum('low', '-') },
  ];
}
