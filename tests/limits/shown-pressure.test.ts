import { describe, expect, it } from 'vitest';
import { compileLimitSet, type LimitPlan } from '../../src/limits/compile-limit-set.js';
import type { ComputedColumn } from '../../src/limits/computed-column.js';
import { limitSetIds, loadLimitSet, parseLimitSet } from '../../src/limits/load-limit-set.js';
import { shownIn, shownPressure, toShown, unitShown } from '../../src/limits/shown-pressure.js';
import { evaluateRow, ownPlan, ownSet, SOURCE } from '../support/evaluate-rows.js';

// NIST SP 811 (2008), Appendix B.8: pound-force per square inch (psi) to kilopascal (kPa), 6.894757 E+00; bar to kPa, 1.0 E+02.
const KPA_PER_PSI = 6.894757;

const CHECK = { check: 'cut_out', title: 'Cut-out', measure: 'cut_out', at_most: 900, unit: 'kPa', source: SOURCE };
const LOSS = { released_primary_start: 104, released_primary_end: 101, released_time: '1:00' };
const shown = (set: Parameters<typeof ownSet>[0]): string => shownPressure(parseLimitSet(ownSet(set), 'own.json'));
const reasonOf = async (plan: ReturnType<typeof ownPlan>, check: string, row: Readonly<Record<string, string | number>>): Promise<string> => (await evaluateRow(plan, row)).checks.find((result) => result.check === check)!.reason;

describe('the unit in which a limit set shows pressures', () => {
  // The units that the authorities print, as each set cites them: Ontario, Quebec and the Australian manual kPa, GOST 33997 MPa, the European texts bar.
  it('is that of the authority\'s first figure, MPa being shown in kPa; psi without any', () => {
    const others = limitSetIds().flatMap((id) => (shownPressure(loadLimitSet(id)) === 'psi' ? [] : [[id, shownPressure(loadLimitSet(id))]]));
    expect(others).toStrictEqual([['au-heavy-vehicle-manual', 'kPa'], ['ca-ontario', 'kPa'], ['ca-quebec', 'kPa'], ['eu-roadworthiness', 'bar'], ['ru-gost', 'kPa'], ['un-r13', 'bar']]);
  });

  it('is the one that the set names, before any figure', () => {
    expect(shown({ checks: [CHECK] })).toBe('kPa');
    expect(shown({ checks: [CHECK], shown_in: 'bar' })).toBe('bar');
    expect(shown({ checks: [CHECK], shown_in: 'psi' })).toBe('psi');
  });

  it('comes from a set that is extended, unless the own one names another', () => {
    const extended = (more: Record<string, unknown>): string => shown({ extends: 'ca-quebec', checks: [{ ...CHECK, unit: 'psi', at_most: 130 }], ...more });
    expect([extended({}), extended({ shown_in: 'bar' }), shown({ extends: 'common-practice', checks: [CHECK] })]).toStrictEqual(['kPa', 'bar', 'psi']);
  });

  it('does not go by a limit that is worked out, nor by one on a time', () => {
    const worked = { ...CHECK, check: 'valve', measure: 'parking_valve_closes_at', at_most: '0.8 * cut_in', unit: 'psi' };
    const timed = { ...CHECK, check: 'buildup', measure: 'buildup_time', at_most: 5, unit: 'min' };
    expect(shown({ checks: [timed, worked, CHECK] })).toBe('kPa');
    expect(shown({ checks: [timed] })).toBe('psi');
  });

  it('refuses a unit that no gauge has', () => {
    expect(() => parseLimitSet(ownSet({ checks: [CHECK], shown_in: 'MPa' }), 'own.json')).toThrow(/shown_in/);
  });
});

describe('a value as it is shown', () => {
  it('is that of NIST SP 811', () => {
    expect(toShown(1, 'psi', shownIn('kPa'))).toBeCloseTo(KPA_PER_PSI, 6);
    expect(toShown(1, 'psi/min', shownIn('bar'))).toBeCloseTo(KPA_PER_PSI / 100, 8);
    expect(toShown(3, 'psi/s', shownIn('kPa'))).toBeCloseTo(3 * KPA_PER_PSI, 5);
  });

  it('is left as it is in psi, where it is no pressure, and where it is blank', () => {
    expect([toShown(3, 'psi/min', shownIn('psi')), toShown(3, 's', shownIn('kPa')), toShown(3, 'share', shownIn('bar')), toShown(null, 'psi', shownIn('kPa'))]).toStrictEqual([3, 3, 3, null]);
  });

  it('goes by the number on the sheet Limits, and is blank where that is none', () => {
    expect(toShown(3, 'psi', shownIn('kPa', new Map([['fact:psi_per_kPa', 0.15]])))).toBeCloseTo(20, 12);
    expect([0, null].map((number) => toShown(3, 'psi', shownIn('kPa', new Map([['fact:psi_per_kPa', number]]))))).toStrictEqual([null, null]);
  });

  it('has its own unit', () => {
    expect(['psi', 'psi/min', 'psi/s', 's', 'share', '', 'L/min'].map((unit) => unitShown(unit, 'kPa'))).toStrictEqual(['kPa', 'kPa/min', 'kPa/s', 's', 'share', '', 'L/min']);
  });
});

describe('the reasons of a set in kPa', () => {
  const measure = (name: string, says?: string): Record<string, unknown> => ({ measure: name, title: 'Tank loss', unit: 'psi/min', expression: '60 * (released_primary_start - released_primary_end) / released_time', meaning: 'Loss.', ...(says && { says: [{ say: says }] }) });
  const planOf = (name: string): LimitPlan => ownPlan({
    measures: [measure('with_unit', 'the tank lost {value} psi/min of its air'), measure('without_unit', 'the tank lost {value}, and stood at {cut_out}'), measure('says_nothing'), measure('other_unit', 'the tank lost {with_unit} psi/min')],
    checks: [{ check: name, title: 'Tank', measure: name, at_most: 20, unit: 'kPa/min', source: SOURCE }],
    conditions: [{ checks: [name], recheck_when: 'cut_out > 130', say: 'the governor stood at {cut_out} psi, typed as {entered cut_out} {pressure_unit}', source: SOURCE }],
  });

  // 3 psi/min x 6.894757 = 20.684271 kPa/min; 120 psi x 6.894757 = 827.37084 kPa; 140 psi x 6.894757 = 965.26598 kPa.
  it('say psi as kPa, whether the sentence names the unit, leaves it out, or there is none', async () => {
    expect(await reasonOf(planOf('with_unit'), 'with_unit', LOSS)).toBe('Tank: the tank lost 20.68 kPa/min of its air; at most 20 kPa/min is allowed.');
    expect(await reasonOf(planOf('without_unit'), 'without_unit', { ...LOSS, cut_out: 120 })).toBe('Tank: the tank lost 20.68 kPa/min, and stood at 827.37 kPa; at most 20 kPa/min is allowed.');
    expect(await reasonOf(planOf('says_nothing'), 'says_nothing', LOSS)).toBe('Tank: tank loss is 20.68 kPa/min; at most 20 kPa/min is allowed.');
    expect(await reasonOf(planOf('other_unit'), 'other_unit', LOSS)).toBe('Tank: the tank lost 20.68 kPa/min; at most 20 kPa/min is allowed.');
    expect(await reasonOf(planOf('with_unit'), 'with_unit', { ...LOSS, cut_out: 140 })).toBe('Tank: the governor stood at 965.27 kPa, typed as 140 psi.');
  });

  it('leave what was typed as it was typed, and say it in kPa too where it was typed in another unit', async () => {
    const ontario = compileLimitSet(loadLimitSet('ca-ontario'));
    // 54 psi x 6.894757 = 372.316878 kPa; 3.8 bar is 380 kPa.
    expect(await reasonOf(ontario, 'warning', { light_on_at: 54 })).toBe('Low-air warning: the warning light came on at 54 psi (372.32 kPa); at least 380 kPa is required. Fails (major defect).');
    expect(await reasonOf(ontario, 'warning', { light_on_at: 3.8, pressure_unit: 'bar' })).toBe('Low-air warning: the warning light came on at 3.8 bar (380 kPa); at least 380 kPa is required.');
    expect(await reasonOf(ontario, 'warning', { light_on_at: 375, pressure_unit: 'kPa' })).toBe('Low-air warning: the warning light came on at 375 kPa; at least 380 kPa is required. Fails (major defect).');
    expect(await reasonOf(ontario, 'warning', { light_on_at: 'never' })).toBe('Low-air warning: the warning light never came on; at least 380 kPa is required. Fails (major defect).');
  });

  // Both sides of a printed pair that is not equal, 28 kPa = 4 psi: 4 psi x 6.894757 = 27.579 kPa.
  it('show on which side of the printed kPa a loss lies', async () => {
    const ontario = compileLimitSet(loadLimitSet('ca-ontario'));
    const loss = (end: number): Readonly<Record<string, string | number>> => ({ vehicles: 2, pressure_unit: 'kPa', applied_primary_start: 700, applied_primary_end: end, applied_time: '1:00' });
    expect(await reasonOf(ontario, 'applied_loss', loss(672.2))).toContain('27.8 kPa/min; at most 28 kPa/min is allowed.');
    expect((await evaluateRow(ontario, loss(672.2))).checks.find(({ check }) => check === 'applied_loss')!.verdict).toBe('pass');
    expect(await reasonOf(ontario, 'applied_loss', loss(671.99))).toContain('28.01 kPa/min; at most 28 kPa/min is allowed. Fails (major defect).');
  });
});

describe('the computed columns of a set in kPa', () => {
  const columns = (id: string, name: string): ComputedColumn | undefined => compileLimitSet(loadLimitSet(id)).columns.find((column) => column.name === `computed.${name}`);
  it('keep the one in psi, in the working band, and show the one in kPa', () => {
    expect(columns('ca-ontario', 'applied_loss')).toMatchObject({ title: 'Applied loss (psi/min)', band: 'working', decimals: 2 });
    expect(columns('ca-ontario', 'applied_loss_shown')).toMatchObject({ title: 'Applied loss (kPa/min)', band: 'measures', decimals: 1 });
    expect(columns('ca-ontario', 'cut_out_shown')).toMatchObject({ title: 'Governor cut-out (kPa)', band: 'measures', decimals: 0 });
    expect(columns('ca-ontario', 'cut_out_limit_shown')).toMatchObject({ title: 'Governor cut-out: limit (kPa)', band: 'checks' });
    expect(columns('un-r13', 'applied_loss_shown')).toMatchObject({ title: 'Applied loss (bar/min)', decimals: 3 });
    expect(columns('ca-ontario', 'buildup_time')).toMatchObject({ band: 'measures' });
    expect(columns('ca-ontario', 'buildup_time_shown')).toBeUndefined();
  });

  it('are as they were in a set in psi', () => {
    expect(compileLimitSet(loadLimitSet('common-practice')).columns.filter(({ name }) => name.endsWith('_shown'))).toStrictEqual([]);
    expect(columns('common-practice', 'applied_loss')).toMatchObject({ title: 'Applied loss (psi/min)', band: 'measures' });
  });

  it('have kPa, while the measures of the evaluation stay in psi', async () => {
    const plan = compileLimitSet(loadLimitSet('ca-ontario'));
    const evaluation = await evaluateRow(plan, { pressure_unit: 'psi', applied_primary_start: 100, applied_primary_end: 96, applied_time: '1:00', cut_out: 125 });
    const value = (name: string): unknown => evaluation.computed[plan.columns.findIndex((column) => column.name === `computed.${name}`)];
    expect([evaluation.measures['applied_loss'], evaluation.measures['cut_out']]).toStrictEqual([4, 125]);
    expect([value('applied_loss'), value('cut_out')]).toStrictEqual([4, 125]);
    // 4 x 6.894757 = 27.579028; 125 x 6.894757 = 861.844625.
    expect(value('applied_loss_shown')).toBeCloseTo(27.579028, 5);
    expect(value('cut_out_shown')).toBeCloseTo(861.844625, 4);
    expect([value('cut_out_limit_shown'), value('released_loss_shown')]).toStrictEqual([expect.closeTo(1000, 9), null]);
  });
});
