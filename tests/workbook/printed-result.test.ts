import { describe, expect, it } from 'vitest';
import type { CheckResult } from '../../src/fleet/evaluation.js';
import { printedResult, printedValue, shownUnit } from '../../src/workbook/printed-result.js';
import { evaluateRow, shippedPlan, type Row } from '../support/evaluate-rows.js';

const printed = async (id: string, check: string, row: Row): Promise<readonly [string, string]> => {
  const plan = shippedPlan(id);
  const { measured, limit } = printedResult(plan, (await evaluateRow(plan, row)).checks.find((one) => one.check === check)!);
  return [measured, limit];
};
const APPLIED = { applied_primary_end: 600, applied_secondary_start: 700, applied_secondary_end: 700, applied_time: '1:00' };

describe('a check result is printed in the unit of its limit', () => {
  // CQLR c. C-24.2, r. 32, s. 166 (5): 40 kPa for one vehicle, 48 with one towed.
  it('kPa a minute', async () => {
    expect(await printed('ca-quebec', 'applied_loss', { pressure_unit: 'kPa', applied_primary_start: 641.5, ...APPLIED })).toStrictEqual(['41.5 kPa/min', 'at most 40 kPa/min']);
    expect(await printed('ca-quebec', 'applied_loss', { pressure_unit: 'kPa', vehicles: 2, applied_primary_start: 641.5, ...APPLIED })).toStrictEqual(['41.5 kPa/min', 'at most 48 kPa/min']);
  });

  // GOST R 51709-2001: 0.05 MPa in 30 minutes. 700 to 655 kPa in 30 minutes is 0.045 MPa.
  it('MPa over the time of the rule', async () => {
    expect(await printed('ru-gost', 'released_loss', { pressure_unit: 'kPa', released_primary_start: 700, released_primary_end: 655, released_secondary_start: 700, released_secondary_end: 700, released_time: '30:00' })).toStrictEqual(['0.045 MPa in 30 min', 'at most 0.05 MPa in 30 min']);
  });

  // Common practice, no source: 5 minutes to cut-out, 60 psi.
  it('a time as minutes and seconds, a pressure in psi', async () => {
    expect(await printed('common-practice', 'buildup', { buildup_from: 60, buildup_to: 120, buildup_time: '4:10' })).toStrictEqual(['4:10 (min:s)', 'at most 5 min']);
    expect(await printed('common-practice', 'warning', { light_on_at: 58, buzzer_on_at: 61 })).toStrictEqual(['58 psi', 'at least 60 psi']);
    expect(await printed('common-practice', 'warning', {})).toStrictEqual(['', 'at least 60 psi']);
  });

  // Md. Session Laws 2004, S.B. 395: 80 % must remain.
  it('a share in per cent, and a band with both ends', async () => {
    expect(await printed('us-maryland', 'reserve_left', { reserve_before: 120, reserve_after: 96 })).toStrictEqual(['80 %', 'at least 80 %']);
    // CQLR c. C-24.2, r. 32, s. 38 (2): 805 to 945 kPa.
    expect(await printed('ca-quebec', 'cut_out', { pressure_unit: 'kPa', cut_out: 900, cut_in: 700 })).toStrictEqual(['900 kPa', 'between 805 and 945 kPa']);
  });

  it('as it stands where it is in that unit already', () => {
    const plan = shippedPlan('ca-quebec');
    const result: CheckResult = { limit_set: 'ca-quebec', check: 'cut_out', measure: 'cut_out', value: 900, unit: 'kPa', comparator: 'between', limit: [805, 945], verdict: 'pass', share_of_limit: null, chance_within_limit: null, reason: '', citation: 'CQLR c. C-24.2, r. 32, s. 38 (2)', status: 'secondary', severity: null };
    expect(printedResult(plan, result)).toStrictEqual({ measured: '900 kPa', limit: 'between 805 and 945 kPa' });
  });
});

// NIST SP 811, Appendix B: 1 psi is 6.894757 kPa.
it('converts by the factors of NIST', () => {
  expect(printedValue(3, 'psi/min', 'kPa/min')).toBe('20.68 kPa/min');
  expect(printedValue(100, 'psi', 'bar')).toBe('6.89 bar');
  expect([printedValue(true, '', ''), printedValue(false, '', '')]).toStrictEqual(['yes', 'no']);
});

it('shows a measure in the unit of the first check on it, or on what it is a part of', () => {
  const plan = shippedPlan('ca-quebec');
  expect(['applied_loss', 'applied_loss_primary', 'cut_out', 'governor_span'].map((measure) => shownUnit(plan, measure))).toStrictEqual(['kPa/min', 'kPa/min', 'kPa', null]);
});
