import { fieldDictionary, type Dictionary } from '../readings/dictionary.js';
import { HALF_WIDTH } from '../readings/field.js';
import { canonicalJson } from '../util/canonical-json.js';
import { sha256 } from '../util/sha256.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { circuitPlans, type CircuitPlan } from './circuit-trees.js';
import { compileChecks, compileConditions, type CheckPlan, type ConditionPlan, type LimitCell } from './compile-checks.js';
import { compileMeasures, type MeasurePlan } from './compile-measures.js';
import { columnsUsed } from './columns-used.js';
import { refuseDiagnosis } from './diagnosis-for.js';
import type { ComputedColumn } from './computed-column.js';
import { computedColumns } from './computed-columns.js';
import { intervalPlan, type IntervalPlan } from './interval.js';
import { likelyPlacePlans, type LikelyPlacePlan } from './likely-place-tree.js';
import type { LimitSet } from './limit-set.js';
import { NameScope } from './name-scope.js';
import { refuseUnwritableText } from './refuse-unwritable-text.js';
import { setParts, type SetPart } from './set-parts.js';
import { shownIn, shownPressure, type ShownIn } from './shown-pressure.js';
import { sharedMeasures } from './shared-measures.js';

/** A limit set made ready: its trees, and the columns that are computed for each row, in the order of computation. */
export interface LimitPlan extends ShownIn {
  /** The set; of several sets, all of them put together. */
  readonly set: LimitSet;
  /** The sets that it is put together from, the main one first; itself alone where there is but one. */
  readonly sets: readonly SetPart[];
  /** SHA-256 of the set's canonical JSON. */
  readonly sha256: string;
  readonly dictionary: Dictionary;
  readonly measures: readonly MeasurePlan[];
  readonly checks: readonly CheckPlan[];
  readonly conditions: readonly ConditionPlan[];
  /** The brake circuits that its checks tell apart. */
  readonly circuits: readonly CircuitPlan[];
  /** The rules of where to look first that can hold with its checks. */
  readonly likelyPlaces: readonly LikelyPlacePlan[];
  /** How long after an inspection the next is due; null when the set names no interval. */
  readonly interval: IntervalPlan | null;
  /** The numbers that stand in cells of the sheet Limits. */
  readonly cells: readonly LimitCell[];
  readonly columns: readonly ComputedColumn[];
  /** Names of the optional columns that take part: half-widths, and those marked `when_used`. */
  readonly optionalColumns: ReadonlySet<string>;
}

/** How to compile a limit set. */
export interface CompileOptions {
  /** Names of the optional columns that the table has; without it, every half-width and no other. Those that the set uses take part in any case. */
  readonly optionalColumns?: ReadonlySet<string>;
  /** Names of the measures for diagnosis that take part (see `diagnosisFor`); without it, none. */
  readonly diagnosis?: ReadonlySet<string>;
}

/**
 * Compiles a limit set: parses its expressions and lays out every computed column as a tree.
 *
 * @throws TreadlebookError `limit_set_invalid` with the place and the mend
 * @example compileLimitSet(loadLimitSet('us-nevada')).checks.length // 3
 */
export function compileLimitSet(set: LimitSet, options: CompileOptions = {}): LimitPlan {
  refuseUnwritableText(set);
  const dictionary = fieldDictionary(set.columns);
  const scope = new NameScope(dictionary);
  const shown = shownPressure(set);
  const given = options.optionalColumns ?? new Set(dictionary.fields.slice(dictionary.standardCount).flatMap(({ name }) => (name.endsWith(HALF_WIDTH) ? [name] : [])));
  const own = new Set(set.measures.map(({ measure }) => measure));
  // A measure that a set adds goes before an optional one of its name.
  const all = [...sharedMeasures().filter(({ measure, when_used: optional }) => !optional || !own.has(measure)), ...set.measures];
  refuseDiagnosis(set, all);
  const known = all.filter(({ measure, diagnosis }) => !diagnosis || options.diagnosis?.has(measure));
  const every = compileMeasures(known, { dictionary, scope, halfWidths: given, shown });
  const conditions = compileConditions(set, scope, shown);
  const wholeChecks = compileChecks(set, scope, every, conditions);
  const { columns: optionalColumns, measures, rechecksOf } = columnsUsed(dictionary, every, wholeChecks, given, own);
  const checks = wholeChecks.map((check) => ({ ...check, rechecks: rechecksOf(check.rechecks) }));
  const circuits = circuitPlans(checks);
  const likelyPlaces = likelyPlacePlans(checks);
  const interval = intervalPlan(set);
  const sets = setParts(set, checks);
  const cells = [...checks.flatMap((check) => check.alternatives.flatMap((alternative) => alternative.cells)), ...conditions.map(({ cell }) => cell), interval?.cell ?? null];
  return {
    set,
    sets,
    sha256: sha256(canonicalJson(set)),
    ...shownIn(shown),
    dictionary,
    measures,
    checks,
    conditions,
    cells: cells.filter((cell): cell is LimitCell => cell !== null),
    optionalColumns,
    circuits,
    likelyPlaces,
    interval,
    columns: withDistinctNames(computedColumns({ dictionary, optionalColumns, measures, checks, circuits, likelyPlaces, sets, shown })),
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
