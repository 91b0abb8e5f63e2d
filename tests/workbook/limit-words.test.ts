import { describe, expect, it } from 'vitest';
import { limitWords } from '../../src/workbook/limit-words.js';
import { ownPlan, shippedPlan, SOURCE } from '../support/evaluate-rows.js';

const wordsOf = (id: string, name: string): string[] => {
  const plan = shippedPlan(id);
  return plan.checks.find(({ check }) => check === name)!.alternatives.map((alternative) => limitWords(plan, alternative).text);
};

describe('a limit in words stands in the unit in which it is printed', () => {
  it.each([
    // CQLR c. C-24.2, r. 32, s. 166 (5): 40, 48 and 62 kPa in one minute.
    ['ca-quebec', 'applied_loss', ['at most 40 kPa/min, if Vehicles in combination is at most 1', 'at most 48 kPa/min, if Vehicles in combination equals 2', 'at most 62 kPa/min, if Vehicles in combination is at least 3']],
    // CQLR c. C-24.2, r. 32, s. 38 (2): 805 to 945 kPa.
    ['ca-quebec', 'cut_out', ['between 805 and 945 kPa']],
    // GOST R 51709-2001: 0.05 MPa in 30 minutes.
    ['ru-gost', 'released_loss', ['at most 0.05 MPa in 30 min']],
    // N.H. Saf-C 3226.04(b)(6),(7): half the governor cut-out.
    ['us-new-hampshire', 'warning', ['at least 0.5 times Cut-out (psi)']],
    // Md. Session Laws 2004, S.B. 395: 80 % must remain.
    ['us-maryland', 'reserve_left', ['at least 80 %']],
    // Directive 2014/45/EU Annex I 1.1.3(a): four applications after the warning.
    ['eu-roadworthiness', 'applications', ['at least 4']],
    // 49 CFR 571.121 S5.1.1: 25 s times actual over required volume.
    ['us-federal-new-vehicle', 'buildup', ['at most (25 times Reservoir volume) divided by Required reservoir volume (s)']],
  ])('%s, %s', (id, check, words) => {
    expect(wordsOf(id, check)).toStrictEqual(words);
  });

  it('and is a formula over the cells of Limits, of which each number has one', () => {
    const plan = ownPlan({ checks: [{ check: 'a', title: 'A', measure: 'cut_out', between: [110, '1.5 * cut_in'], unit: 'psi', source: SOURCE }] });
    const { text, formula } = limitWords(plan, plan.checks[0]!.alternatives[0]!);
    expect(text).toBe('between 110 and 1.5 times Cut-in (psi)');
    expect(formula).toBe('"between "&limit_a_1_low&" and "&limit_a_1_high&" times Cut-in (psi)"');
  });

  it('and is plain text where its numbers have no cell', () => {
    const plan = ownPlan({ checks: [{ check: 'a', title: 'A', measure: 'cut_out', at_least: 'cut_in + 10 + 5', unit: 'psi', source: SOURCE }] });
    expect(limitWords(plan, plan.checks[0]!.alternatives[0]!).formula).toBeNull();
  });
});
