import type { CheckPlan } from '../limits/compile-checks.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import type { Comparator } from '../limits/limit-set.js';

/** A loss by which units are ranked and followed. */
export interface RankedLoss {
  /** The measure, `released_loss`, and its unit, `psi/min`. */
  readonly measure: string;
  readonly unit: string;
  /** The check that holds it against a number; null where the set has none, and every number counts. */
  readonly check: string | null;
  /** Whether that check's number is one that the loss can rise to. */
  readonly hasUpperLimit: boolean;
}

const UPPER: readonly Comparator[] = ['at_most', 'less_than'];
const NUMERIC: readonly Comparator[] = [...UPPER, 'at_least', 'more_than', 'between'];

/**
 * The losses by which a plan ranks units: the measures that rank units and that a check uses; where no check uses one,
 * all that rank units.
 *
 * @example rankedLosses(plan).map(({ measure }) => measure) // ['released_loss', 'applied_loss']
 */
export function rankedLosses({ measures, checks }: Pick<LimitPlan, 'measures' | 'checks'>): RankedLoss[] {
  const ranked = measures.filter(({ measure }) => measure.ranks_units);
  const on = (measure: string): CheckPlan[] => checks.filter((check) => check.measure.measure.measure === measure);
  const used = ranked.filter(({ measure }) => on(measure.measure).length > 0);
  return (used.length > 0 ? used : ranked).map(({ measure: { measure, unit } }) => {
    const own = on(measure);
    const check = own.find(({ comparator }) => UPPER.includes(comparator)) ?? own.find(({ comparator }) => NUMERIC.includes(comparator));
    return { measure, unit, check: check?.check ?? null, hasUpperLimit: check !== undefined && UPPER.includes(check.comparator) };
  });
}
