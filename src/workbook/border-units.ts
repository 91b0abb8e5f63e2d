import type { Evaluation } from '../fleet/evaluation.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import type { Verdict } from '../limits/verdict.js';
import type { EvaluatedRows } from './sheet-context.js';

/** How one unit stands under several limit sets, by its latest inspection. */
export interface BorderUnit {
  readonly unit: string;
  /** The day of that inspection; null where none of the unit's inspections is dated. */
  readonly on: string | null;
  /** Its place among the rows of Readings, from 1. */
  readonly latest: number | null;
  readonly verdict: Verdict | null;
  /** The verdict under each set, in the order of the sets. */
  readonly verdicts: readonly (Verdict | null)[];
  readonly disagreement: string | null;
}

/** The units of a fleet in the order of its summary; latest is the latest day, and of one day the last row. */
export function borderUnits({ sets }: LimitPlan, { evaluations, summary, asOf }: Pick<EvaluatedRows, 'evaluations' | 'summary' | 'asOf'>): BorderUnit[] {
  const latest = new Map<string, { readonly evaluation: Evaluation; readonly at: number }>();
  for (const [index, evaluation] of evaluations.entries()) {
    const { unit, inspected_on: on } = evaluation;
    if (unit === null || on === null || (asOf !== null && on > asOf)) continue;
    const key = unit.toLowerCase();
    const known = latest.get(key);
    if (!known || on >= known.evaluation.inspected_on!) latest.set(key, { evaluation, at: index + 1 });
  }
  return summary.units.map(({ unit }) => {
    const found = latest.get(unit.toLowerCase());
    if (!found) return { unit, on: null, latest: null, verdict: null, verdicts: sets.map(() => null), disagreement: null };
    const { inspected_on: on, verdict, borders } = found.evaluation;
    return { unit, on, latest: found.at, verdict, verdicts: sets.map(({ set }) => borders?.verdicts[set.id] ?? null), disagreement: borders?.disagreement ?? null };
  });
}
