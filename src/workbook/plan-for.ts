import { compileLimitSet, type CompileOptions, type LimitPlan } from '../limits/compile-limit-set.js';
import { diagnosisFor } from '../limits/diagnosis-for.js';
import { limitSetOf, type LimitsGiven } from '../limits/limit-set-of.js';
import { HALF_WIDTH } from '../readings/field.js';
import type { ColumnRole } from '../readings/find-header.js';
import { optionalColumnsOf } from '../readings/optional-columns.js';
import { TreadlebookError } from '../util/treadlebook-error.js';

/**
 * The limit set that an option names, compiled.
 *
 * @throws TreadlebookError `limit_set_unknown`, `limit_set_invalid`, with the file that it was read from
 */
export function planOf(limits: LimitsGiven | undefined, options: CompileOptions = {}): LimitPlan {
  const set = limitSetOf(limits);
  try {
    return compileLimitSet(set, options);
  } catch (cause) {
    if (!(cause instanceof TreadlebookError) || typeof limits !== 'string') throw cause;
    const { code, what, where, mend } = cause;
    throw new TreadlebookError({ code, what, mend, where: where === undefined ? limits : `${limits}, ${where}`, cause });
  }
}

/** The plan of a limit set for a table: with the measures of the optional columns that the table has, and those for diagnosis. */
export function planFor(plan: LimitPlan, columns: readonly ColumnRole[]): LimitPlan {
  const optional = optionalColumnsOf(columns, plan.dictionary);
  const diagnosis = diagnosisFor(plan.set, optional);
  if (diagnosis.size === 0 && [...optional].every((name) => plan.optionalColumns.has(name))) return plan;
  return compileLimitSet(plan.set, { optionalColumns: new Set([...plan.optionalColumns, ...halfWidthsOf(optional), ...optional]), diagnosis });
}

/** A range may be written for a reading whose half-width has no column yet. */
function halfWidthsOf(columns: ReadonlySet<string>): string[] {
  return [...columns].filter((name) => !name.endsWith(HALF_WIDTH)).map((name) => name + HALF_WIDTH);
}
