import type { LimitPlan } from '../../src/limits/compile-limit-set.js';
import { ownPlan, SOURCE } from '../support/evaluate-rows.js';

/** A set that checks every measure that a rule of where to look first names; the limits are for the tests alone. */
export function everyMeasureSet(): LimitPlan {
  const check = (measure: string, comparator: Record<string, unknown>, unit: string): Record<string, unknown> => ({ check: measure, title: measure, measure, ...comparator, unit, optional: true, source: SOURCE });
  return ownPlan({
    extends: 'us-new-hampshire',
    checks: [
      check('cut_out', { between: [100, 135] }, 'psi'),
      check('cut_in', { between: [80, 110] }, 'psi'),
      check('governor_span', { between: [10, 30] }, 'psi'),
      check('buildup_time', { at_most: 5 }, 'min'),
      check('buildup_rate', { more_than: 0.2 }, 'psi/s'),
      check('reserve_share', { at_least: 75 }, '%'),
      check('parking_valve_closes_at', { between: [20, 45] }, 'psi'),
      check('trailer_valve_closes_at', { between: [20, 45] }, 'psi'),
      check('circuit_difference', { less_than: 15 }, 'psi'),
    ],
  });
}
