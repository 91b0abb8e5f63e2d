import { describe, expect, it } from 'vitest';
import { evaluateRow, ownPlan, SOURCE, type Row } from '../support/evaluate-rows.js';

// The sentences of checks. The measures and limits are the tests' own, and so are the words of the measures.
type Parts = Record<string, unknown>;
const MEASURES: readonly Parts[] = [
  { measure: 'pressure', title: 'Tank', unit: 'psi', expression: 'cut_out', meaning: 'x' },
  { measure: 'seconds', title: 'Wait', unit: 's', expression: 'buildup_time', meaning: 'x' },
  { measure: 'part', title: 'Rest', unit: 'share', expression: 'reserve_after / reserve_before', meaning: 'x' },
  { measure: 'count', title: 'Count', unit: '', expression: 'applications_made', meaning: 'x' },
  { measure: 'fixed', title: 'Fixed', unit: 'psi', expression: '7', meaning: 'x' },
  { measure: 'quiet', title: 'Quiet', unit: '', expression: 'not audible_leak', meaning: 'x' },
  { measure: 'ratio', title: 'Ratio', unit: 'psi', expression: 'cut_out / (cut_in - 100)', meaning: 'x' },
];
const check = (measure: string, limit: Parts, more: Parts = {}): Parts => ({ check: 'c', title: 'C', measure, unit: 'psi', source: SOURCE, ...limit, ...more });
const reason = async (checks: Parts | readonly Parts[], row: Row): Promise<string> => (await evaluateRow(ownPlan({ measures: MEASURES, checks: [checks].flat() }), row)).checks[0]!.reason;

describe('the sentence of a check that is decided', () => {
  it.each<[string, Parts, string]>([
    ['at_most', { at_most: 130 }, 'C: tank is 120; at most 130 psi is allowed.'],
    ['less_than', { less_than: 130 }, 'C: tank is 120; less than 130 psi is allowed.'],
    ['at_least', { at_least: 100 }, 'C: tank is 120; at least 100 psi is required.'],
    ['more_than', { more_than: 100 }, 'C: tank is 120; more than 100 psi is required.'],
    ['between', { between: [100, 130] }, 'C: tank is 120; between 100 and 130 psi is required.'],
  ])('says its comparator: %s', async (_name, limit, expected) => {
    expect(await reason(check('pressure', limit), { cut_out: 120 })).toBe(expected);
  });

  it('says seconds as a duration, a share in per cent, and what has no unit without one', async () => {
    expect(await reason(check('seconds', { at_most: 3 }, { unit: 'min' }), { buildup_time: '4:10' })).toBe('C: wait is 4 min 10 s; at most 3 min is allowed.');
    expect(await reason(check('part', { at_least: 50 }, { unit: '%' }), { reserve_before: 120, reserve_after: 75 })).toBe('C: rest is 62.5 %; at least 50 % is required.');
    expect(await reason(check('count', { between: [4, 8] }, { unit: '' }), { applications_made: 5 })).toBe('C: count is 5; between 4 and 8 is required.');
    expect(await reason(check('quiet', { must_be: 'yes' }, { unit: '' }), { audible_leak: 'no' })).toBe('C: quiet is yes; the answer must be yes.');
    expect(await reason(check('quiet', { must_be: 'no' }, { unit: '' }), { audible_leak: 'yes' })).toBe('C: quiet is no; the answer must be no.');
  });

  it('says how grave a failure is, and nothing of it where the check passes', async () => {
    const major = check('pressure', { at_most: 100 }, { severity: 'major' });
    expect(await reason(major, { cut_out: 120 })).toBe('C: tank is 120; at most 100 psi is allowed. Fails (major defect).');
    expect(await reason(major, { cut_out: 100 })).toBe('C: tank is 100; at most 100 psi is allowed.');
    const mixed = [check('pressure', { when: 'vehicles == 2', at_most: 100 }, { severity: 'minor' }), check('pressure', { when: 'vehicles == 3', at_most: 100 }), check('pressure', { at_most: 100 }, { severity: 'dangerous' })];
    const said = async (vehicles: number): Promise<string> => (await reason(mixed, { cut_out: 120, vehicles })).replace('C: tank is 120; at most 100 psi is allowed.', '');
    expect([await said(2), await said(3), await said(1)]).toStrictEqual([' Fails (minor defect).', '', ' Fails (dangerous defect).']);
  });
});

describe('the sentence of a check that is not tested', () => {
  it('names the readings that are missing, and says so where none was entered', async () => {
    const part = check('part', { at_least: 50 }, { unit: '%' });
    expect(await reason(part, {})).toBe('C: not tested; nothing was entered.');
    expect(await reason(part, { reserve_after: 100 })).toBe('C: not tested; blank or not understood: [Reserve before].');
    expect(await reason(part, { reserve_before: 'abc', reserve_after: 100 })).toBe('C: not tested; blank or not understood: [Reserve before].');
    expect(await reason(check('pressure', { at_most: 100 }), {})).toBe('C: not tested; blank or not understood: [Cut-out].');
  });

  it('says so where all were entered and there is no result', async () => {
    expect(await reason(check('ratio', { at_most: 100 }), { cut_out: 120, cut_in: 100 })).toBe('C: not tested; it cannot be worked out from these readings.');
    expect(await reason(check('pressure', { at_most: '2 * cut_in' }), { cut_out: 120 })).toBe('C: not tested; it cannot be worked out from these readings.');
    expect(await reason(check('fixed', { at_most: '2 * cut_in' }), {})).toBe('C: not tested.');
  });
});

describe('the sentence of a check that is not decided', () => {
  const recheck = (when: string, say: string): Parts => ({ checks: ['c'], recheck_when: when, say, source: SOURCE });
  const undecided = async (conditions: readonly Parts[], row: Row): Promise<string | undefined> => (await evaluateRow(ownPlan({ measures: MEASURES, checks: [check('pressure', { at_most: '2 * cut_in' })], conditions }), row)).checks[0]!.reason;

  it('says the first condition that is not met', async () => {
    const conditions = [recheck('cut_out > 110', 'one'), recheck('cut_out > 100', 'two'), recheck('engine_rpm > 900', 'three')];
    expect(await undecided(conditions, { cut_out: 120, cut_in: 90 })).toBe('C: one.');
    expect(await undecided(conditions, { cut_out: 105, cut_in: 90, engine_rpm: 1000 })).toBe('C: two.');
    expect(await undecided(conditions, { cut_out: 95, cut_in: 90, engine_rpm: 1000 })).toBe('C: three.');
    expect(await undecided(conditions, { cut_out: 95, cut_in: 90 })).toBe('C: tank is 95; at most 180 psi is allowed.');
    // A condition whose readings are blank is no reason.
    expect(await undecided([recheck('engine_rpm > 900', 'rpm {engine_rpm}')], { cut_out: 95, cut_in: 90 })).toBe('C: tank is 95; at most 180 psi is allowed.');
  });

  it('looks at every pressure of the measure and of the limit for one that no gauge shows, after the conditions', async () => {
    const words = (pressure: string): string => `C: a reading of ${pressure} is higher than any gauge of this kind shows; check its unit and digits.`;
    expect(await undecided([], { cut_out: 201.256, cut_in: 90 })).toBe(words('201.26 psi'));
    expect(await undecided([], { cut_out: 120, cut_in: 900 })).toBe(words('900 psi'));
    expect(await undecided([], { cut_out: 15, cut_in: 6, pressure_unit: 'bar' })).toBe(words('15 bar'));
    expect(await undecided([recheck('cut_out > 110', 'one')], { cut_out: 300, cut_in: 90 })).toBe('C: one.');
  });

  it('is none for a check without pressures and conditions', async () => {
    const plan = ownPlan({ measures: MEASURES, checks: [check('count', { at_least: 4 }, { unit: '' })] });
    const { computed, verdict } = await evaluateRow(plan, { applications_made: 1e9 });
    expect([computed[plan.columns.findIndex(({ id }) => id === 'check:c:recheck')], verdict]).toStrictEqual([null, 'pass']);
  });

  it('says that advice is advice, and that another route is open', async () => {
    const advice = ' It is outside what the source calls usual: look up the maker\'s value.';
    const route = ' It fails by this route; the rule lets it pass by another: test that one.';
    const against = 'C: tank is 120; at most 100 psi is allowed.';
    const other = check('seconds', { at_most: 3 }, { check: 'd', title: 'D', unit: 'min', either_of: 'r' });
    expect(await reason(check('pressure', { at_most: 100 }, { severity: 'advisory' }), { cut_out: 120 })).toBe(against + advice);
    expect(await reason([check('pressure', { at_most: 100 }, { either_of: 'r' }), other], { cut_out: 120 })).toBe(against + route);
    const both = [check('pressure', { at_most: 100, when: 'vehicles == 2' }, { severity: 'advisory', either_of: 'r' }), check('pressure', { at_most: 100 }, { either_of: 'r' }), other];
    expect([await reason(both, { cut_out: 120, vehicles: 2 }), await reason(both, { cut_out: 120 })]).toStrictEqual([against + advice, against + route]);
    const some = [check('pressure', { at_most: 100, when: 'vehicles == 2' }, { severity: 'advisory' }), check('pressure', { at_most: 100 })];
    expect([await reason(some, { cut_out: 120, vehicles: 2 }), await reason(some, { cut_out: 120 })]).toStrictEqual([against + advice, against]);
  });
});
