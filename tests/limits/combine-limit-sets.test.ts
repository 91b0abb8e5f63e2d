import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeEach, describe, expect, it } from 'vitest';
import { combineLimitSets } from '../../src/limits/combine-limit-sets.js';
import { compileLimitSet, type LimitPlan } from '../../src/limits/compile-limit-set.js';
import { limitSetOf } from '../../src/limits/limit-set-of.js';
import type { LimitSet } from '../../src/limits/limit-set.js';
import { limitSetIds, loadLimitSet, parseLimitSet } from '../../src/limits/load-limit-set.js';
import { evaluateRow, ownSet, SOURCE, type Row } from '../support/evaluate-rows.js';

const own = (id: string, parts: Record<string, unknown>): LimitSet => parseLimitSet(ownSet({ id, title: `${id}, a set of the test`, ...parts }), `${id}.json`);
const CHECK = { check: 'a', title: 'A', measure: 'cut_in', at_least: 80, unit: 'psi', source: SOURCE };
const BORDER = ['us-nevada', 'us-new-hampshire', 'ca-ontario'];
let plan: LimitPlan;
beforeEach(() => {
  plan = compileLimitSet(limitSetOf(BORDER));
});
const loss = (psi: number): Row => ({ released_primary_start: 110, released_primary_end: 110 - psi, released_time: '1:00' });

describe('several limit sets together', () => {
  it('keep the checks of the first under their names, and name the set before those of the others', () => {
    expect(plan.sets.map(({ set, label, checks }) => [set.id, label, checks.map(({ check }) => check)])).toStrictEqual([
      ['us-nevada', 'Nevada', ['released_loss', 'applied_loss', 'buildup']],
      ['us-new-hampshire', 'New Hampshire', ['cut_out', 'cut_in', 'recovery', 'warning', 'released_loss', 'applied_loss'].map((name) => `us_new_hampshire_${name}`)],
      ['ca-ontario', 'Ontario', ['buildup', 'applied_loss', 'applied_loss_long', 'warning', 'cut_out', 'cut_in'].map((name) => `ca_ontario_${name}`)],
    ]);
    expect(plan.checks.map(({ title }) => title)).toContain('Loss, brakes released (New Hampshire)');
    expect(plan.columns.map(({ name }) => name)).toEqual(expect.arrayContaining(['computed.us_nevada_verdict', 'computed.us_new_hampshire_verdict', 'computed.ca_ontario_verdict', 'computed.where_the_sets_disagree']));
    expect(plan.interval?.every).toBe(12);
  });

  it('give the verdict that each gives alone, for rows of every kind', async () => {
    const rows: Row[] = [loss(1), loss(2), loss(2.5), loss(5), { ...loss(2.5), vehicles: 2, cut_out: 140, cut_in: 75 }, { light_on_at: 55, cut_out: 130 }, { applied_primary_start: 100, applied_primary_end: 97, applied_time: '1:00' }, { buildup_time: '4:00', buildup_from: 50, buildup_to: 90 }, {}];
    for (const row of rows) {
      const { borders, checks, verdict } = await evaluateRow(plan, row);
      for (const id of BORDER) {
        const alone = await evaluateRow(compileLimitSet(loadLimitSet(id)), row);
        expect([id, row, borders!.verdicts[id]]).toStrictEqual([id, row, alone.verdict]);
        expect(checks.filter((check) => check.limit_set === id).map((check) => [check.measure, check.verdict, check.limit, check.citation])).toStrictEqual(alone.checks.map((check) => [check.measure, check.verdict, check.limit, check.citation]));
      }
      if (Object.values(borders!.verdicts).includes('fail')) expect(verdict).toBe('fail');
    }
  });

  it('have the worst of their verdicts', async () => {
    const two = compileLimitSet(combineLimitSets([own('one', { checks: [CHECK] }), own('two', { checks: [{ ...CHECK, measure: 'cut_out', at_least: 100 }] })]));
    const verdict = async (row: Row): Promise<string> => (await evaluateRow(two, row)).verdict;
    expect([await verdict({ cut_in: 80, cut_out: 120 }), await verdict({ cut_in: 80 }), await verdict({ cut_out: 300 }), await verdict({ cut_in: 79, cut_out: 300 })]).toStrictEqual(['pass', 'not tested', 'recheck', 'fail']);
  });

  it('say in words where they disagree', async () => {
    // NAC 484D.110(2)(b) and Saf-C 3226.04(b)(8): 2 psi in 1 min for a single vehicle; a combination of three may lose 5 in Nevada and 3 in New Hampshire
    const words = async (row: Row): Promise<string | null> => (await evaluateRow(plan, row)).borders!.disagreement;
    expect(await words(loss(1))).toBeNull();
    expect(await words({ ...loss(4), vehicles: 3 })).toBe('Passes in Nevada, fails in New Hampshire, no limit in Ontario: released loss 4 psi/min.');
    expect(await words({ ...loss(6), vehicles: 3 })).toBe('Fails in Nevada, fails in New Hampshire, no limit in Ontario: released loss 6 psi/min.');
    // Saf-C 3226.04(b): 135 psi; MTO Air Brake Handbook: 1000 kPa (145 psi)
    expect(await words({ cut_out: 140 })).toBe('No limit in Nevada, fails in New Hampshire, passes in Ontario: governor cut-out 140 psi.');
    // cut-in 80 psi: Saf-C takes it; 552 kPa (Ontario) is a little more
    expect(await words({ cut_in: 80, cut_out: 140 })).toBe('No limit in Nevada, fails in New Hampshire, passes in Ontario: governor cut-out 140 psi. No limit in Nevada, passes in New Hampshire, fails in Ontario: governor cut-in 80 psi.');
  });

  it('say of a time how long, of a share how much and of a yes/no which, and of each set how it stands', async () => {
    const words = async (row: Row, ...sets: Record<string, unknown>[]): Promise<string | null> =>
      (await evaluateRow(compileLimitSet(combineLimitSets(sets.map((parts, index) => own(['one', 'two', 'three'][index]!, parts)))), row)).borders!.disagreement;
    const checks = (...limits: Record<string, unknown>[]): Record<string, unknown> => ({ checks: limits.map((limit, index) => ({ ...CHECK, at_least: undefined, check: `c${index}`, title: `C${index}`, ...limit })) });
    const time = (at_most: number): Record<string, unknown> => checks({ measure: 'buildup_time', at_most, unit: 'min' });
    expect(await words({ buildup_time: '4:00' }, time(1), time(9))).toBe('Fails in one, passes in two: build-up time 4 min.');
    const share = (at_least: number): Record<string, unknown> => checks({ measure: 'reserve_share', at_least, unit: '%' });
    expect(await words({ reserve_before: 100, reserve_after: 62.5 }, share(50), share(75))).toBe('Passes in one, fails in two: reserve left 62.5 %.');
    const leak = (must_be: string): Record<string, unknown> => checks({ measure: 'no_audible_leak', must_be, unit: '' });
    expect(await words({ audible_leak: 'yes' }, leak('yes'), leak('no'))).toBe('Fails in one, passes in two: no audible leak: no.');
    expect(await words({ audible_leak: 'no' }, leak('yes'), leak('no'))).toBe('Passes in one, fails in two: no audible leak: yes.');

    const cutIn = (at_least: number | string, more: Record<string, unknown> = {}): Record<string, unknown> => checks({ at_least, ...more });
    const undecided = { ...cutIn(1), conditions: [{ checks: ['c0'], recheck_when: 'cut_in < 90', say: 'x', source: SOURCE }] };
    expect(await words({ cut_in: 85 }, undecided, cutIn(90), cutIn(80))).toBe('Not decided in one, fails in two, passes in three: governor cut-in 85 psi.');
    expect(await words({ cut_in: 85 }, cutIn('0.5 * cut_out'), cutIn(90), cutIn(80))).toBe('Not tested in one, fails in two, passes in three: governor cut-in 85 psi.');
    expect(await words({ cut_in: 85 }, cutIn(90), cutIn(1, { when: 'vehicles == 2' }))).toBe('Fails in one, no limit in two: governor cut-in 85 psi.');
    // One that is not decided or not tested does not disagree, nor do two that fail.
    expect(await words({ cut_in: 85 }, undecided, cutIn(90))).toBeNull();
    expect(await words({ cut_in: 85 }, cutIn('0.5 * cut_out'), cutIn(90))).toBeNull();
    expect(await words({ cut_in: 85 }, cutIn(86), cutIn(90))).toBeNull();
    // A set with several checks of the measure passes where none of them fails.
    const two = (...limits: number[]): Record<string, unknown> => checks(...limits.map((at_least) => ({ at_least })));
    expect(await words({ cut_in: 85 }, two(80, 82), two(81, 90))).toBe('Passes in one, fails in two: governor cut-in 85 psi.');
    expect(await words({ cut_in: 85 }, two(80, 90), two(81, 90))).toBeNull();
    // Where there is no number nothing is decided, and a set that has none has no limit.
    expect(await words({ cut_in: 85 }, checks({ no_number: true }), cutIn(90))).toBe('No limit in one, fails in two: governor cut-in 85 psi.');
    // 100 psi is 689.4757 kPa (NIST SP 811, Appendix B.8); the first figure of the first set is in kPa, and so are the words.
    expect(await words({ cut_in: 100 }, checks({ at_least: 700, unit: 'kPa' }), cutIn(90))).toBe('Fails in one, passes in two: governor cut-in 689.48 kPa.');
  });

  it('are one set where one is named, and the default where none is', () => {
    expect(limitSetOf('us-nevada')).toStrictEqual(loadLimitSet('us-nevada'));
    expect(limitSetOf(['us-nevada'])).toStrictEqual(loadLimitSet('us-nevada'));
    expect(limitSetOf(undefined)).toStrictEqual(loadLimitSet());
    expect(compileLimitSet(loadLimitSet('us-nevada')).columns.map(({ name }) => name)).not.toContain('computed.where_the_sets_disagree');
  });

  it('are named in a text with commas, in a list, or as sets; a file may have a comma in its name', () => {
    expect(limitSetOf(' us-nevada , ca-ontario').id).toBe('us-nevada,ca-ontario');
    expect(limitSetOf(['us-nevada', loadLimitSet('ca-ontario')]).id).toBe('us-nevada,ca-ontario');
    expect(limitSetOf([limitSetOf('us-nevada,ca-ontario'), 'ca-quebec']).id).toBe('us-nevada,ca-ontario,ca-quebec');
    const folder = mkdtempSync(join(tmpdir(), 'limits-'));
    try {
      const path = join(folder, 'ours,2026.json');
      writeFileSync(path, ownSet({ checks: [CHECK] }));
      expect(limitSetOf(path).id).toBe('own');
    } finally {
      rmSync(folder, { recursive: true });
    }
    expect(() => limitSetOf('us-nevada,us-nevda')).toThrow('there is no limit set "us-nevda"; did you mean us-nevada?');
    expect(() => limitSetOf(',')).toThrow('there is no limit set ""');
    expect(() => limitSetOf([])).toThrow('there is no limit set ""');
    expect(() => limitSetOf('us-nevada,us-nevada')).toThrow('us-nevada: the set is named twice; name each set once');
  });

  it('take what is the same once, and refuse what they define differently', () => {
    const measure = { measure: 'm', title: 'M', unit: 'psi', expression: 'cut_out', meaning: 'Of the test.' };
    const column = { name: 'c', kind: 'count', title: 'C', help: 'Of the test.' };
    const one = own('one', { columns: [column], measures: [measure], checks: [CHECK] });
    const same = own('two', { columns: [column], measures: [measure], checks: [CHECK] });
    expect([combineLimitSets([one, same]).measures.length, combineLimitSets([one, same]).columns.length]).toStrictEqual([1, 1]);
    expect(() => combineLimitSets([one, own('two', { measures: [{ ...measure, expression: 'cut_in' }], checks: [CHECK] })])).toThrow('one and two, measure m: the sets do not mean the same by this measure; give the measure of one of them another name');
    expect(() => combineLimitSets([one, own('two', { columns: [{ ...column, kind: 'text' }], checks: [CHECK] })])).toThrow('one and two, column c: the sets do not mean the same by this column; give the column of one of them another name');
    // an optional measure of the program that one of them replaces means something else to the other
    expect(() => combineLimitSets([own('one', { measures: [{ ...measure, measure: 'recovery_time' }], checks: [CHECK] }), own('two', { checks: [CHECK] })])).toThrow('one and two, measure recovery_time');
  });

  it('keep routes and conditions apart', async () => {
    const both = compileLimitSet(limitSetOf(['us-nevada', 'nz-heavy-vehicle']));
    const row = { buildup_run: 'warning off to cut-out', buildup_time: '4:00', buildup_from: 50, buildup_to: 90 };
    expect((await evaluateRow(both, row)).checks.filter(({ limit_set }) => limit_set === 'nz-heavy-vehicle').map(({ check, verdict }) => [check, verdict])).toStrictEqual([['nz_heavy_vehicle_buildup', 'recheck'], ['nz_heavy_vehicle_buildup_applications', 'not tested']]);
  });

  it('can be any of those that ship', () => {
    const all = compileLimitSet(limitSetOf(limitSetIds()));
    expect(all.sets.length).toBe(limitSetIds().length);
    expect(new Set(all.sets.map(({ label }) => label)).size).toBe(all.sets.length);
  });
});
