import type { Tree } from '../expressions/tree.js';
import type { Dictionary } from '../readings/dictionary.js';
import { COMPUTED_PREFIX } from '../readings/table-names.js';
import { borderMeasures, borderName, borderTree, DISAGREEMENT, disagreementTree } from './border-trees.js';
import { chanceTree } from './chance-tree.js';
import { checkName, type CheckPart } from './check-names.js';
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
}

/** Every computed column of a limit set, in the order of computation: each needs only what stands before it. */
export function computedColumns({ dictionary, optionalColumns, measures, checks, circuits, likelyPlaces, sets }: ColumnSources): ComputedColumn[] {
  const leakShare = leakShareTree(checks);
  const topics = topicsOf(likelyPlaces);
  const several = sets.length > 1;
  const borders = several ? borderMeasures(sets) : [];
  return [
    ...workingColumns(dictionary, optionalColumns),
    ...measures.map(measureColumn),
    ...measures.filter((plan) => plan.uncertainty).map(uncertaintyColumn),
    ...checks.flatMap((check, at) => [...routesBefore(check, at, checks).flatMap((route) => columnsOf(route, dictionary, FOUND)), ...columnsOf(check, dictionary, check.eitherOf === null ? [...FOUND, ...SAID] : SAID)]),
    ...circuits.flatMap(circuitCheckColumns),
    ...topics.map((topic) => column(topicName(topic), `places_${topic}`, `Where to look: ${topic.replaceAll('_', ' ')}`, 'working', 'text', topicTree(topic, likelyPlaces), 24)),
    ...borders.map((plan) => column(borderName(plan.measure.measure), `borders_${plan.measure.measure}`, `Borders: ${plan.measure.title}`, 'working', 'text', borderTree(plan, sets), 24)),
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

/** Decimals shown of a measure by its unit. */
function decimalsOf(unit: string): number {
  return unit === 's' ? 0 : unit === 'psi' || unit === 'L/min' || unit === 'min' ? 1 : 2;
}

function measureColumn(plan: MeasurePlan): ComputedColumn {
  const { measure, title, unit, diagnosis } = plan.measure;
  const heading = unit === '' || unit === 'share' ? title : `${title} (${unit})`;
  return column(plan.name, measure, heading, diagnosis ? 'diagnosis' : 'measures', unit === 'share' ? 'share' : plan.type === 'number' ? 'number' : 'text', plan.tree, 11, decimalsOf(unit));
}

function uncertaintyColumn(plan: MeasurePlan): ComputedColumn {
  const { measure, title } = plan.measure;
  return column(uncertaintyName(measure), `${measure}_u`, `${title}: standard uncertainty`, 'working', 'number', plan.uncertainty!, 11);
}

/** What is found out of a check before its verdict, and what is said then. */
const FOUND = ['recheck', 'limit', 'limit_high', 'alone'] as const;
const SAID = ['verdict', 'share', 'chance', 'reason'] as const;

/** How a computed column of a check looks. */
const PARTS: Readonly<Record<CheckPart, { readonly words: string; readonly band: ComputedBand; readonly format: ComputedFormat; readonly width: number }>> = {
  recheck: { words: 'why it cannot be decided', band: 'working', format: 'text', width: 24 },
  limit: { words: 'limit', band: 'checks', format: 'number', width: 9 },
  limit_high: { words: 'upper limit', band: 'checks', format: 'number', width: 9 },
  alone: { words: 'by this route alone', band: 'working', format: 'text', width: 12 },
  verdict: { words: '', band: 'checks', format: 'verdict', width: 12 },
  share: { words: 'share of limit', band: 'checks', format: 'share', width: 9 },
  chance: { words: 'chance within limit', band: 'checks', format: 'chance', width: 9 },
  reason: { words: 'in words', band: 'reasons', format: 'sentence', width: 44 },
};

/** Parts whose column would else have the name of a measure. */
const PREFIXED: ReadonlySet<CheckPart> = new Set(['verdict', 'alone', 'reason', 'recheck']);

function columnsOf(plan: CheckPlan, dictionary: Dictionary, parts: readonly CheckPart[]): ComputedColumn[] {
  const { check, title } = plan;
  return parts.flatMap((part) => {
    const tree = treeOf(plan, part, dictionary);
    if (tree === null) return [];
    const { words, band, format, width } = PARTS[part];
    return [column(checkName(check, part), `${check}_${PREFIXED.has(part) ? 'check_' : ''}${part}`, words === '' ? title : `${title}: ${words}`, band, format, tree, width, decimalsOf(plan.measure.measure.unit))];
  });
}

function treeOf(plan: CheckPlan, part: CheckPart, dictionary: Dictionary): Tree | null {
  switch (part) {
    case 'recheck':
      return recheckTree(plan, dictionary);
    case 'limit':
      return plan.alternatives[0]!.limits.length > 0 ? limitTree(plan) : null;
    case 'limit_high':
      return plan.comparator === 'between' ? limitTree(plan, 1) : null;
    case 'alone':
      return plan.eitherOf === null ? null : verdictAloneTree(plan);
    case 'verdict':
      return verdictTree(plan);
    case 'share':
      return shareTree(plan);
    case 'chance':
      return chanceTree(plan);
    case 'reason':
      return reasonTree(plan, dictionary);
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
