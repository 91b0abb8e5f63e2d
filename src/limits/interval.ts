import type { LimitCell } from './compile-checks.js';
import type { LimitSet, Source } from './limit-set.js';

/** How long after an inspection the next is due. */
export interface IntervalPlan {
  readonly unit: 'months' | 'days';
  readonly every: number;
  readonly source: Source;
  /** The cell of the number in the sheet Limits: `limit:interval:months` or `limit:interval:days`. */
  readonly cell: LimitCell;
}

/** The interval of a limit set; null when the set names none. */
export function intervalPlan({ interval }: LimitSet): IntervalPlan | null {
  if (interval === undefined) return null;
  const { months, days, source } = interval;
  const unit = months === undefined ? 'days' : 'months';
  const every = (months ?? days)!;
  return { unit, every, source, cell: { name: `limit:interval:${unit}`, value: every } };
}
