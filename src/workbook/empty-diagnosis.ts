import type { Evaluation } from '../fleet/evaluation.js';
import { shownName } from '../limits/check-names.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';

/** The names of the columns for diagnosis in which no inspection has a value: they are not shown. */
export function emptyDiagnosis({ measures }: LimitPlan, evaluations: readonly Evaluation[]): Set<string> {
  const empty = measures.filter(({ measure }) => measure.diagnosis && evaluations.every((one) => (one.measures[measure.measure] ?? null) === null));
  return new Set(empty.flatMap(({ name }) => [name, shownName(name)]));
}
