import { describe, expect, it } from 'vitest';
import { FACTS_USED } from '../../src/limits/facts-used.js';
import type { LimitPlan } from '../../src/limits/compile-limit-set.js';
import { uncertaintyName } from '../../src/limits/uncertainty-tree.js';
import { normalCdf } from '../../src/statistics/normal-cdf.js';
import { evaluateRow, ownPlan, shippedPlan, SOURCE, type Row } from '../support/evaluate-rows.js';

const KPA_PER_PSI = 6.894757293168361; // NIST SP 811 (2008), Appendix B

/** A set whose only check holds one measure against one limit. */
const check = (limit: Record<string, unknown>, measure: string, more: Record<string, unknown> = {}): LimitPlan =>
  ownPlan({ checks: [{ check: 'only', title: 'Only', measure, ...limit, source: SOURCE }], ...more });

/** The chance within the limit of the only check. */
async function chance(plan: LimitPlan, row: Row): Promise<number | null> {
  return (await evaluateRow(plan, row)).checks[0]!.chance_within_limit;
}

/** The standard uncertainty of a measure, in psi or psi/min. */
async function uncertainty(plan: LimitPlan, measure: string, row: Row): Promise<number | null> {
  const index = plan.columns.findIndex(({ id }) => id === uncertaintyName(measure));
  return (await evaluateRow(plan, row)).computed[index] as number | null;
}

describe('the normal conformance probability, JCGM 106:2012', () => {
  // 7.3, Zener diode: upper limit -5.40 V, measured -5.47 V, u 0.05 V: p = Phi(1.4) = 0.92; ten digits from Phi(1.4).
  it('of the Zener diode of 7.3 is 0.92', () => {
    expect(normalCdf((-5.4 - -5.47) / 0.05)).toBeCloseTo(0.9192433408, 10);
  });

  it('of the same through a limit set: a value of -5.47 with u 0.05 against at most -5.40', async () => {
    const measures = [{ measure: 'zener', title: 'Zener voltage', unit: 'psi', expression: '-cut_out', meaning: 'A voltage in the place of a pressure.' }];
    const plan = check({ at_most: -5.4, unit: 'psi' }, 'zener', { measures });
    // JCGM 100:2008, 4.3.7: a reading told apart to r has u = r / sqrt(12).
    const row = { cut_out: 5.47, readable_to: (0.05 * Math.sqrt(12)).toFixed(12) };
    const result = (await evaluateRow(plan, row)).checks[0]!;
    expect(result.verdict).toBe('pass');
    expect(result.chance_within_limit).toBeCloseTo(0.9192433408, 9);
  });

  // One-sided z of the normal distribution: JCGM 106:2012, Table 1 (two decimals); NIST/SEMATECH e-Handbook 1.3.6.7.1.
  it.each([
    [0.8, 0.8416212],
    [0.9, 1.2815516],
    [0.95, 1.6448536],
    [0.99, 2.3263479],
    [0.999, 3.0902323],
  ])('is %f at z %f', (probability, z) => {
    expect(normalCdf(z)).toBeCloseTo(probability, 7);
    expect(normalCdf(-z)).toBeCloseTo(1 - probability, 7);
  });

  it('is the same 95 % in the share and in the z that verdicts call sure', () => {
    const value = (name: string): number => FACTS_USED.find(({ fact }) => fact === name)!.value;
    expect(normalCdf(value('sure_z'))).toBeCloseTo(value('sure_share'), 12);
  });

  it('is one half at the limit, whatever the gauge', async () => {
    const plan = shippedPlan('common-practice');
    for (const readable_to of [0.1, 1, 3, 10]) {
      const { checks } = await evaluateRow(plan, { released_primary_start: 100, released_primary_end: 97, released_time: '1:00', light_on_at: 60, readable_to });
      expect(checks.find((one) => one.check === 'released_loss')!.chance_within_limit).toBe(0.5);
      expect(checks.find((one) => one.check === 'warning')!.chance_within_limit).toBe(0.5);
    }
  });

  // 7.3 and 7.4: Phi((T_U - y)/u), Phi((y - T_L)/u), Phi((T_U - y)/u) - Phi((T_L - y)/u); here u = 1.
  it('has its three forms: upper limit, lower limit, both', async () => {
    const row = { cut_out: 61, readable_to: Math.sqrt(12).toFixed(12) };
    expect(await chance(check({ at_most: 62, unit: 'psi' }, 'cut_out'), row)).toBeCloseTo(0.8413447461, 9); // Phi(1)
    expect(await chance(check({ less_than: 62, unit: 'psi' }, 'cut_out'), row)).toBeCloseTo(0.8413447461, 9);
    expect(await chance(check({ at_least: 62, unit: 'psi' }, 'cut_out'), row)).toBeCloseTo(0.1586552539, 9); // Phi(-1)
    expect(await chance(check({ more_than: 62, unit: 'psi' }, 'cut_out'), row)).toBeCloseTo(0.1586552539, 9);
    expect(await chance(check({ between: [60, 62], unit: 'psi' }, 'cut_out'), row)).toBeCloseTo(0.6826894921, 9); // within one sigma
  });

  it('is blank where the readability is not known, and where there is no verdict', async () => {
    const plan = shippedPlan('common-practice');
    const row = { released_primary_start: 100, released_primary_end: 98, released_time: '1:00' };
    const of = async (more: Row) => (await evaluateRow(plan, { ...row, ...more })).checks.find((one) => one.check === 'released_loss')!.chance_within_limit;
    expect(await of({})).toBeNull();
    expect(await of({ readable_to: 1, released_time: '0:59' })).toBeNull();
    expect(await of({ readable_to: 1, released_primary_end: '' })).toBeNull();
    expect(await of({ readable_to: 1 })).not.toBeNull();
  });
});

describe('the standard uncertainty from the readability', () => {
  // JCGM 100:2008: u = delta / sqrt(12) of each reading (F.2.2.1), of a difference delta / sqrt(6), of its rate delta / (sqrt(6) t).
  it.each([
    [1, '5 min', 0.0816496581],
    [2, '1 min', 0.8164965809],
    [0.1, '5 min', 0.0081649658],
    [1, '10 min', 0.040824829],
    [0.5, '2 min', 0.1020620726],
  ])('of a loss read to %f kPa over %s is %f kPa/min', async (readable_to, time, expected) => {
    const row = { released_primary_start: 800, released_primary_end: 790, released_time: time, readable_to, pressure_unit: 'kPa' };
    for (const part of ['released_loss_primary', 'released_loss']) {
      const u = await uncertainty(shippedPlan('common-practice'), part, row);
      expect(u! * KPA_PER_PSI).toBeCloseTo(expected, 10);
    }
  });

  // JCGM 100:2008, 4.3.7: bounds plus and minus a, u = a / sqrt(3) = 0.5773502692 a.
  it('of a reading written as a range is its half-width through the root of 3', async () => {
    const plan = shippedPlan('us-new-hampshire');
    expect(await uncertainty(plan, 'cut_out', { cut_out: '118-122' })).toBeCloseTo(2 * 0.5773502692, 9);
    expect(await uncertainty(plan, 'cut_out', { cut_out: '118-122', readable_to: 1 })).toBeCloseTo(2 * 0.5773502692, 9);
    expect(await uncertainty(plan, 'cut_out', { cut_out: 120, readable_to: 1 })).toBeCloseTo(0.2886751346, 9); // 1 / sqrt(12)
    expect(await uncertainty(plan, 'cut_out', { cut_out: 120 })).toBeNull();
  });

  // JCGM 100:2008, 4.3.8: bounds 16.40 and 16.92, u = 0.15011.
  it('of bounds 16.40 to 16.92 is 0.15', async () => {
    expect(await uncertainty(shippedPlan('us-driver-licence-manual'), 'parking_valve_closes_at', { parking_valve_closes_at: '16.40-16.92' })).toBeCloseTo(0.15011, 5);
  });

  // JCGM 100:2008, 5.1.3: of a multiple of one quantity the uncertainty is that multiple; 2 / sqrt(12) = 0.5773502692.
  it('of a measure of another measure goes on from that one', async () => {
    const measure = (name: string, expression: string): Record<string, unknown> => ({ measure: name, title: name, unit: 'psi', expression, meaning: 'Of the test.' });
    const plan = check({ at_most: 300, unit: 'psi' }, 'twice', { measures: [measure('once', 'cut_out'), measure('twice', '-2 * once')] });
    expect(await uncertainty(plan, 'twice', { cut_out: 120, readable_to: 1 })).toBeCloseTo(0.5773502692, 9);
  });

  // JCGM 100:2008, 5.1.2: the squares of the parts add.
  it('of a loss with one range and one plain reading joins the two', async () => {
    const row = { released_primary_start: '104-108', released_primary_end: 103, released_time: '2:00', readable_to: 1 };
    expect(await uncertainty(shippedPlan('common-practice'), 'released_loss', row)).toBeCloseTo(Math.sqrt(4 / 3 + 1 / 12) / 2, 12);
  });

  // common practice, no source: a needle's width of 0.12 of the step of a dial; the step itself of a digital gauge.
  it('takes 0.12 of the step of a dial and the step of a digital gauge', async () => {
    const plan = shippedPlan('us-new-hampshire');
    const of = async (gauge_step: number): Promise<number> => (await uncertainty(plan, 'cut_out', { cut_out: 120, gauge_step }))! * Math.sqrt(12);
    expect(await of(25)).toBeCloseTo(3, 10);
    expect(await of(10)).toBeCloseTo(1.2, 10);
    expect(await of(2)).toBeCloseTo(2, 10);
    expect(await of(2.01)).toBeCloseTo(0.2412, 10);
    expect(await of(0.1)).toBeCloseTo(0.1, 10);
  });
});
