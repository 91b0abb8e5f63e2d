import type { EvaluatedRows } from './sheet-context.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { urgencyOf } from './sheets/unit-columns.js';
import { NO_ROWS, unitRows } from './sheets/unit-rows.js';
import { toDo } from './sheets/unit-to-do.js';

/** A unit to pull in, and why. */
export interface UnitToPullIn {
  readonly unit: string;
  /** What the sheet Units says under "What to do". */
  readonly toDo: string;
}

/**
 * The units to pull in first, as the top of the sheet Units names them: open failures, the longest open first, then leaks
 * that are about to reach their limit, then what is overdue.
 *
 * @param most how many at most
 * @example pullInFirst(fleet)[0] // { unit: 'K-103', toDo: 'open failure, 34 days' }
 */
export function pullInFirst({ plan, evaluations, summary }: Pick<EvaluatedRows, 'evaluations' | 'summary'> & { readonly plan: LimitPlan }, most = 3): UnitToPullIn[] {
  const rows = unitRows(plan, evaluations, summary.counted_to);
  const lines = summary.units.map((unit) => ({ unit, rows: rows.get(unit.unit.toLowerCase()) ?? NO_ROWS }));
  return lines
    .flatMap((line, index) => {
      const urgency = urgencyOf(line, index + 1);
      return urgency === null ? [] : [{ urgency, unit: line.unit.unit, toDo: toDo(line.unit, line.rows) }];
    })
    .sort((a, b) => a.urgency - b.urgency)
    .slice(0, most)
    .map(({ unit, toDo: words }) => ({ unit, toDo: words }));
}
