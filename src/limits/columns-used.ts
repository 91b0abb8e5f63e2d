import { namesIn, type Tree } from '../expressions/tree.js';
import { baseName, type Dictionary } from '../readings/dictionary.js';
import { HALF_WIDTH } from '../readings/field.js';
import type { CheckPlan } from './compile-checks.js';
import type { MeasurePlan, RecheckPlan } from './compile-measures.js';
import { enteredName } from './say-template.js';

/** Which optional columns and which measures take part, and how to tell whether a tree can do with them. */
export interface ColumnsUsed {
  /** Names of the optional columns: those marked `when_used`, and half-widths. */
  readonly columns: ReadonlySet<string>;
  readonly measures: readonly MeasurePlan[];
  /** Without those that name a column which does not take part. */
  readonly rechecksOf: (rechecks: readonly RecheckPlan[]) => readonly RecheckPlan[];
}

/**
 * Which optional columns take part: those that the table has, and those that the checks, their measures and conditions, and
 * the measures of the set's own name. Of the measures marked `when_used` those take part that the checks name, and those
 * whose optional columns are all there. That a measure would recheck by a column is no use of it.
 *
 * @param given names of the optional columns that the table has
 * @param own names of the measures that the set itself adds
 */
export function columnsUsed(dictionary: Dictionary, measures: readonly MeasurePlan[], checks: readonly CheckPlan[], given: ReadonlySet<string>, own: ReadonlySet<string>): ColumnsUsed {
  const optional = new Map<string, string>();
  for (const { name } of dictionary.fields.slice(dictionary.standardCount)) {
    if (!name.endsWith(HALF_WIDTH)) for (const alias of [name, enteredName(name)]) optional.set(alias, name);
  }
  const plans = new Map(measures.map((plan) => [plan.name, plan]));
  const columns = new Set([...given].filter((name) => optional.has(name)));
  const needed = new Set<MeasurePlan>();
  const use = (trees: readonly Tree[]): void => {
    for (const tree of trees) {
      for (const name of namesIn(tree)) {
        const column = optional.get(name);
        if (column !== undefined) columns.add(column);
        useMeasure(plans.get(name));
      }
    }
  };
  const useMeasure = (plan: MeasurePlan | undefined): void => {
    if (plan === undefined || needed.has(plan)) return;
    needed.add(plan);
    use([plan.tree, plan.says]);
  };
  for (const { measure, alternatives, rechecks } of checks) {
    useMeasure(measure);
    use(alternatives.flatMap(({ when, limits }) => (when === null ? limits : [when, ...limits])));
    use(rechecks.filter((recheck) => !measure.rechecks.includes(recheck)).flatMap(({ when, say }) => [when, say]));
  }
  for (const plan of measures) if (own.has(plan.measure.measure) || !plan.measure.when_used) useMeasure(plan);
  const columnsIn = (trees: readonly Tree[]): string[] => trees.flatMap((tree) => [...namesIn(tree)].flatMap((name) => optional.get(name) ?? []));
  const there = (trees: readonly Tree[]): boolean => columnsIn(trees).every((name) => columns.has(name));
  for (const plan of measures) if (columnsIn(withMeasures(plan, plans)).length > 0 && there(withMeasures(plan, plans))) useMeasure(plan);
  for (const name of given) if (name.endsWith(HALF_WIDTH) && (columns.has(baseName(name)) || !optional.has(baseName(name)))) columns.add(name);
  return {
    columns,
    measures: measures.filter((plan) => needed.has(plan)),
    rechecksOf: (rechecks) => rechecks.filter(({ when, say }) => there([when, say])),
  };
}

/** The trees of a measure, and of the measures that it is made of. */
function withMeasures(plan: MeasurePlan, plans: ReadonlyMap<string, MeasurePlan>): Tree[] {
  const found = new Set<MeasurePlan>([plan]);
  for (const { tree, says } of found) {
    for (const name of [...namesIn(tree), ...namesIn(says)]) if (plans.has(name)) found.add(plans.get(name)!);
  }
  return [...found].flatMap(({ tree, says }) => [tree, says]);
}
