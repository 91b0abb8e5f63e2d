import { beforeEach, describe, expect, it } from 'vitest';
import type { LimitPlan } from '../../src/limits/compile-limit-set.js';
import { evaluateRow, ownPlan, SOURCE, verdictOf } from '../support/evaluate-rows.js';

// A shop's own set: the shipped common practice, one more column, a measure of it, and a check of that measure.
const SET = {
  extends: 'common-practice',
  columns: [
    { name: 'tank_start', group: 'tank', kind: 'pressure', title: 'Supply tank, start', spread: true, help: 'Supply tank when the time starts.', spellings: ['tank at start'] },
    { name: 'tank_end', group: 'tank', kind: 'pressure', title: 'Supply tank, end', help: 'Supply tank when the time is up.' },
    { name: 'tank_time', group: 'tank', kind: 'time', title: 'Supply tank, time', help: 'How long it was watched.' },
    { name: 'drained', group: 'tank', kind: 'yes_no', title: 'Tank drained', help: 'yes if the tank was drained.' },
  ],
  measures: [
    { measure: 'tank_loss', title: 'Tank loss', unit: 'psi/min', expression: '60 * (tank_start - tank_end) / tank_time', held_for: 'tank_time', meaning: 'Loss of the supply tank.', ranks_units: true, recheck: [{ when: 'tank_end > tank_start', say: 'the tank rose from {entered tank_start} to {entered tank_end} {pressure_unit}' }] },
    { measure: 'drained', title: 'Drained', unit: '', expression: 'drained', meaning: 'The tank was drained.' },
  ],
  checks: [
    { check: 'tank', title: 'Supply tank', measure: 'tank_loss', at_most: 7, unit: 'kPa/min', source: SOURCE },
    { check: 'drain', title: 'Drained', measure: 'drained', must_be: 'yes', unit: '', optional: true, source: SOURCE },
    { check: 'released_loss', title: 'Loss, brakes released', measure: 'released_loss', less_than: 'vehicles >= 2 ? 3 : 2', unit: 'psi/min', source: { ...SOURCE, citation: 'shop rule' } },
  ],
  conditions: [{ checks: ['tank'], recheck_when: 'tank_time < 120', say: 'the tank was watched for {duration tank_time} only', source: SOURCE }],
};
let PLAN: LimitPlan;
beforeEach(() => {
  PLAN = ownPlan(SET);
});

const TANK = { tank_start: 120, tank_end: 118, tank_time: '2:00' };
const reasonOf = async (check: string, row: Readonly<Record<string, string | number>>) => (await evaluateRow(PLAN, row)).checks.find((result) => result.check === check)!.reason;

describe('a set of the user\'s own that extends a shipped one', () => {
  it('reads the added columns by name and by another spelling', async () => {
    expect((await evaluateRow(PLAN, TANK)).measures['tank_loss']).toBe(1);
    expect((await evaluateRow(PLAN, { 'Tank at start': 120, tank_end: 118, tank_time: '2:00' })).measures['tank_loss']).toBe(1);
  });

  it('evaluates the added check with its unit, condition and contradiction', async () => {
    // 7 kPa/min is 1.0153 psi/min (NIST SP 811, Appendix B).
    expect(await verdictOf(PLAN, 'tank', TANK)).toBe('pass');
    expect(await verdictOf(PLAN, 'tank', { ...TANK, tank_end: 117.96 })).toBe('fail');
    expect(await reasonOf('tank', TANK)).toBe('Supply tank: tank loss is 1; at most 1.02 psi/min is allowed.');
    expect(await reasonOf('tank', { ...TANK, tank_time: '1:30' })).toBe('Supply tank: the tank was watched for 90 s only.');
    expect(await reasonOf('tank', { ...TANK, tank_end: 121 })).toBe('Supply tank: the tank rose from 120 to 121 psi.');
    expect(await verdictOf(PLAN, 'tank', { tank_start: 120 })).toBe('not tested');
  });

  it('evaluates a yes/no', async () => {
    expect([await verdictOf(PLAN, 'drain', { drained: 'yes' }), await verdictOf(PLAN, 'drain', { drained: 'no' }), await verdictOf(PLAN, 'drain', {})]).toStrictEqual(['pass', 'fail', 'not tested']);
  });

  it('puts its own check in the place of the shipped one, and keeps the others', async () => {
    const row = { released_primary_start: 104, released_primary_end: 102, released_time: '1:00' };
    const of = async (vehicles: number) => (await evaluateRow(PLAN, { ...row, vehicles })).checks.find(({ check }) => check === 'released_loss')!;
    expect(await of(1)).toMatchObject({ verdict: 'fail', limit: 2, comparator: 'less_than', citation: 'shop rule' });
    expect(await of(2)).toMatchObject({ verdict: 'pass', limit: 3 });
    const { checks } = await evaluateRow(PLAN, {});
    expect(checks.map(({ check }) => check)).toStrictEqual(['applied_loss', 'warning', 'buildup', 'tank', 'drain', 'released_loss']);
  });

  it('knows the uncertainty of the added measure, also from a range', async () => {
    const chance = async (more: Record<string, string | number>) => (await evaluateRow(PLAN, { ...TANK, ...more })).checks.find(({ check }) => check === 'tank')!.chance_within_limit;
    expect(await chance({})).toBeNull();
    // u = readable_to / sqrt(6) / 2 min (JCGM 100:2008, F.2.2.1); (7 kPa - 1 psi) / u = 0.01526416 / 0.2041241 = 0.0747789; Phi = 0.5298
    expect(await chance({ readable_to: 1 })).toBeCloseTo(0.5298, 4);
    expect(await chance({ readable_to: 1, tank_start: '119-121' })).not.toBe(await chance({ readable_to: 1 }));
  });
});
