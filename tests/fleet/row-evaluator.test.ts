import { beforeEach, describe, expect, it } from 'vitest';
import type { LimitPlan } from '../../src/limits/compile-limit-set.js';
import { evaluateRow, evaluateRows, ownPlan, shippedPlan, SOURCE, verdictOf, type Row } from '../support/evaluate-rows.js';

let PLAN: LimitPlan;
beforeEach(() => {
  PLAN = shippedPlan('common-practice');
});

const RELEASED: Row = { released_primary_start: 104, released_primary_end: 102, released_secondary_start: 104, released_secondary_end: 103, released_time: '1:00' };
const APPLIED: Row = { applied_primary_start: 100, applied_primary_end: 98, applied_secondary_start: 100, applied_secondary_end: 99, applied_time: '1:00' };
const COMPLETE: Row = { ...RELEASED, ...APPLIED, light_on_at: 70, buzzer_on_at: 68, buildup_from: 60, buildup_to: 122, cut_out: 122, buildup_time: '4:10' };

const reasonOf = async (check: string, row: Row, plan = PLAN): Promise<string> => (await evaluateRow(plan, row)).checks.find((result) => result.check === check)!.reason;

describe('the verdict of an inspection', () => {
  it('is pass when every check that is not optional passes', async () => {
    const evaluation = await evaluateRow(PLAN, { ...COMPLETE, inspection_id: 'A1' });
    expect(evaluation).toMatchObject({ row: 2, inspection_id: 'A1', unit: 'T1', inspected_on: '2026-03-14', verdict: 'pass', reason: 'Passes.' });
    expect(evaluation.checks.map(({ check, verdict }) => [check, verdict])).toStrictEqual([['released_loss', 'pass'], ['applied_loss', 'pass'], ['warning', 'pass'], ['buildup', 'pass']]);
  });

  it('is fail when any check fails, whatever the others say', async () => {
    expect(await evaluateRow(PLAN, { ...COMPLETE, released_secondary_end: 100.5, applied_time: '0:30', buzzer_on_at: '', light_on_at: '' })).toMatchObject({ verdict: 'fail' });
    expect((await evaluateRow(PLAN, { light_on_at: 'never' })).verdict).toBe('fail');
  });

  it('is recheck before it is not tested', async () => {
    const evaluation = await evaluateRow(PLAN, { ...COMPLETE, released_time: '0:45', buildup_time: '' });
    expect(evaluation.verdict).toBe('recheck');
    expect(evaluation.reason).toBe("Not decided. Loss, brakes released: the released loss was timed for 45 s, less than the rule's minute. Build-up: not tested; blank or not understood: [Build-up time].");
  });

  it('is not tested when a check that is needed was left out, and when all were', async () => {
    expect(await evaluateRow(PLAN, { ...COMPLETE, buildup_time: '' })).toMatchObject({ verdict: 'not tested', reason: 'Not complete. Build-up: not tested; blank or not understood: [Build-up time].' });
    const nothing = await evaluateRow(PLAN, {});
    expect(nothing.verdict).toBe('not tested');
    expect(nothing.checks.map(({ verdict }) => verdict)).toStrictEqual(['not tested', 'not tested', 'not tested', 'not tested']);
    expect(nothing.checks.map(({ share_of_limit, chance_within_limit, value }) => [share_of_limit, chance_within_limit, value])).toStrictEqual(Array(4).fill([null, null, null]));
  });

  it('passes without an optional check, and fails by one', async () => {
    const alberta = shippedPlan('ca-alberta');
    const row = { ...COMPLETE, buildup_from: 50, buildup_to: 90, buildup_time: '2:40', light_on_at: 70, buzzer_on_at: 70 };
    expect((await evaluateRow(alberta, row)).verdict).toBe('pass');
    expect((await evaluateRow(alberta, { ...row, parking_valve_closes_at: 46 })).verdict).toBe('fail');
  });

  it('leaves out the checks that do not apply', async () => {
    const manual = shippedPlan('us-driver-licence-manual');
    const checks = async (vehicles: number) => (await evaluateRow(manual, { ...COMPLETE, vehicles })).checks.map(({ check }) => check);
    expect(await checks(1)).not.toContain('trailer_valve');
    expect(await checks(2)).toContain('trailer_valve');
  });

  it('does not remember the row before', async () => {
    const [full, blank, again] = await evaluateRows(PLAN, [COMPLETE, {}, COMPLETE]);
    expect(blank!.measures).toStrictEqual((await evaluateRow(PLAN, {})).measures);
    expect({ ...again, row: 2, inspection: null }).toStrictEqual({ ...full, inspection: null });
  });
});

describe('a check', () => {
  it('takes the worse of the two circuits, and one alone where only one was read', async () => {
    const { checks, measures } = await evaluateRow(PLAN, { ...COMPLETE, released_secondary_end: 101.5 });
    expect(checks[0]).toMatchObject({ value: 2.5, limit: 3, unit: 'psi/min', comparator: 'at_most', share_of_limit: 2.5 / 3 });
    expect(checks[0]!.reason).toBe('Loss, brakes released: the secondary circuit fell from 104 to 101.5 psi in 60 s with the brakes released, 2.5 psi/min; at most 3 psi/min is allowed.');
    expect(measures).toMatchObject({ released_loss_primary: 2, released_loss_secondary: 2.5, released_loss: 2.5 });
    expect((await evaluateRow(PLAN, { released_primary_start: 104, released_primary_end: 102, released_time: 60 })).measures).toMatchObject({ released_loss_primary: 2, released_loss_secondary: null, released_loss: 2 });
  });

  it('counts a loss by the minute, however long it was held', async () => {
    expect((await evaluateRow(PLAN, { ...RELEASED, released_primary_end: 98, released_time: '3:00' })).measures['released_loss']).toBe(2);
  });

  it('takes the later of light and buzzer, and never as 0', async () => {
    const of = async (row: Row) => {
      const result = (await evaluateRow(PLAN, row)).checks.find(({ check }) => check === 'warning')!;
      return [result.value, result.verdict];
    };
    expect(await of({ light_on_at: 72, buzzer_on_at: 61 })).toStrictEqual([61, 'pass']);
    expect(await of({ light_on_at: 72 })).toStrictEqual([72, 'pass']);
    expect(await of({ light_on_at: 72, buzzer_on_at: 'never' })).toStrictEqual([0, 'fail']);
    expect(await of({ light_on_at: 'never', buzzer_on_at: 'never' })).toStrictEqual([0, 'fail']);
    expect(await of({ buzzer_on_at: '' })).toStrictEqual([null, 'not tested']);
    expect(await reasonOf('warning', { light_on_at: 72, buzzer_on_at: 'never' })).toBe('Low-air warning: the buzzer never sounded; at least 60 psi is required.');
  });

  it('of a yes/no, of no number, and of the other comparators', async () => {
    const measures = [{ measure: 'quiet', title: 'No leak heard', unit: '', expression: 'not audible_leak', meaning: 'No leak was heard.' }];
    const check = (name: string, more: Record<string, unknown>) => ({ check: name, title: name, unit: '', source: SOURCE, ...more });
    const plan = ownPlan({
      measures,
      checks: [
        check('silent', { measure: 'quiet', must_be: 'yes' }),
        check('loud', { measure: 'quiet', must_be: 'no' }),
        check('shown', { measure: 'cut_in', no_number: true, unit: 'psi' }),
        check('above', { measure: 'cut_out', more_than: 100, unit: 'psi' }),
        check('within', { measure: 'cut_out', between: [100, 120], unit: 'psi' }),
      ],
    });
    const of = async (row: Row) => Object.fromEntries((await evaluateRow(plan, row)).checks.map((result) => [result.check, [result.value, result.limit, result.verdict]]));
    expect(await of({ audible_leak: 'no', cut_in: 90, cut_out: 100 })).toStrictEqual({
      silent: [true, 'yes', 'pass'],
      loud: [true, 'no', 'fail'],
      shown: [90, null, 'not tested'],
      above: [100, 100, 'fail'],
      within: [100, [100, 120], 'pass'],
    });
    expect(await of({ cut_out: 120.01 })).toMatchObject({ silent: [null, 'yes', 'not tested'], above: [120.01, 100, 'pass'], within: [120.01, [100, 120], 'fail'] });
    // What has no number does not stand in the way of a pass.
    expect((await evaluateRow(ownPlan({ checks: [check('shown', { measure: 'cut_in', no_number: true, unit: 'psi' }), check('above', { measure: 'cut_out', more_than: 100, unit: 'psi' })] }), { cut_out: 101 })).verdict).toBe('pass');
  });

  it('says the source of the alternative that applied', async () => {
    const plan = ownPlan({
      checks: [
        { check: 'a', title: 'A', measure: 'cut_out', when: 'vehicle_kind == "BUS"', at_most: 100, unit: 'psi', source: { ...SOURCE, citation: 'for buses' } },
        { check: 'a', title: 'A', measure: 'cut_out', at_most: 120, unit: 'psi', source: { ...SOURCE, citation: 'for the rest', status: 'read' } },
      ],
    });
    const of = async (row: Row) => (await evaluateRow(plan, { cut_out: 110, ...row })).checks.map(({ citation, status, limit, verdict }) => [citation, status, limit, verdict]);
    expect(await of({ vehicle_kind: 'bus' })).toStrictEqual([['for buses', 'common practice', 100, 'fail']]);
    expect(await of({ vehicle_kind: 'truck' })).toStrictEqual([['for the rest', 'read', 120, 'pass']]);
    expect(await of({})).toStrictEqual([['for the rest', 'read', 120, 'pass']]);
  });
});

describe('readings that cannot decide', () => {
  it.each<[string, string, Row, string]>([
    ['a rise during a loss test', 'released_loss', { ...RELEASED, released_primary_end: 110 }, 'Loss, brakes released: the primary gauge rose from 104 to 110 psi during the released test; a leak cannot raise it, so test again with the engine off.'],
    ['an end without a start', 'applied_loss', { ...APPLIED, applied_secondary_start: '' }, 'Loss, brakes applied: the applied test has a secondary end reading but no start.'],
    ['a loss timed too short', 'applied_loss', { ...APPLIED, applied_time: '0:59' }, "Loss, brakes applied: the applied loss was timed for 59 s, less than the rule's minute."],
    ['needles left to settle too long', 'applied_loss', { ...APPLIED, applied_settle_time: '2:30' }, 'Loss, brakes applied: the needles were left to settle for 2 min 30 s, longer than the 2 min that a single vehicle gets.'],
    ['a build-up that ends where it began', 'buildup', { buildup_from: 60, buildup_to: 60, buildup_time: '4:10' }, 'Build-up: the build-up ends at 60, no higher than it began (60 psi).'],
    ['a build-up short of the cut-out', 'buildup', { buildup_from: 60, buildup_to: 110, cut_out: 120, buildup_time: '4:10' }, 'Build-up: the build-up was stopped at 110 psi, short of the cut-out at 120.'],
    ['a pressure that no gauge shows', 'warning', { light_on_at: 480 }, 'Low-air warning: a reading of 480 psi is higher than any gauge of this kind shows; check its unit and digits.'],
    ['a pressure that no gauge shows, in kPa', 'released_loss', { ...RELEASED, pressure_unit: 'kPa', released_primary_start: 1400, released_primary_end: 1399 }, 'Loss, brakes released: a reading of 1400 kPa is higher than any gauge of this kind shows; check its unit and digits.'],
  ])('%s', async (_what, check, row, reason) => {
    const result = (await evaluateRow(PLAN, row)).checks.find((one) => one.check === check)!;
    expect(result).toMatchObject({ verdict: 'recheck', reason, share_of_limit: null, chance_within_limit: null });
  });

  it('a cut-in that is not below the cut-out', async () => {
    expect(await reasonOf('cut_in', { cut_in: 125, cut_out: 122 }, shippedPlan('us-new-hampshire'))).toBe('Governor cut-in: the cut-in (125 psi) is not below the cut-out (122).');
  });

  it('200 psi is still a pressure', async () => {
    expect(await verdictOf(PLAN, 'warning', { light_on_at: 200 })).toBe('pass');
    expect(await verdictOf(PLAN, 'warning', { light_on_at: 200.01 })).toBe('recheck');
  });

  it('a limit that follows from an implausible reading: 840 was read in kPa', async () => {
    const plan = shippedPlan('us-new-hampshire');
    expect(await verdictOf(plan, 'warning', { light_on_at: 70, cut_out: 840 })).toBe('recheck');
    expect(await verdictOf(plan, 'warning', { light_on_at: 490, cut_out: 840, pressure_unit: 'kPa' })).toBe('pass');
  });

  it('are named even where the words need a reading that is blank', async () => {
    const plan = ownPlan({
      extends: 'common-practice',
      conditions: [{ checks: ['warning'], recheck_when: 'light_on_at > 90', say: 'the cut-out was {entered cut_out}', source: SOURCE }],
    });
    expect(await reasonOf('warning', { light_on_at: 95, cut_out: 120 }, plan)).toBe('Low-air warning: the cut-out was 120.');
    expect(await reasonOf('warning', { light_on_at: 95 }, plan)).toBe('Low-air warning: the readings cannot decide it.');
  });
});

describe('units of pressure', () => {
  it('that are unknown leave the pressures untested, and say so', async () => {
    const evaluation = await evaluateRow(PLAN, { ...COMPLETE, pressure_unit: 'MPa' });
    expect(evaluation.verdict).toBe('not tested');
    expect(evaluation.reason).toContain('Not understood: [Pressure unit].');
    expect(evaluation.checks.map(({ check, verdict, value }) => [check, verdict, value])).toStrictEqual([['released_loss', 'not tested', null], ['applied_loss', 'not tested', null], ['warning', 'not tested', null], ['buildup', 'pass', 250]]);
  });

  it('that stand in a cell hold for that cell', async () => {
    const { measures } = await evaluateRow(PLAN, { ...RELEASED, released_primary_start: '717.0547584895 kPa' });
    expect(measures['released_loss_primary']).toBeCloseTo(2, 8);
  });

  it('are said as they were entered, and results in psi', async () => {
    expect(await reasonOf('released_loss', { released_primary_start: 700, released_primary_end: 690, released_time: '1:00', pressure_unit: 'kPa' })).toBe(
      'Loss, brakes released: the primary circuit fell from 700 to 690 kPa in 60 s with the brakes released, 1.45 psi/min; at most 3 psi/min is allowed.',
    );
  });
});

describe('a text in the place of a number', () => {
  it('is no reading and never a pass', async () => {
    for (const text of ['abc', 'ok', 'good', '?', 'n/a', '-', '∞']) {
      expect(await verdictOf(PLAN, 'warning', { light_on_at: text }), text).toBe('not tested');
      expect(await verdictOf(PLAN, 'buildup', { buildup_time: text }), text).toBe('not tested');
      expect(await verdictOf(PLAN, 'released_loss', { released_primary_start: 104, released_primary_end: 102, released_time: text }), text).toBe('not tested');
    }
  });

  it('is named in the reason', async () => {
    const { reason } = await evaluateRow(PLAN, { ...COMPLETE, buildup_time: 'quick', odometer: 'lots' });
    expect(reason).toBe('Not complete. Build-up: not tested; blank or not understood: [Build-up time]. Not understood: [Odometer] [Build-up time].');
  });
});

describe('a gauge too coarse to be sure', () => {
  const held = (time: string, loss: number, more: Row): Row => ({ released_primary_start: 104, released_primary_end: 104 - loss, released_time: time, ...more });

  it('is said, with the hold and the gauge that would decide it', async () => {
    const row = held('1:00', 2, { gauge_step: 25 });
    const result = (await evaluateRow(PLAN, row)).checks[0]!;
    expect(result.verdict).toBe('pass');
    expect(result.reason).toContain('The gauge is too coarse to be sure (chance of being within the limit 79.3 %). To decide it, hold the test for 2 min 30 s, or use a gauge that can be read to 1.48 psi.');
    // The advice holds: the same leak held so long, or read so finely, is sure; a little less is not.
    const sure = async (again: Row) => (await evaluateRow(PLAN, again)).checks[0]!.chance_within_limit! >= 0.95;
    expect(await sure(held('2:30', 5, { gauge_step: 25 }))).toBe(true);
    expect(await sure(held('2:00', 4, { gauge_step: 25 }))).toBe(false);
    expect(await sure(held('1:00', 2, { readable_to: 1.48 }))).toBe(true);
    expect(await sure(held('1:00', 2, { readable_to: 1.5 }))).toBe(false);
  });

  it('is said of a fail too, and of a reading at the limit', async () => {
    expect((await evaluateRow(PLAN, held('1:00', 4, { gauge_step: 25 }))).checks[0]!.reason).toContain('chance of being within the limit 20.7 %). To decide it, hold the test for 2 min 30 s');
    expect((await evaluateRow(PLAN, held('1:00', 3, { gauge_step: 25 }))).checks[0]!.reason).toMatch(/chance of being within the limit 50 %\): it lies at the limit, and only a finer gauge can tell\.$/);
  });

  it('is not said where the chance is sure', async () => {
    for (const row of [held('1:00', 2, { readable_to: 0.1 }), held('1:00', 8, { readable_to: 0.1 }), held('1:00', 2, {})]) expect((await evaluateRow(PLAN, row)).checks[0]!.reason).not.toContain('coarse');
  });
});
