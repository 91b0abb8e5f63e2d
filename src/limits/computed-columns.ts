import { nameOf, type Tree } from '../expressions/tree.js';
import type { Dictionary } from '../readings/dictionary.js';
import type { PressureUnit } from '../readings/pressure-units.js';
import { COMPUTED_PREFIX } from '../readings/table-names.js';
import { borderMeasures, borderName, borderTree, DISAGREEMENT, disagreementTree } from './border-trees.js';
import { chanceTree } from './chance-tree.js';
import { checkName, part as partOf, shownName, type CheckPart } from './check-names.js';
import { checkOnCircuitTree, circuitVerdictTree, type CircuitPlan } from './circuit-trees.js';
import type { CheckPlan } from './compile-checks.js';
import type { MeasurePlan } from './compile-measures.js';
import type { ComputedBand, ComputedColumn, ComputedFormat } from './computed-column.js';
import type { LikelyPlacePlan } from './likely-place-tree.js';
import { limitTree } from './limit-tree.js';
import { LEAK_SHARE, leakShareTree, OVERALL_REASON, OVERALL_VERDICT, overallReasonTree, overallVerdictTree, reasonParts, wholeVerdictTree } from './overall-trees.js';
import { reasonTree } from './reason-tree.js';
import { recheckTree } from './recheck-tree.js';
import type { SetPart } from './set-parts.js';
import { shareTree } from './share-tree.js';
import { isPressure, shownTree, unitShown } from './shown-pressure.js';
import { uncertaintyName } from './uncertainty-tree.js';
import { verdictAloneTree, verdictTree } from './verdict-tree.js';
import { topicName, topicsOf, topicTree, WHERE_TO_LOOK, whereToLookTree } from './where-to-look-tree.js';
import { workingColumns } from './working-columns.js';

/** What columns are computed from. */
export interface ColumnSources {
  readonly dictionary: Dictionary;
  /** Names of the optional columns that take part. */
  readonly optionalColumns: ReadonlySet<string>;
  readonly measures: readonly MeasurePlan[];
  readonly checks: readonly CheckPlan[];
  readonly circuits: readonly CircuitPlan[];
  readonly likelyPlaces: readonly LikelyPlacePlan[];
  readonly sets: readonly SetPart[];
  /** The unit in which pressures are shown. */
  readonly shown: PressureUnit;
}

/** Every computed column of a limit set, in the order of computation: each needs only what stands before it. */
export function computedColumns({ dictionary, optionalColumns, measures, checks, circuits, likelyPlaces, sets, shown }: ColumnSources): ComputedColumn[] {
  const leakShare = leakShareTree(checks);
  const topics = topicsOf(likelyPlaces);
  const several = sets.length > 1;
  const borders = several ? borderMeasures(sets) : [];
  return [
    ...workingColumns(dictionary, optionalColumns),
    ...measures.flatMap((plan) => measureColumns(plan, shown)),
    ...measures.filter((plan) => plan.uncertainty).map(uncertaintyColumn),
    ...checks.flatMap((check, at) => [...routesBefore(check, at, checks).flatMap((route) => columnsOf(route, { dictionary, shown }, FOUND)), ...columnsOf(check, { dictionary, shown }, check.eitherOf === null ? [...FOUND, ...SAID] : SAID)]),
    ...circuits.flatMap(circuitCheckColumns),
    ...topics.map((topic) => column(topicName(topic), `places_${topic}`, `Where to look: ${topic.replaceAll('_', ' ')}`, 'working', 'text', topicTree(topic, likelyPlaces), 24)),
    ...borders.map((plan) => column(borderName(plan.measure.measure), `borders_${plan.measure.measure}`, `Borders: ${plan.measure.title}`, 'working', 'text', borderTree(plan, sets, shown), 24)),
    ...reasonParts(checks).flatMap(({ id, tree }, at) => (id === null ? [] : [column(id, `reason_part_${at + 1}`, `Reason, part ${at + 1}`, 'working', 'text', tree, 24)])),
    ...(several ? sets.map((part) => column(part.column, `${part.set.id.replaceAll('-', '_')}_verdict`, part.label, 'result', 'verdict', overallVerdictTree(part.checks), 11)) : []),
    column(OVERALL_VERDICT, 'verdict', 'Verdict', 'result', 'verdict', several ? wholeVerdictTree(sets) : overallVerdictTree(checks), 11),
    ...(several ? [column(DISAGREEMENT, 'where_the_sets_disagree', 'Where the sets disagree', 'result', 'sentence', disagreementTree(borders), 60)] : []),
    ...circuits.map((circuit) => column(circuit.column, `${circuit.circuit}_circuit_verdict`, circuit.title, 'result', 'verdict', circuitVerdictTree(circuit), 10)),
    ...(leakShare ? [column(LEAK_SHARE, 'leak_share', 'Worst share of leak limit', 'result', 'share', leakShare, 10)] : []),
    column(OVERALL_REASON, 'reason', 'Reason', 'result', 'sentence', overallReasonTree(checks), 105),
    column(WHERE_TO_LOOK, 'where_to_look', 'Where to look first', 'result', 'sentence', whereToLookTree(topics), 80),
  ];
}

function column(id: string, name: string, title: string, band: ComputedColumn['band'], format: ComputedFormat, tree: NonNullable<ComputedColumn['tree']>, width: number, decimals = 2): ComputedColumn {
  return { id, name: COMPUTED_PREFIX + name, title, band, type: tree.type, format, width, decimals, tree };
}

const DECIMALS: Readonly<Record<string, number>> = { s: 0, psi: 1, 'L/min': 1, min: 1, kPa: 0, 'kPa/min': 1, 'kPa/s': 1, 'bar/min': 3, 'bar/s': 3 };

/** Decimals shown of a measure by its unit. */
function decimalsOf(unit: string): number {
  return DECIMALS[unit] ?? 2;
}

/** The column of a measure; of a pressure that is shown in another unit than psi, the one that is computed with, and the one that is shown. */
function measureColumns(plan: MeasurePlan, shown: PressureUnit): ComputedColumn[] {
  const { measure, title, unit, diagnosis } = plan.measure;
  const inUnit = (shownUnit: string): string => (shownUnit === '' || shownUnit === 'share' ? title : `${title} (${shownUnit})`);
  const band = diagnosis ? 'diagnosis' : 'measures';
  if (!isConverted(plan, shown)) return [column(plan.name, measure, inUnit(unit), band, unit === 'share' ? 'share' : plan.type === 'number' ? 'number' : 'text', plan.tree, 11, decimalsOf(unit))];
  const shownUnit = unitShown(unit, shown);
  return [
    column(plan.name, measure, inUnit(unit), 'working', 'number', plan.tree, 11, decimalsOf(unit)),
    column(shownName(plan.name), `${measure}_shown`, inUnit(shownUnit), band, 'number', shownTree(nameOf(plan.name, 'number'), unit, shown), 11, decimalsOf(shownUnit)),
  ];
}

function isConverted({ type, measure }: MeasurePlan, shown: PressureUnit): boolean {
  return shown !== 'psi' && type === 'number' && isPressure(measure.unit);
}

function uncertaintyColumn(plan: MeasurePlan): ComputedColumn {
  const { measure, title } = plan.measure;
  return column(uncertaintyName(measure), `${measure}_u`, `${title}: standard uncertainty`, 'working', 'number', plan.uncertainty!, 11);
}

/** What is found out of a check before its verdict, and what is said then. */
const FOUND = ['recheck', 'limit', 'limit_high', 'limit_shown', 'limit_high_shown', 'alone'] as const;
const SAID = ['verdict', 'share', 'chance', 'reason'] as const;

/** How a computed column of a check looks. */
const PARTS: Readonly<Record<CheckPart, { readonly words: string; readonly band: ComputedBand; readonly format: ComputedFormat; readonly width: number }>> = {
  recheck: { words: 'why it cannot be decided', band: 'working', format: 'text', width: 24 },
  limit: { words: 'limit', band: 'checks', format: 'number', width: 9 },
  limit_high: { words: 'upper limit', band: 'checks', format: 'number', width: 9 },
  limit_shown: { words: 'limit', band: 'checks', format: 'number', width: 9 },
  limit_high_shown: { words: 'upper limit', band: 'checks', format: 'number', width: 9 },
  alone: { words: 'by this route alone', band: 'working', format: 'text', width: 12 },
  verdict: { words: '', band: 'checks', format: 'verdict', width: 12 },
  share: { words: 'share of limit', band: 'checks', format: 'share', width: 9 },
  chance: { words: 'chance within limit', band: 'checks', format: 'chance', width: 9 },
  reason: { words: 'in words', band: 'reasons', format: 'sentence', width: 44 },
};

/** Parts whose column would else have the name of a measure. */
const PREFIXED: ReadonlySet<CheckPart> = new Set(['verdict', 'alone', 'reason', 'recheck']);

interface CheckColumnOptions {
  readonly dictionary: Dictionary;
  readonly shown: PressureUnit;
}

function columnsOf(plan: CheckPlan, options: CheckColumnOptions, parts: readonly CheckPart[]): ComputedColumn[] {
  const { check, title } = plan;
  const converted = isConverted(plan.measure, options.shown);
  const { unit } = plan.measure.measure;
  return parts.flatMap((part) => {
    const tree = treeOf(plan, part, options);
    if (tree === null) return [];
    const { words, band, format, width } = PARTS[part];
    const isLimit = part.startsWith('limit');
    const shownUnit = part.endsWith('_shown') ? unitShown(unit, options.shown) : unit;
    const heading = words === '' ? title : `${title}: ${words}${isLimit && converted ? ` (${shownUnit})` : ''}`;
    return [column(checkName(check, part), `${check}_${PREFIXED.has(part) ? 'check_' : ''}${part}`, heading, isLimit && converted && !part.endsWith('_shown') ? 'working' : band, format, tree, width, decimalsOf(shownUnit))];
  });
}

function treeOf(plan: CheckPlan, part: CheckPart, options: CheckColumnOptions): Tree | null {
  const { dictionary, shown } = options;
  switch (part) {
    case 'recheck':
      return recheckTree(plan, dictionary);
    case 'limit':
      return plan.alternatives[0]!.limits.length > 0 ? limitTree(plan) : null;
    case 'limit_high':
      return plan.comparator === 'between' ? limitTree(plan, 1) : null;
    case 'limit_shown':
    case 'limit_high_shown': {
      const own = part === 'limit_shown' ? 'limit' : 'limit_high';
      return isConverted(plan.measure, shown) && treeOf(plan, own, options) !== null ? shownTree(partOf(plan, own), plan.measure.measure.unit, shown) : null;
    }
    case 'alone':
      return plan.eitherOf === null ? null : verdictAloneTree(plan);
    case 'verdict':
      return verdictTree(plan);
    case 'share':
      return shareTree(plan);
    case 'chance':
      return chanceTree(plan);
    case 'reason':
      return reasonTree(plan, dictionary, shown);
  }
}

/** The routes whose own verdicts must stand before that of the first of them. */
function routesBefore({ eitherOf }: CheckPlan, at: number, checks: readonly CheckPlan[]): readonly CheckPlan[] {
  const routes = eitherOf === null ? [] : checks.filter((check) => check.eitherOf === eitherOf);
  return routes[0] === checks[at] ? routes : [];
}

function circuitCheckColumns({ circuit, checks }: CircuitPlan): ComputedColumn[] {
  return checks.map(({ check, title, column: id }) => column(id, `${check.check}_${circuit}_circuit`, title, 'working', 'verdict', checkOnCircuitTree(check, circuit), 12));
}
