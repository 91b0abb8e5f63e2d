import { COMPARED_DECIMALS } from '../expressions/operators.js';
import { roundHalfAway } from '../util/round-half-away.js';
import type { CheckPlan } from './compile-checks.js';
import type { CircuitMeasure } from './compile-measures.js';

/** What of a check's result tells which circuit failed it. */
export interface FailedCheck {
  readonly verdict: string;
  readonly limit: number | readonly [number, number] | 'yes' | 'no' | null;
}

/**
 * The measures of one brake circuit each that a check rests on, in the order of the measures; empty for a check that
 * knows no circuits.
 *
 * @example circuitsOfCheck(plan.checks[0]).map(({ circuit }) => circuit) // ['primary', 'secondary']
 */
export function circuitsOfCheck(check: CheckPlan): readonly CircuitMeasure[] {
  return check.comparator === 'no_number' ? [] : check.measure.circuits;
}

/**
 * The circuits that a failed check fails on, each once: those whose measure is given and not within the limit. Empty for
 * a check that did not fail, and for one that knows no circuits.
 *
 * @param measures the values of an evaluation's measures, by name
 * @example failedCircuits(plan.checks[0], { verdict: 'fail', limit: 3 }, { released_loss_primary: 1, released_loss_secondary: 5 }) // ['secondary']
 */
export function failedCircuits(check: CheckPlan, { verdict, limit }: FailedCheck, measures: Readonly<Record<string, number | string | boolean | null>>): string[] {
  if (verdict !== 'fail' || limit === null) return [];
  const failed = circuitsOfCheck(check).filter(({ measure }) => violates(check, measures[measure] ?? null, limit));
  return [...new Set(failed.map(({ circuit }) => circuit))];
}

function violates({ comparator, alternatives }: CheckPlan, value: number | string | boolean | null, limit: NonNullable<FailedCheck['limit']>): boolean {
  if (typeof value === 'boolean') return value !== (limit === 'yes');
  if (typeof value !== 'number' || typeof limit === 'string') return false;
  const [low, high] = (typeof limit === 'number' ? [limit, limit] : limit).map(compared) as [number, number];
  const measured = compared(value);
  const { without_ends: out } = alternatives[0]!.check;
  switch (comparator) {
    case 'at_most':
      return measured > high;
    case 'less_than':
      return measured >= high;
    case 'at_least':
      return measured < low;
    case 'more_than':
      return measured <= low;
    case 'between':
      return measured < low || measured > high || (measured === low && (out === 'lower' || out === 'both')) || (measured === high && (out === 'upper' || out === 'both'));
    default:
      return false;
  }
}

function compared(value: number): number {
  return roundHalfAway(value, COMPARED_DECIMALS);
}
