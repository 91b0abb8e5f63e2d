import { fieldDictionary, type Dictionary } from '../readings/dictionary.js';
import { COMPUTED_PREFIX } from '../readings/table-names.js';
import { canonicalJson } from '../util/canonical-json.js';
import { sha256 } from '../util/sha256.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { chanceTree } from './chance-tree.js';
import { checkName, type CheckPart } from './check-names.js';
import { limitTree } from './limit-tree.js';
import { reasonTree } from './reason-tree.js';
import { recheckTree } from './recheck-tree.js';
import { shareTree } from './share-tree.js';
import { verdictTree } from './verdict-tree.js';
import { compileChecks, compileConditions, type CheckPlan, type ConditionPlan, type LimitCell } from './compile-checks.js';
import { compileMeasures, type MeasurePlan } from './compile-measures.js';
import type { ComputedColumn, ComputedFormat } from './computed-column.js';
import type { LimitSet } from './limit-set.js';
import { NameScope } from './name-scope.js';
import { LEAK_SHARE, leakShareTree, OVERALL_REASON, OVERALL_VERDICT, overallReasonTree, overallVerdictTree } from './overall-trees.js';
import { sharedMeasures } from './shared-measures.js';
import { uncertaintyName } from './uncertainty-tree.js';
import { workingColumns } from './working-columns.js';

/** A limit set made ready: its trees, and the columns that are computed for each row, in the order of computation. */
export interface LimitPlan {
  readonly set: LimitSet;
  /** SHA-256 of the set's canonical JSON. */
  readonly sha256: string;
  readonly dictionary: Dictionary;
  readonly measures: readonly MeasurePlan[];
  readonly checks: readonly CheckPlan[];
  readonly conditions: readonly ConditionPlan[];
  /** The numbers that stand in cells of the sheet Limits. */
  readonly cells: readonly LimitCell[];
  readonly columns: readonly ComputedColumn[];
  /** Names of the half-width columns that take part. */
  readonly halfWidthsUsed: readonly string[];
}

/** How to compile a limit set. */
export interface CompileOptions {
  /** Names of the half-width columns that the table has; without it, all of them. */
  readonly halfWidths?: ReadonlySet<string>;
}

/**
 * Compiles a limit set: parses its expressions and lays out every computed column as a tree.
 *
 * @throws TreadlebookError `limit_set_invalid` with the place and the mend
 * @example compileLimitSet(loadLimitSet('us-nevada')).checks.length // 3
 */
export function compileLimitSet(set: LimitSet, options: CompileOptions = {}): LimitPlan {
  const dictionary = fieldDictionary(set.columns);
  const scope = new NameScope(dictionary);
  const halfWidths = options.halfWidths ?? new Set(dictionary.fields.slice(dictionary.standardCount).map(({ name }) => name));
  const measures = compileMeasures([...sharedMeasures(), ...set.measures], { dictionary, scope, halfWidths });
  const conditions = compileConditions(set, scope);
  const checks = compileChecks(set, scope, measures, conditions);
  const leakShare = leakShareTree(checks);
  const cells = [...checks.flatMap((check) => check.alternatives.flatMap((alternative) => alternative.cells)), ...conditions.map(({ cell }) => cell)];
  return {
    set,
    sha256: sha256(canonicalJson(set)),
    dictionary,
    measures,
    checks,
    conditions,
    cells: cells.filter((cell): cell is LimitCell => cell !== null),
    halfWidthsUsed: [...halfWidths],
    columns: withDistinctNames([
      ...workingColumns(dictionary),
      ...measures.map(measureColumn),
      ...measures.filter((plan) => plan.uncertainty).map(uncertaintyColumn),
      ...checks.flatMap((check) => checkColumns(check, dictionary)),
      column(OVERALL_VERDICT, 'verdict', 'Verdict', 'result', 'verdict', overallVerdictTree(checks), 11),
      ...(leakShare ? [column(LEAK_SHARE, 'leak_share', 'Worst share of leak limit', 'result', 'share', leakShare, 10)] : []),
      column(OVERALL_REASON, 'reason', 'Reason', 'result', 'sentence', overallReasonTree(checks), 105),
    ]),
  };
}

function withDistinctNames(columns: readonly ComputedColumn[]): readonly ComputedColumn[] {
  const seen = new Set<string>();
  for (const { name } of columns) {
    if (seen.has(name)) throw new TreadlebookError({ code: 'limit_set_invalid', where: `column ${name}`, what: 'two computed columns would have this name', mend: 'give the measure or check that it comes from another name' });
    seen.add(name);
  }
  return columns;
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
