import { describe, expect, it } from 'vitest';
import { rankedLosses } from '../../src/fleet/ranked-losses.js';
import { ownPlan, shippedPlan, SOURCE } from '../support/evaluate-rows.js';

const check = (name: string, measure: string, more: Record<string, unknown>): Record<string, unknown> => ({ check: name, title: name, measure, unit: 'psi/min', source: SOURCE, ...more });

describe('the losses by which units are ranked', () => {
  it('are those of the leak checks', () => {
    expect(rankedLosses(shippedPlan('common-practice'))).toStrictEqual([
      { measure: 'released_loss', unit: 'psi/min', check: 'released_loss', hasUpperLimit: true },
      { measure: 'applied_loss', unit: 'psi/min', check: 'applied_loss', hasUpperLimit: true },
    ]);
  });

  it('are the one leak that is checked, and none beside it', () => {
    expect(rankedLosses(ownPlan({ checks: [check('tight', 'applied_loss', { less_than: 4 })] })).map(({ measure, check: name }) => [measure, name])).toStrictEqual([['applied_loss', 'tight']]);
  });

  it('are all leaks where none is checked', () => {
    const plan = ownPlan({ checks: [{ ...check('cut_out', 'cut_out', { at_most: 130 }), unit: 'psi' }] });
    expect(rankedLosses(plan).map(({ measure, check: name, hasUpperLimit }) => [measure, name, hasUpperLimit])).toStrictEqual([['released_loss', null, false], ['applied_loss', null, false]]);
  });

  it('have no check where the authority sets no number', () => {
    expect(rankedLosses(ownPlan({ checks: [check('shown', 'released_loss', { no_number: true })] }))).toStrictEqual([{ measure: 'released_loss', unit: 'psi/min', check: null, hasUpperLimit: false }]);
  });

  it('go with the check that has an upper limit, of several', () => {
    const plan = ownPlan({ checks: [check('shown', 'released_loss', { no_number: true }), check('least', 'released_loss', { at_least: 0 }), check('most', 'released_loss', { at_most: 2 }), check('range', 'applied_loss', { between: [0, 4] })] });
    expect(rankedLosses(plan).map(({ check: name, hasUpperLimit }) => [name, hasUpperLimit])).toStrictEqual([['most', true], ['range', false]]);
  });

  it('are the measures of the user\'s own set too', () => {
    const plan = ownPlan({
      measures: [{ measure: 'tank_leak', title: 'Tank leak', unit: 'psi/min', expression: 'released_primary_start - released_primary_end', meaning: 'For a test.', ranks_units: true }],
      checks: [check('tank', 'tank_leak', { at_most: 1 })],
    });
    expect(rankedLosses(plan)).toStrictEqual([{ measure: 'tank_leak', unit: 'psi/min', check: 'tank', hasUpperLimit: true }]);
  });
});
