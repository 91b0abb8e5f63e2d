import type { Dictionary } from '../readings/dictionary.js';
import { COMPUTED_PREFIX } from '../readings/table-names.js';
import { chanceTree } from './chance-tree.js';
import { checkName, type CheckPart } from './check-names.js';
import { checkOnCircuitTree, circuitVerdictTree, type CircuitPlan } from './circuit-trees.js';
import type { CheckPlan } from './compile-checks.js';
import type { MeasurePlan } from './compile-measures.js';
import type { ComputedColumn, ComputedFormat } from './computed-column.js';
import type { LikelyPlacePlan } from './likely-place-tree.js';
import { limitTree } from './limit-tree.js';
import { LEAK_SHARE, leakShareTree, OVERALL_REASON, OVERALL_VERDICT, overallReasonTree, overallVerdictTree } from './overall-trees.js';
import { reasonTree } from './reason-tree.js';
import { recheckTree } from './recheck-tree.js';
import { shareTree } from './share-tree.js';
import { uncertaintyName } from './uncertainty-tree.js';
import { verdictTree } from './verdict-tree.js';
import { topicName, topicsOf, topicTree, WHERE_TO_LOOK, whereToLookTree } from './where-to-look-tree.js';
import { workingColumns } from './working-columns.js';

/** What columns are computed from. */
export interface ColumnSources {
  readonly dictionary: Dictionary;
  readonly measures: readonly MeasurePlan[];
  readonly checks: readonly CheckPlan[];
  readonly circuits: readonly CircuitPlan[];
  readonly likelyPlaces: readonly LikelyPlacePlan[];
}

/** Every computed column of a limit set, in the order of computation: each needs only what stands before it. */
export function computedColumns({ dictionary, measures, checks, circuits, likelyPlaces }: ColumnSources): ComputedColumn[] {
  const leakShare = leakShareTree(checks);
  const topics = topicsOf(likelyPlaces);
  return [
    ...workingColumns(dictionary),
    ...measures.map(measureColumn),
    ...measures.filter((plan) => plan.uncertainty).map(uncertaintyColumn),
    ...checks.flatMap((check) => checkColumns(check, dictionary)),
    ...circuits.flatMap(circuitCheckColumns),
    ...topics.map((topic) => column(topicName(topic), `places_${topic}`, `Where to look: ${topic.replaceAll('_', ' ')}`, 'working', 'text', topicTree(topic, likelyPlaces), 24)),
    column(OVERALL_VERDICT, 'verdict', 'Verdict', 'result', 'verdict', overallVerdictTree(checks), 11),
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
  return unit === 's' ? 0 : unit === 'psi' ? 1 : 2;
}

function measureColumn(plan: MeasurePlan): ComputedColumn {
  const { measure, title, unit } = plan.measure;
  const heading = unit === '' || unit === 'share' ? title : `${title} (${unit})`;
  return column(plan.name, measure, heading, 'measures', unit === 'share' ? 'share' : plan.type === 'number' ? 'number' : 'text', plan.tree, 11, decimalsOf(unit));
}

function uncertaintyColumn(plan: MeasurePlan): ComputedColumn {
  const { measure, title } = plan.measure;
  return column(uncertaintyName(measure), `${measure}_u`, `${title}: standard uncertainty`, 'working', 'number', plan.uncertainty!, 11);
}

function checkColumns(plan: CheckPlan, dictionary: Dictionary): ComputedColumn[] {
  const { check, title } = plan;
  const columns: ComputedColumn[] = [];
  const add = (part: CheckPart, words: string, format: ComputedFormat, tree: ComputedColumn['tree'], width: number): void => {
    if (tree === null) return;
    const band = part === 'reason' ? 'reasons' : part === 'recheck' ? 'working' : 'checks';
    columns.push(column(checkName(check, part), `${check}_${part === 'verdict' || part === 'reason' || part === 'recheck' ? `check_${part}` : part}`, words === '' ? title : `${title}: ${words}`, band, format, tree, width, decimalsOf(plan.measure.measure.unit)));
  };
  const hasLimit = plan.alternatives[0]!.limits.length > 0;
  add('recheck', 'why it cannot be decided', 'text', recheckTree(plan, dictionary), 24);
  if (hasLimit) add('limit', 'limit', 'number', limitTree(plan), 9);
  if (plan.comparator === 'between') add('limit_high', 'upper limit', 'number', limitTree(plan, 1), 9);
  add('verdict', '', 'verdict', verdictTree(plan), 12);
  add('share', 'share of limit', 'share', shareTree(plan), 9);
  add('chance', 'chance within limit', 'chance', chanceTree(plan), 9);
  add('reason', 'in words', 'sentence', reasonTree(plan, dictionary), 44);
  return columns;
}

function circuitCheckColumns({ circuit, checks }: CircuitPlan): ComputedColumn[] {
  return checks.map(({ check, title, column: id }) => column(id, `${check.check}_${circuit}_circuit`, title, 'working', 'verdict', checkOnCircuitTree(check, circuit), 12));
}
