import type { FillValue } from '../../formats/xlsx-package/assemble-xlsx.js';
import type { LossTrend, UnitSummary } from '../../fleet/unit-summary.js';
import type { LimitPlan } from '../../limits/compile-limit-set.js';
import { LEAK_SHARE } from '../../limits/overall-trees.js';
import { toShown, unitShown } from '../../limits/shown-pressure.js';
import { fieldPosition } from '../../readings/dictionary.js';
import { isoDateToSerial } from '../../readings/date-serial.js';
import type { CellLook } from '../cell-styles.js';
import { LOSS_FORMATS } from '../loss-formats.js';
import { PALETTE } from '../palette.js';
import { shownRange } from '../shown-range.js';
import type { TableColumn } from '../write-table.js';
import { choiceOfLatest, entryOfLatest, highestOf, nextDue, ofLatest, openFormulas, openSinceOf, UNIT_FORMULAS, type UnitFormula } from './unit-formulas.js';
import { decidedChecks, type UnitRows } from './unit-rows.js';
import { BUILDUP_TITLE } from './unit-places.js';
import { REACHED, repairedSince, toDo } from './unit-to-do.js';

/** A unit, and where its rows stand. */
export interface UnitLine {
  readonly unit: UnitSummary;
  readonly rows: UnitRows;
}

/** A column of the sheet Units. */
export interface UnitColumn extends TableColumn {
  readonly name: string;
  /** The heading above the column's neighbours and itself. */
  readonly group: string;
  readonly value: (line: UnitLine) => FillValue;
  /** Null where a value stands that no formula can give. */
  readonly formula: UnitFormula | null;
}

const DATE: CellLook = { format: 'yyyy-mm-dd', centre: true };
const SHARE: CellLook = { format: '0 %', right: true };
const COUNT: CellLook = { format: '0', right: true };
const WORDS: CellLook = { wrap: true };
/** Names of the columns of the day since which each check is open. */
const openColumn = (check: string): string => `open_since_${check}`;

/**
 * The columns of the sheet Units, from the left: what matters most first. Those that only the sheet itself needs are in
 * `ownUseColumns`.
 */
export function unitColumns(plan: LimitPlan): readonly UnitColumn[] {
  const checks = decidedChecks(plan);
  const open = checks.length === 0 ? null : openFormulas(new Map(checks.map(({ check }) => [check, openColumn(check)])));
  const shared = <T>(formula: T): T | null => (plan.columns.some(({ id }) => id === LEAK_SHARE) ? formula : null);
  const kinds = plan.dictionary.fields[fieldPosition(plan.dictionary, 'vehicle_kind')]!.choices ?? [];
  const f = UNIT_FORMULAS;
  const per90 = `per 90 days (${slopeUnit(plan)})`;
  const perMinute = unitShown('psi/min', plan.shownPressure);
  const inShown = (value: number | null): number | null => toShown(value, 'psi/min', plan);
  const { brief, change } = LOSS_FORMATS[plan.shownPressure];
  const loss: CellLook = { format: brief, right: true };
  const slope: CellLook = { format: change, right: true };
  const what = 'How it stands, and what to do';
  const trend = 'Trend (value)';
  const failure = 'Open failure';
  const next = 'Next inspection';
  const vehicle = 'The unit';
  const all = 'Its inspections';
  const course = 'Course of its leading loss since the last repair that took effect (values)';
  const repair = 'Last repair';
  const diagnosis = 'Diagnosis, never the verdict';
  return [
    { name: 'unit', group: 'Which unit', title: 'Unit', width: 12, look: { bold: true, format: '@' }, value: ({ unit }) => unit.unit, formula: null },
    { name: 'verdict', group: what, title: 'Latest verdict', width: 11, look: { centre: true }, value: ({ unit }) => unit.latest_verdict, formula: ofLatest('computed_verdict') },
    { name: 'share_now', group: what, title: 'Worst share of a leak\'s limit now', width: 11.5, look: { format: '0 %', centre: true, bold: true }, value: ({ unit }) => unit.share_now, formula: shared(f.share_now) },
    { name: 'to_do', group: what, title: 'What to do', width: 44, look: { ...WORDS, bold: true }, value: ({ unit, rows }) => toDo(unit, repairedSince(unit, rows)), formula: f.to_do },
    { name: 'turn', group: what, title: 'In this order', width: 7.5, look: { format: '0', centre: true }, value: () => null, formula: f.turn },
    { name: 'trend', group: trend, title: 'Trend', width: 18, look: WORDS, value: ofTrend((one) => one.direction), formula: null },
    { name: 'crosses_on', group: trend, title: 'Reaches its limit on', width: 12.5, look: DATE, value: ofTrend(crossing), formula: null },
    { name: 'open_checks', group: failure, title: 'Checks', width: 34, look: { ...WORDS, size: 9 }, value: ({ unit }) => unit.open_checks.join('; '), formula: open && open.open_checks },
    { name: 'open_since', group: failure, title: 'Open since', width: 11, look: DATE, value: ({ unit }) => serial(unit.open_since), formula: open && open.open_since },
    { name: 'days_open', group: failure, title: 'Days open', width: 8, look: COUNT, value: ({ unit }) => unit.days_open, formula: f.days_open },
    { name: 'next_due', group: next, title: 'Next due', width: 11, look: DATE, value: ({ unit }) => serial(unit.next_due), formula: nextDue(plan) },
    { name: 'overdue_days', group: next, title: 'Overdue days', width: 9, look: COUNT, value: ({ unit }) => unit.overdue_days, formula: f.overdue_days },
    { name: 'kind', group: vehicle, title: 'Kind', width: 10, value: ({ unit }) => unit.vehicle_kind, formula: choiceOfLatest('readings_vehicle_kind', kinds) },
    { name: 'site', group: vehicle, title: 'Site', width: 16, value: ({ unit }) => unit.site, formula: entryOfLatest('readings_site') },
    { name: 'latest_on', group: all, title: 'Latest inspection', width: 11, look: DATE, value: ({ unit }) => serial(unit.latest_on), formula: f.latest_on },
    { name: 'share_on', group: all, title: 'Share now is of, if older', width: 11, look: { ...DATE, size: 8 }, value: ({ unit }) => (unit.share_now_on === unit.latest_on ? null : serial(unit.share_now_on)), formula: shared(f.share_on) },
    { name: 'inspections', group: all, title: 'Inspections', width: 11, look: COUNT, value: ({ unit }) => unit.inspections, formula: f.inspections },
    { name: 'failed', group: all, title: 'Failed', width: 7.5, look: COUNT, value: ({ unit }) => unit.failed, formula: f.failed },
    { name: 'worst_share', group: all, title: 'Worst share ever', width: 9, look: SHARE, value: ({ unit }) => unit.worst_share, formula: shared(highestOf('computed_leak_share')) },
    { name: 'latest_released', group: all, title: `Latest released loss (${perMinute})`, width: 11, look: loss, value: ({ unit }) => inShown(unit.latest_released_loss), formula: ofLatest(shownRange(plan, 'released_loss')) },
    { name: 'worst_released', group: all, title: `Worst released loss (${perMinute})`, width: 11, look: loss, value: ({ unit }) => inShown(unit.worst_released_loss), formula: highestOf(shownRange(plan, 'released_loss')) },
    { name: 'latest_applied', group: all, title: `Latest applied loss (${perMinute})`, width: 11, look: loss, value: ({ unit }) => inShown(unit.latest_applied_loss), formula: ofLatest(shownRange(plan, 'applied_loss')) },
    { name: 'worst_applied', group: all, title: `Worst applied loss (${perMinute})`, width: 11, look: loss, value: ({ unit }) => inShown(unit.worst_applied_loss), formula: highestOf(shownRange(plan, 'applied_loss')) },
    { name: 'trend_of', group: course, title: 'Leading loss', width: 18, look: WORDS, value: ({ unit }) => titleOf(plan, unit.trend_of), formula: null },
    { name: 'slope', group: course, title: `Change ${per90}`, width: 11, look: slope, value: ofTrend((one) => toShown(one.slope_per_90_days, one.unit, plan)), formula: null },
    { name: 'slope_low', group: course, title: '95 % interval, from', width: 10, look: slope, value: ofTrend((one) => toShown(one.slope_low, one.unit, plan)), formula: null },
    { name: 'slope_high', group: course, title: '95 % interval, to', width: 10, look: slope, value: ofTrend((one) => toShown(one.slope_high, one.unit, plan)), formula: null },
    { name: 'p', group: course, title: 'Mann-Kendall p', width: 9, look: { format: '0.000', right: true }, value: ofTrend((one) => one.p), formula: null },
    { name: 'signal', group: course, title: 'Its own control chart says', width: 26, look: WORDS, value: ofTrend((one) => (one.control ? one.control.signals.join('; ') : 'too few inspections')), formula: null },
    { name: 'last_repair_on', group: repair, title: 'Repaired on', width: 11, look: DATE, value: ({ unit }) => serial(unit.last_repair_on), formula: f.last_repair_on },
    { name: 'share_before', group: repair, title: 'Share before', width: 8.5, look: SHARE, value: ({ unit }) => unit.share_before_repair, formula: shared(f.share_before) },
    { name: 'share_after', group: repair, title: 'Share after', width: 8.5, look: SHARE, value: ({ unit }) => unit.share_after_repair, formula: shared(f.share_after) },
    ...checks.map(({ check, title }, index): UnitColumn => ({ name: openColumn(check), group: 'Open since, by check', title, width: 12, look: DATE, value: ({ rows }) => serial(rows.openSince[index] ?? null), formula: openSinceOf(check) })),
    { name: 'buildup_explained', group: diagnosis, title: BUILDUP_TITLE, width: 44, look: { ...WORDS, size: 9 }, value: ({ unit }) => unit.buildup_explained, formula: null },
  ];
}

/** The columns that the sheets Units and Open work reckon with, at the far right. */
export function ownUseColumns(plan: LimitPlan): readonly UnitColumn[] {
  const group = 'For the sheets\' own use: rows among the readings (1 is the first), and the order of What to do';
  const look: CellLook = { ...PALETTE.name, size: 8, right: true, format: '0' };
  const checks = decidedChecks(plan);
  const open = checks.length === 0 ? null : openFormulas(new Map(checks.map(({ check }) => [check, openColumn(check)])));
  const hasShare = plan.columns.some(({ id }) => id === LEAK_SHARE);
  return [
    { name: 'latest_at', group, title: 'Row of latest inspection', width: 9, look, value: ({ rows }) => rows.latest, formula: UNIT_FORMULAS.latest_at },
    { name: 'share_at', group, title: 'Row of share now', width: 9, look, value: ({ rows }) => rows.share, formula: hasShare ? UNIT_FORMULAS.share_at : null },
    { name: 'open_at', group, title: 'Row of open failure', width: 9, look, value: ({ rows }) => rows.open, formula: open && open.open_at },
    { name: 'urgency', group, title: 'Order of What to do', width: 13, look: { ...look, format: '0.000000' }, value: () => null, formula: UNIT_FORMULAS.urgency },
  ];
}

function serial(iso: string | null): number | null {
  return iso === null ? null : isoDateToSerial(iso);
}

function ofTrend(value: (trend: LossTrend) => FillValue): UnitColumn['value'] {
  return ({ unit }) => (unit.trends[0] ? value(unit.trends[0]) : null);
}

/** The day, or the words where there is no day to show; blank where the loss does not rise. */
function crossing({ crosses_on, crossing: words, direction }: LossTrend): FillValue {
  if (direction !== 'rising') return null;
  return crosses_on === null ? words : isoDateToSerial(crosses_on);
}

function titleOf(plan: LimitPlan, measure: string | null): string | null {
  return plan.measures.find((one) => one.measure.measure === measure)?.measure.title ?? measure;
}

function slopeUnit({ measures, shownPressure }: LimitPlan): string {
  const units = new Set(measures.filter(({ measure }) => measure.ranks_units).map(({ measure }) => unitShown(measure.unit, shownPressure)));
  return units.size === 1 ? [...units][0]! : 'unit of the loss';
}

/**
 * How urgent a unit is: the lower, the sooner. Null when there is nothing to do.
 *
 * @param place its place in the table, 1 is the first
 */
export function urgencyOf({ unit }: Pick<UnitLine, 'unit'>, place: number): number | null {
  if (toDo(unit, false) === '') return null;
  const trend = unit.trends[0];
  const open = serial(unit.open_since);
  const crosses = trend?.direction === 'rising' ? serial(trend.crosses_on) : null;
  const reached = trend?.direction === 'rising' && trend.crossing === REACHED;
  return (open ?? (crosses !== null ? 1e6 + crosses : reached ? 1e6 : 2e6 - (unit.overdue_days ?? 0))) + place / 1e6;
}
