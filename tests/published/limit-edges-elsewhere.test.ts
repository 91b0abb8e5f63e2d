import { describe, expect, it } from 'vitest';
import { loss, testAnswers, testConditions, testEdges } from '../support/limit-edges.js';
import { evaluateRow, shippedPlan, verdictOf } from '../support/evaluate-rows.js';
import { ELSEWHERE_ANSWERS, ELSEWHERE_CONDITIONS, ELSEWHERE_EDGES } from './edges-elsewhere.js';

describe('the printed edges of the sets of other countries', () => testEdges(ELSEWHERE_EDGES));
describe('the checks without an edge of the sets of other countries', () => testAnswers(ELSEWHERE_ANSWERS));
describe('the conditions of the sets of other countries', () => testConditions(ELSEWHERE_CONDITIONS));

describe('Russia: the loss below the lower governor limit', () => {
  // GOST R 51709-2001: 0.05 MPa is 7.25 psi; what is lost above the cut-in does not count, but it does for Decree 1090
  it('does not count what is lost above the cut-in, where that is given', async () => {
    const row = { ...loss('applied', 1, 900, 110)(10, 'psi'), cut_in: 105 };
    const plan = shippedPlan('ru-gost');
    expect([await verdictOf(plan, 'applied_loss', row), await verdictOf(plan, 'applied_loss', { ...row, cut_in: null }), await verdictOf(plan, 'applied_loss_prohibited', row)]).toStrictEqual(['pass', 'fail', 'fail']);
    expect((await evaluateRow(plan, { ...row, released_primary_start: null })).measures['applied_loss_below_primary']).toBeCloseTo(5 / 15, 10);
  });
});
