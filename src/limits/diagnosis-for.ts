import { TreadlebookError } from '../util/treadlebook-error.js';
import type { MeasurePlan } from './compile-measures.js';
import type { LimitSet } from './limit-set.js';
import type { Measure } from './measure.js';
import { sharedMeasures } from './shared-measures.js';

/**
 * The measures for diagnosis that a table has the columns for. Those that need no optional column take part in every table, so
 * that a workbook that is read back gives the same evaluation.
 *
 * @param columns names of the optional columns that the table has
 * @example diagnosisFor(loadLimitSet('us-nevada'), new Set()) // Set { 'buildup_85_to_100', 'minutes_to_warning' }
 */
export function diagnosisFor(set: LimitSet, columns: ReadonlySet<string>): Set<string> {
  return new Set([...sharedMeasures(), ...set.measures].flatMap(({ measure, diagnosis }) => (diagnosis?.every((name) => columns.has(name)) ? [measure] : [])));
}

/** The measures for diagnosis that take part in a plan. */
export function diagnosisOf({ measures }: { readonly measures: readonly MeasurePlan[] }): Set<string> {
  return new Set(measures.flatMap(({ measure: { measure, diagnosis } }) => (diagnosis ? [measure] : [])));
}

/** @throws TreadlebookError `limit_set_invalid` for a check that holds a measure for diagnosis against a limit */
export function refuseDiagnosis({ checks }: LimitSet, measures: readonly Measure[]): void {
  for (const { check, measure: name } of checks) {
    if (!measures.some(({ measure, diagnosis }) => measure === name && diagnosis)) continue;
    throw new TreadlebookError({ code: 'limit_set_invalid', where: `check ${check}`, what: `${name} is for diagnosis and never decides a verdict`, mend: 'hold a measure of the test itself against the limit' });
  }
}
