import { expect, it } from 'vitest';
import { checkReadings } from '../../src/limits/check-readings.js';
import { ownPlan, shippedPlan, SOURCE } from '../support/evaluate-rows.js';

const GAUGE = ['pressure_unit', 'gauge_step', 'readable_to'];
const readingsOf = (id: string, name: string): readonly string[] => {
  const plan = shippedPlan(id);
  return checkReadings(plan, plan.checks.find(({ check }) => check === name)!);
};

// N.H. Saf-C 3226.04(b)(6),(7): the warning against half the governor cut-out; (b)(8): by the number of vehicles.
it('are those of the measure, of the limit, of when it applies, and of the gauge', () => {
  expect(readingsOf('us-new-hampshire', 'warning')).toStrictEqual([...GAUGE, 'light_on_at', 'buzzer_on_at', 'cut_out']);
  expect(readingsOf('us-new-hampshire', 'released_loss')).toStrictEqual(['vehicles', ...GAUGE, 'released_primary_start', 'released_primary_end', 'released_secondary_start', 'released_secondary_end', 'released_time']);
});

// Common practice, no source: up to 2 minutes to stabilise, longer with a trailer.
it('are those of its conditions too', () => {
  expect(readingsOf('common-practice', 'applied_loss')).toStrictEqual(['vehicles', ...GAUGE, 'applied_primary_start', 'applied_primary_end', 'applied_secondary_start', 'applied_secondary_end', 'applied_settle_time', 'applied_time']);
});

it('are those of columns that a set adds, without their half-widths', () => {
  const plan = ownPlan({
    columns: [{ name: 'first', kind: 'pressure', spread: true, title: 'First', help: 'First.' }],
    measures: [{ measure: 'drop', title: 'Drop', unit: 'psi', expression: 'first - applied_primary_start', meaning: 'Drop.' }],
    checks: [{ check: 'drop', title: 'Drop', measure: 'drop', at_most: 20, unit: 'psi', source: SOURCE }],
  });
  expect(checkReadings(plan, plan.checks[0]!)).toStrictEqual([...GAUGE, 'applied_primary_start', 'first']);
});
