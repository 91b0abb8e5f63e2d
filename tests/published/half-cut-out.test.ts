import { describe, expect, it } from 'vitest';
import { evaluateRow, ownPlan, shippedPlan, SOURCE, verdictOf } from '../support/evaluate-rows.js';

/** The limit and the verdicts just under it, at it and just over it. */
async function edgeOf(plan: ReturnType<typeof shippedPlan>, check: string, reading: string, limit: number, row: Readonly<Record<string, string | number>>): Promise<unknown> {
  const at = async (value: number) => verdictOf(plan, check, { ...row, [reading]: value });
  const result = (await evaluateRow(plan, { ...row, [reading]: limit })).checks.find((one) => one.check === check)!;
  return { limit: result.limit, under: await at(limit - 0.01), at: await at(limit), over: await at(limit + 0.01) };
}

describe('limits that follow from another reading', () => {
  // N.H. Saf-C 3226.04(b)(6),(7): rejected when not active "at half the governor cut out"
  it.each([
    [130, 65],
    [120, 60],
    [110, 55],
    [100, 50],
  ])('New Hampshire: cut-out %i psi wants the warning on by %i psi', async (cut_out, limit) => {
    expect(await edgeOf(shippedPlan('us-new-hampshire'), 'warning', 'light_on_at', limit, { cut_out })).toStrictEqual({ limit, under: 'fail', at: 'pass', over: 'pass' });
  });

  it('New Hampshire: the warning is not tested without a cut-out', async () => {
    const { checks } = await evaluateRow(shippedPlan('us-new-hampshire'), { light_on_at: 70 });
    expect(checks.find((one) => one.check === 'warning')).toMatchObject({ verdict: 'not tested', limit: null });
  });

  // 49 CFR 393.51(c)(2), 73 FR 12354: 55 psi and half the cut-out; that the lower of the two applies is from memory.
  // Cut-out 130, 110, 100 gives 55, 55, 50.
  it.each([
    [130, 55],
    [110, 55],
    [100, 50],
  ])('the lesser of 55 psi and half the cut-out: cut-out %i psi gives %i psi', async (cut_out, limit) => {
    const plan = ownPlan({ checks: [{ check: 'warning', title: 'Warning', measure: 'warning_on_at', at_least: 'min(55, cut_out / 2)', unit: 'psi', source: SOURCE }] });
    expect(await edgeOf(plan, 'warning', 'light_on_at', limit, { cut_out })).toStrictEqual({ limit, under: 'fail', at: 'pass', over: 'pass' });
  });

  // 49 CFR 571.121 S5.1.1: 25 s times the actual through the required reservoir volume, from 85 to 100 psi.
  // Twelve times the chambers' 464 cubic inches is 5,568; 8,352 fitted gives 37.5 s.
  it.each([
    [5568, 5568, 25],
    [8352, 5568, 37.5],
    [1.8, 1, 45],
  ])('build-up with %f of volume where %f is required: %f s', async (reservoir_volume, required_reservoir_volume, limit) => {
    const plan = ownPlan({ checks: [{ check: 'buildup', title: 'Build-up', measure: 'buildup_time', at_most: '25 * reservoir_volume / required_reservoir_volume', unit: 's', source: SOURCE }] });
    const { checks } = await evaluateRow(plan, { reservoir_volume, required_reservoir_volume, buildup_time: `${limit} s` });
    expect(checks[0]).toMatchObject({ limit, verdict: 'pass', share_of_limit: 1 });
    expect(await verdictOf(plan, 'buildup', { reservoir_volume, required_reservoir_volume, buildup_time: `${limit + 0.1} s` })).toBe('fail');
  });

  // From 120 psi: 84 psi is 70 % ("not below", 49 CFR 393.50, older paragraph (a)), 96 psi is 80 % (a drop of
  // "not more than" 20 %, Maryland, Session Laws 2004, S.B. 395).
  it.each([
    [70, 84],
    [80, 96],
  ])('a reserve share of %i in a hundred of 120 psi is %i psi', async (share, left) => {
    const plan = ownPlan({ checks: [{ check: 'one_application', title: 'Reserve', measure: 'reserve_share', at_least: share, unit: '%', source: SOURCE }] });
    const at = (reserve_after: number) => verdictOf(plan, 'one_application', { reserve_before: 120, reserve_after });
    expect([await at(left - 0.1), await at(left), await at(left + 0.1)]).toStrictEqual(['fail', 'pass', 'pass']);
  });
});
