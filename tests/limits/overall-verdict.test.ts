import { describe, expect, it } from 'vitest';
import { evaluateRow, ownPlan, shippedPlan, SOURCE, type Row } from '../support/evaluate-rows.js';
import type { LimitPlan } from '../../src/limits/compile-limit-set.js';

type Parts = Record<string, unknown>;
const check = (name: string, measure: string, limit: Parts, more: Parts = {}): Parts => ({ check: name, title: name.toUpperCase(), measure, unit: 'psi', source: SOURCE, ...limit, ...more });
const verdict = async (row: Row, ...checks: Parts[]): Promise<string> => (await evaluateRow(ownPlan({ checks }), row)).verdict;
const computed = async (plan: LimitPlan, id: string, row: Row): Promise<unknown> => (await evaluateRow(plan, row)).computed[plan.columns.findIndex((column) => column.id === id)];

describe('the verdict over all checks', () => {
  const [low, high] = [check('low', 'cut_in', { at_least: 80 }), check('high', 'cut_out', { at_most: 130 })];
  const optional = { ...high, optional: true };

  it.each<[string, Row, readonly Parts[], string]>([
    ['all pass', { cut_in: 80, cut_out: 130 }, [low, high], 'pass'],
    ['one fails', { cut_in: 79, cut_out: 130 }, [low, high], 'fail'],
    ['one fails and the other was left out', { cut_in: 79 }, [low, high], 'fail'],
    ['one fails and the other is implausible', { cut_in: 79, cut_out: 300 }, [low, high], 'fail'],
    ['one is implausible and the other was left out', { cut_out: 300 }, [low, high], 'recheck'],
    ['one was left out', { cut_in: 80 }, [low, high], 'not tested'],
    ['one that is optional was left out', { cut_in: 80 }, [low, optional], 'pass'],
    ['one that is optional fails', { cut_in: 80, cut_out: 131 }, [low, optional], 'fail'],
    ['only the one that is needed was left out', { cut_out: 130 }, [low, optional], 'not tested'],
    ['all are optional and left out', {}, [optional], 'not tested'],
    ['all are optional and one passes', { cut_out: 130 }, [optional, { ...low, optional: true }], 'pass'],
    ['there is no number', { cut_in: 80, cut_out: 130 }, [low, check('high', 'cut_out', { no_number: true })], 'pass'],
    ['there are no numbers at all', { cut_out: 130 }, [check('high', 'cut_out', { no_number: true })], 'not tested'],
    ['a cell that no check needs cannot be read', { cut_in: 80, cut_out: 130, odometer: 'lots' }, [low, high], 'recheck'],
    ['such a cell beside a failure', { cut_in: 79, cut_out: 130, odometer: 'lots' }, [low, high], 'fail'],
    ['such a cell beside what was left out', { cut_in: 80, odometer: 'lots' }, [low, high], 'not tested'],
  ])('%s', async (_what, row, checks, expected) => {
    expect(await verdict(row, ...checks)).toBe(expected);
  });

  it('opens its reason with a word for it', async () => {
    const opening = async (row: Row): Promise<string> => (await evaluateRow(ownPlan({ checks: [low, high] }), row)).reason.split('.')[0]!;
    expect([await opening({ cut_in: 80, cut_out: 130 }), await opening({ cut_in: 79 }), await opening({ cut_out: 300 }), await opening({ cut_in: 80 })]).toStrictEqual(['Passes', 'Fails', 'Not decided', 'Not complete']);
  });

  it('says nothing of a check without a number', async () => {
    const { reason } = await evaluateRow(ownPlan({ checks: [low, check('high', 'cut_out', { no_number: true })] }), { cut_in: 80 });
    expect(reason).toBe('Passes.');
  });

  it('is open while another route cannot be decided, and so is the route that fails', async () => {
    const [first, second] = [{ ...low, either_of: 'r' }, { ...high, either_of: 'r' }];
    const plan = ownPlan({ checks: [first, second] });
    const of = async (row: Row): Promise<string[]> => {
      const { checks, verdict: whole } = await evaluateRow(plan, row);
      return [...checks.map((one) => one.verdict), whole];
    };
    expect(await of({ cut_in: 79, cut_out: 300 })).toStrictEqual(['recheck', 'recheck', 'recheck']);
    expect(await of({ cut_in: 79, cut_out: 131 })).toStrictEqual(['fail', 'fail', 'fail']);
    expect(await of({ cut_in: 81, cut_out: 300 })).toStrictEqual(['pass', 'not tested', 'pass']);
  });

  it('names the gravest severity among the checks that fail, by the alternative that applies', async () => {
    const alternatives = [check('low', 'cut_in', { when: 'vehicles == 2', at_least: 80 }, { severity: 'dangerous' }), check('low', 'cut_in', { at_least: 80 }, { severity: 'minor' })];
    const major = check('high', 'cut_out', { at_most: 130 }, { severity: 'major' });
    const opening = async (row: Row): Promise<string> => (await evaluateRow(ownPlan({ checks: [...alternatives, major] }), row)).reason.split('.')[0]!;
    expect(await opening({ cut_in: 79, cut_out: 120, vehicles: 2 })).toBe('Fails (dangerous defect)');
    expect(await opening({ cut_in: 79, cut_out: 120, vehicles: 1 })).toBe('Fails (minor defect)');
    expect(await opening({ cut_in: 79, cut_out: 140, vehicles: 1 })).toBe('Fails (major defect)');
    expect(await opening({ cut_in: 81, cut_out: 140, vehicles: 2 })).toBe('Fails (major defect)');
  });
});

describe('the reason of many checks', () => {
  const many = (count: number): LimitPlan => ownPlan({ checks: Array.from({ length: count }, (_, index) => check(`c${index + 1}`, index % 2 === 0 ? 'cut_in' : 'cut_out', { at_least: 80 + index })) });
  const parts = (plan: LimitPlan): string[] => plan.columns.map(({ id }) => id).filter((id) => /^overall:(failed|undecided|doubtful):/.test(id));

  it('is in one piece up to ten, and then in pieces of eight', () => {
    expect(parts(many(10))).toStrictEqual([]);
    expect(parts(many(11))).toStrictEqual(['failed', 'undecided', 'doubtful'].flatMap((kind) => [1, 2].map((piece) => `overall:${kind}:${piece}`)));
    expect(parts(many(17)).length).toBe(9);
    expect(many(11).columns.find(({ id }) => id === 'overall:failed:2')).toMatchObject({ name: 'computed.reason_part_2', band: 'working' });
  });

  it.each([10, 11, 17])('says the same of %i checks: those that fail, then those that were not tested', async (count) => {
    const { reason } = await evaluateRow(many(count), { cut_in: 10 });
    const of = (odd: boolean): number[] => Array.from({ length: count }, (_, index) => index + 1).filter((number) => (number % 2 === 1) === odd);
    const failed = of(true).map((number) => `C${number}: the governor cut in at 10 psi; at least ${79 + number} psi is required.`);
    const left = of(false).map((number) => `C${number}: not tested; blank or not understood: [Cut-out].`);
    expect(reason).toBe(['Fails.', ...failed, ...left].join(' '));
  });

  it('has a word on each pass that the gauge is too coarse for', async () => {
    for (const count of [2, 11]) {
      const { reason } = await evaluateRow(many(count), { cut_in: 95, cut_out: 99, readable_to: 3 });
      // u = 3 / sqrt(12) = 0.866; 95 against at least 90 (C11) lies 5.77 u away, and every other check farther.
      expect(reason).toBe('Passes.');
      const close = (await evaluateRow(many(count), { cut_in: 80 + count, cut_out: 84 + count, readable_to: 30 })).reason;
      expect(close).toMatch(new RegExp(`^Passes\\..* C${count}: within the limit with a chance of only \\d+(\\.\\d)? % on this gauge\\.`));
    }
  });
});

describe('the highest share of a leak\'s limit', () => {
  const released = (psi: number): Row => ({ released_primary_start: 100, released_primary_end: 100 - psi, released_time: '1:00' });
  const applied = (psi: number): Row => ({ applied_primary_start: 100, applied_primary_end: 100 - psi, applied_time: '1:00' });

  it('is that of the worst leak, whatever the other checks say', async () => {
    const plan = shippedPlan('common-practice');
    // At most 3 psi in a minute with the brakes released, 4 with them applied: common practice, no source.
    expect(await computed(plan, 'overall:leak_share', { ...released(1.5), ...applied(1) })).toBe(0.5);
    expect(await computed(plan, 'overall:leak_share', { ...released(1.5), ...applied(3), light_on_at: 10 })).toBe(0.75);
    expect(await computed(plan, 'overall:leak_share', { light_on_at: 10 })).toBeNull();
  });

  it('is that of all checks where none is of a leak, and there is none without a share', async () => {
    const plan = ownPlan({ checks: [check('low', 'cut_in', { at_least: 80 }), check('high', 'cut_out', { at_most: 125 })] });
    expect(await computed(plan, 'overall:leak_share', { cut_in: 160, cut_out: 100 })).toBe(0.8);
    expect(await computed(plan, 'overall:leak_share', { cut_in: 64, cut_out: 100 })).toBe(1.25);
    const one = ownPlan({ checks: [check('low', 'cut_in', { at_least: 80 })] });
    expect(await computed(one, 'overall:leak_share', { cut_in: 160 })).toBe(0.5);
    const none = ownPlan({ checks: [check('quiet', 'no_audible_leak', { must_be: 'yes' }, { unit: '' })] });
    expect(none.columns.some(({ id }) => id === 'overall:leak_share')).toBe(false);
  });

  it('of a check is the measure by the limit, or the limit by the measure', async () => {
    const share = async (limit: Parts, cut_out: number | string): Promise<number | null> => (await evaluateRow(ownPlan({ checks: [check('c', 'cut_out', limit)] }), { cut_out })).checks[0]!.share_of_limit;
    expect([await share({ at_most: 125 }, 100), await share({ less_than: 125 }, 100), await share({ at_least: 100 }, 125), await share({ more_than: 100 }, 125)]).toStrictEqual([0.8, 0.8, 0.8, 0.8]);
    // Of a band the nearer end counts: 100 / 125 against 80 / 100, 120 / 125 against 80 / 120, 85 / 125 against 80 / 85.
    expect([await share({ between: [80, 125] }, 100), await share({ between: [80, 125] }, 120), await share({ between: [80, 125] }, 85)]).toStrictEqual([0.8, 0.96, 80 / 85]);
    expect([await share({ at_most: 125 }, ''), await share({ at_most: 125 }, 300), await share({ no_number: true }, 100)]).toStrictEqual([null, null, null]);
  });
});
