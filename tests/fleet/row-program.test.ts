import { describe, expect, it } from 'vitest';
import { RowEvaluator } from '../../src/fleet/row-evaluator.js';
import { RowProgram } from '../../src/fleet/row-program.js';
import type { LimitPlan } from '../../src/limits/compile-limit-set.js';
import { NOTHING_FOUND, type Entry, type Inspection } from '../../src/readings/inspection.js';
import { ownPlan, shippedPlan, SOURCE } from '../support/evaluate-rows.js';

/** An inspection with these entries, as a reader would give it. */
function inspectionOf(plan: LimitPlan, entries: Readonly<Record<string, Entry>>, notRead: readonly string[] = []): Inspection {
  return { row: 7, values: plan.dictionary.fields.map(({ name }) => entries[name] ?? null), asFound: NOTHING_FOUND, notRead, extra: [] };
}

const NOTHING = { first: [], next: [] };

const valueOf = (plan: LimitPlan, name: string, entries: Readonly<Record<string, Entry>>, notRead: readonly string[] = []): unknown => {
  const program = new RowProgram(plan, new Map(), NOTHING);
  return program.runToEnd(inspectionOf(plan, entries, notRead))[program.slot(name)];
};

const LOSS = { released_primary_start: 104, released_primary_end: 102, released_time: 60 };

describe('the slots of a row', () => {
  // NIST SP 811 (2008), Appendix B: 1 psi is 6.894757293168361 kPa, by the exact pound, standard gravity and inch.
  it.each<[Entry, readonly string[], number | null]>([
    [null, [], 1],
    ['psi', [], 1],
    ['PSI', [], 1],
    ['kPa', [], 1 / 6.894757293168361],
    ['kpa', [], 1 / 6.894757293168361],
    ['bar', [], 100 / 6.894757293168361],
    ['MPa', [], null],
    [null, ['pressure_unit'], null],
    [null, ['cut_in'], 1],
  ])('the unit %j, with %j not understood, makes %d psi of one', (pressure_unit, notRead, factor) => {
    const plan = shippedPlan('common-practice');
    const [found, pressure] = ['working:psi_factor', 'cut_in'].map((name) => valueOf(plan, name, { pressure_unit, cut_in: 100 }, notRead));
    if (factor === null) expect([found, pressure]).toStrictEqual([null, null]);
    else expect([found, pressure]).toStrictEqual([expect.closeTo(factor, 6), expect.closeTo(100 * factor, 4)]);
  });

  it('hold the entry of each field in its own place', () => {
    const plan = shippedPlan('common-practice');
    const entries = Object.fromEntries(plan.dictionary.fields.map(({ name }, position) => [name, name === 'pressure_unit' ? 'psi' : 1000 + position]));
    const slots = new RowProgram(plan, new Map(), NOTHING).run(inspectionOf(plan, entries));
    expect(slots.slice(0, plan.dictionary.fields.length)).toStrictEqual(Object.values(entries));
  });

  it('hold a pressure as entered too; one that never came is no number, and 0 psi', () => {
    const plan = shippedPlan('common-practice');
    const both = (entry: Entry): unknown[] => ['entered:light_on_at', 'light_on_at'].map((name) => valueOf(plan, name, { light_on_at: entry, pressure_unit: 'kPa' }));
    expect([both('never'), both(null), both(0)]).toStrictEqual([[null, 0], [null, null], [0, 0]]);
  });

  it('hold a time in seconds twice, and what is blank as its field says', () => {
    const plan = shippedPlan('common-practice');
    expect(['released_time', 'seconds:released_time'].map((name) => valueOf(plan, name, { released_time: 90 }))).toStrictEqual([90, 90]);
    // A row without a number of vehicles is of one.
    expect(['vehicles', 'vehicle_kind', 'seconds:released_time'].map((name) => valueOf(plan, name, {}))).toStrictEqual([1, null, null]);
  });

  it('name the cells that were not understood by their titles, in the order of the fields, half-widths left out', () => {
    const plan = ownPlan({ columns: [{ name: 'first', kind: 'pressure', spread: true, title: 'First', help: 'x' }], checks: [{ check: 'a', title: 'A', measure: 'cut_in', at_least: 80, unit: 'psi', source: SOURCE }] });
    const words = (...notRead: string[]): unknown => valueOf(plan, 'working:not_read', {}, notRead);
    expect(words()).toBeNull();
    expect(words('first', 'cut_in')).toBe(' [Cut-in] [First]');
    expect(words('first_half_width')).toBeNull();
    expect(words('first', 'first_half_width')).toBe(' [First]');
  });

  it('are asked for by name, and there is none for a name that is unknown', () => {
    const program = new RowProgram(shippedPlan('common-practice'), new Map(), NOTHING);
    expect(program.find('cut_in')).toBe(program.slot('cut_in'));
    expect(program.find('cut_un')).toBeUndefined();
    expect(() => program.slot('cut_un')).toThrow('no slot for cut_un');
  });
});

describe('the columns of a row', () => {
  it('are those of the plan, in its order', () => {
    const plan = shippedPlan('us-nevada');
    const program = new RowProgram(plan, new Map(), NOTHING);
    const inspection = inspectionOf(plan, LOSS);
    const columns = program.columns(inspection);
    expect(columns).toHaveLength(plan.columns.length);
    for (const [name, value] of [['measure:released_loss', 2], ['check:released_loss:limit', 2], ['check:released_loss:verdict', 'pass'], ['overall:verdict', 'not tested'], ['working:filled', true]] as const) expect([name, columns[plan.columns.findIndex(({ id }) => id === name)]]).toStrictEqual([name, value]);
  });

  it('are worked out when they are asked for, and are made anew for each row: what decides it, what says so, and the rest', () => {
    const plan = shippedPlan('us-nevada');
    const names = ['overall:verdict', 'check:released_loss:reason', 'overall:where_to_look'] as const;
    const program = new RowProgram(plan, new Map(), { first: [names[0]], next: [names[1]] });
    const [good, bad] = [inspectionOf(plan, LOSS), inspectionOf(plan, { ...LOSS, released_primary_end: 90 })];
    const seen = (slots: readonly unknown[]): unknown[] => names.map((name) => slots[program.slot(name)]);
    const ofGood = expect.stringContaining('2 psi/min') as string;
    const ofBad = expect.stringContaining('14 psi/min') as string;
    expect(seen(program.run(good))).toStrictEqual(['not tested', null, null]);
    expect(seen(program.runToWords(good))).toStrictEqual(['not tested', ofGood, null]);
    expect(seen(program.run(bad))).toStrictEqual(['fail', ofGood, null]);
    expect(seen(program.runToEnd(bad))).toStrictEqual(['fail', ofBad, expect.stringContaining('Released loss fails')]);
    expect(seen(program.runToWords(good))).toStrictEqual(['not tested', ofGood, expect.stringContaining('Released loss fails')]);
    expect(seen(program.runToEnd(good))).toStrictEqual(['not tested', ofGood, null]);
  });

  it('come with all that they read, a column that is read early and late too', () => {
    const plan = ownPlan({
      measures: [
        { measure: 'span', title: 'Span', unit: 'psi', expression: 'cut_out - cut_in', meaning: 'The span.' },
        { measure: 'half', title: 'Half', unit: 'psi', expression: 'span / 2', meaning: 'Half of it.' },
      ],
      checks: [{ check: 'a', title: 'A', measure: 'cut_in', at_least: 80, unit: 'psi', source: SOURCE }],
    });
    const halves = (first: string[], next: string[]): unknown[] => {
      const program = new RowProgram(plan, new Map(), { first, next });
      const inspection = inspectionOf(plan, { cut_out: 130, cut_in: 100 });
      return (['run', 'runToWords', 'runToEnd'] as const).map((run) => ['measure:span', 'measure:half'].map((name) => program[run](inspection)[program.slot(name)]).join());
    };
    expect(halves(['measure:half'], ['measure:span'])).toStrictEqual(['30,15', '30,15', '30,15']);
    expect(halves(['measure:span'], ['measure:half'])).toStrictEqual(['30,', '30,15', '30,15']);
    expect(halves([], ['measure:span'])).toStrictEqual([',', '30,', '30,15']);
    expect(halves([], [])).toStrictEqual([',', ',', '30,15']);
  });

  it('are worked out once for a row, and again when the program was told to forget', () => {
    const plan = shippedPlan('us-nevada');
    const program = new RowProgram(plan, new Map(), NOTHING);
    const values = [...inspectionOf(plan, LOSS).values];
    const changing: Inspection = { ...inspectionOf(plan, LOSS), values };
    const loss = (): unknown => program.runToEnd(changing)[program.slot('measure:released_loss')];
    expect(loss()).toBe(2);
    values[plan.dictionary.position.get('released_primary_end')!] = 101;
    expect(loss()).toBe(2);
    program.forget();
    expect(loss()).toBe(3);
  });
});

describe('numbers in the place of those of the limit set', () => {
  const checkOf = (numbers: ReadonlyMap<string, number | null>, entries: Readonly<Record<string, Entry>>): unknown => {
    const plan = shippedPlan('us-nevada');
    const { verdict, limit, value } = new RowEvaluator(plan, { numbers }).evaluate(inspectionOf(plan, entries)).checks[0]!;
    return { verdict, limit, value };
  };

  it('decide as its own would', () => {
    expect(checkOf(new Map(), LOSS)).toStrictEqual({ verdict: 'pass', limit: 2, value: 2 });
    expect(checkOf(new Map([['limit:released_loss:1', 1.5]]), LOSS)).toStrictEqual({ verdict: 'fail', limit: 1.5, value: 2 });
    expect(checkOf(new Map([['condition:released_loss:1', 61]]), LOSS)).toMatchObject({ verdict: 'recheck' });
    // 2 kPa at 0.5 psi each.
    expect(checkOf(new Map([['fact:psi_per_kPa', 0.5]]), { ...LOSS, pressure_unit: 'kPa' })).toStrictEqual({ verdict: 'pass', limit: 2, value: 1 });
  });

  it('may be blank, and then nothing is tested by them', () => {
    expect(checkOf(new Map([['limit:released_loss:1', null]]), LOSS)).toStrictEqual({ verdict: 'not tested', limit: null, value: 2 });
    expect(checkOf(new Map([['fact:psi_per_kPa', null]]), { ...LOSS, pressure_unit: 'kPa' })).toStrictEqual({ verdict: 'not tested', limit: 2, value: null });
  });
});
