import { describe, expect, it } from 'vitest';
import { compileLimitSet } from '../../src/limits/compile-limit-set.js';
import { printedLimits, sourceOf } from '../../src/limits/compile-checks.js';
import { loadLimitSet, parseLimitSet } from '../../src/limits/load-limit-set.js';
import { toWords } from '../../src/expressions/to-words.js';
import type { Tree } from '../../src/expressions/tree.js';
import { evaluateRow, ownPlan, ownSet, shippedPlan, SOURCE } from '../support/evaluate-rows.js';

type Parts = Record<string, unknown>;
const check = (name: string, limit: Parts, more: Parts = {}): Parts => ({ check: name, title: name.toUpperCase(), measure: 'cut_in', unit: 'psi', source: SOURCE, ...limit, ...more });
const measure = (name: string, expression: string, more: Parts = {}): Parts => ({ measure: name, title: name, unit: 'psi', expression, meaning: 'Of the test.', ...more });
const words = (tree: Tree | null): string | null => tree && toWords(tree, (name) => name);

describe('a compiled check', () => {
  it('is what its alternatives say together', () => {
    const plan = ownPlan({ checks: [check('a', { when: 'vehicles == 1', at_least: 80 }), check('a', { at_least: '0.5 * cut_out' }), check('b', { no_number: true }), check('c', { at_most: 120 }, { optional: true })] });
    expect(plan.checks.map(({ check: name, title, comparator, optional, eitherOf, otherRoutes, rechecks }) => [name, title, comparator, optional, eitherOf, otherRoutes, rechecks.length])).toStrictEqual([
      // cut_in has one condition of its own: that it lies below the cut-out.
      ['a', 'A', 'at_least', false, null, [], 1],
      ['b', 'B', 'no_number', true, null, [], 1],
      ['c', 'C', 'at_most', true, null, [], 1],
    ]);
    const [first, second] = plan.checks[0]!.alternatives;
    expect([words(first!.when), first!.limits.map(words), first!.cells]).toStrictEqual(['vehicles equals 1', ['limit:a:1'], [{ name: 'limit:a:1', value: 80 }]]);
    expect([second!.when, second!.limits.map(words), second!.cells]).toStrictEqual([null, ['limit:a:2 times cut_out'], [{ name: 'limit:a:2', value: 0.5 }]]);
    expect(plan.checks[1]!.alternatives[0]).toMatchObject({ limits: [], cells: [] });
    expect(sourceOf(first!)).toMatchObject(SOURCE);
  });

  it('has its limits in the unit of the measure', () => {
    const limits = (limit: Parts, more: Parts): (string | null)[] => ownPlan({ checks: [check('a', limit, more)] }).checks[0]!.alternatives[0]!.limits.map(words);
    expect(limits({ at_least: 80 }, {})).toStrictEqual(['limit:a:1']);
    expect(limits({ at_least: 8 }, { unit: 'bar' })).toStrictEqual(['limit:a:1 times fact:psi_per_bar']);
    expect(limits({ at_least: 0.8 }, { unit: 'MPa' })).toStrictEqual(['limit:a:1 times (fact:psi_per_kPa times 1000)']);
    expect(limits({ between: [6, 8] }, { unit: 'bar' })).toStrictEqual(['limit:a:1_low times fact:psi_per_bar', 'limit:a:1_high times fact:psi_per_bar']);
    expect(limits({ at_most: 5 }, { unit: 'min', measure: 'buildup_time' })).toStrictEqual(['limit:a:1 times 60']);
    expect(limits({ at_most: 75 }, { unit: '%', measure: 'reserve_share' })).toStrictEqual(['limit:a:1 times 0.01']);
    expect(limits({ at_most: 3 }, { unit: 'psi in 5 min', measure: 'suspension_loss' })).toStrictEqual(['limit:a:1 times (1 divided by 5)']);
    // An expression with several numbers keeps them all.
    expect(limits({ at_least: '80 + 2 * vehicles' }, {})).toStrictEqual(['80 plus (2 times vehicles)']);
  });

  it('knows the other routes, each once, and not those of another name', () => {
    const route = (name: string, either_of: string, more: Parts = {}): Parts => check(name, { at_least: 80 }, { either_of, ...more });
    const plan = ownPlan({ checks: [route('a', 'r'), route('b', 'r', { when: 'vehicles == 1' }), route('b', 'r'), route('c', 'r'), route('d', 's'), route('e', 's'), check('f', { at_least: 80 })] });
    expect(plan.checks.map(({ check: name, eitherOf, otherRoutes }) => [name, eitherOf, otherRoutes])).toStrictEqual([
      ['a', 'r', ['b', 'c']],
      ['b', 'r', ['a', 'c']],
      ['c', 'r', ['a', 'b']],
      ['d', 's', ['e']],
      ['e', 's', ['d']],
      ['f', null, []],
    ]);
  });

  it('has the conditions of its measure and then its own, in order, each with the cell of its number', () => {
    const condition = (checks: string[], recheck_when: string, say: string): Parts => ({ checks, recheck_when, say, source: SOURCE });
    const plan = ownPlan({
      measures: [measure('m', 'cut_out', { recheck: [{ when: 'cut_out > 1', say: 'own' }] })],
      checks: [check('a', { at_least: 80 }, { measure: 'm' }), check('b', { at_least: 80 }, { measure: 'm' })],
      conditions: [condition(['a'], 'cut_in > 10', 'one'), condition(['b', 'a'], 'cut_in > cut_out', 'two'), condition(['a'], 'cut_in > 30', 'three')],
    });
    expect(plan.checks.map(({ rechecks }) => rechecks.map(({ say }) => words(say)))).toStrictEqual([['own', 'one', 'two', 'three'], ['own', 'two']]);
    expect(plan.conditions.map(({ cell }) => cell)).toStrictEqual([{ name: 'condition:a:1', value: 10 }, null, { name: 'condition:a:2', value: 30 }]);
    expect(words(plan.conditions[0]!.recheck.when)).toBe('cut_in is more than condition:a:1');
  });

  it('prints its limits as they stand in the file', () => {
    const printed = (limit: Parts, more: Parts = {}): unknown => printedLimits(ownPlan({ checks: [check('a', limit, more)] }).checks[0]!.alternatives[0]!.check);
    expect([printed({ at_least: '0.5 * cut_out' }), printed({ between: [80, 100] }), printed({ no_number: true }), printed({ must_be: 'yes' }, { measure: 'no_audible_leak', unit: '' })]).toStrictEqual([['0.5 * cut_out'], [80, 100], [], []]);
  });
});

describe('a compiled measure', () => {
  const plansOf = (...measures: Parts[]): ReturnType<typeof ownPlan>['measures'] => ownPlan({ measures, checks: measures.map(({ measure: name, unit }) => check(`of_${String(name)}`, { no_number: true }, { measure: name, unit })) }).measures;
  const plan = (name: string, ...measures: Parts[]): ReturnType<typeof ownPlan>['measures'][number] => plansOf(...measures).find((one) => one.measure.measure === name)!;

  it('knows the readings that it rests on, through other measures too, each once', () => {
    const two = [measure('m', 'cut_out - cut_in + cut_out'), measure('n', 'm + buildup_to + cut_in')];
    expect(plan('m', ...two).readings).toStrictEqual(['cut_out', 'cut_in']);
    expect(plan('n', ...two).readings).toStrictEqual(['cut_out', 'cut_in', 'buildup_to']);
    const high = measure('h', '', { expression: undefined, highest_of: ['m', 'n'] });
    expect(plan('h', ...two, high).readings).toStrictEqual(['cut_out', 'cut_in', 'buildup_to']);
  });

  it('is held for the time of its test, and the worst of several where all are held for the same', () => {
    const held = (name: string, held_for?: string): Parts => measure(name, 'cut_out', { held_for });
    const high = measure('h', '', { expression: undefined, highest_of: ['m', 'n'] });
    expect(plan('m', held('m', 'released_time')).heldFor).toBe('released_time');
    expect(plan('m', held('m')).heldFor).toBeNull();
    expect(plan('h', held('m', 'released_time'), held('n', 'released_time'), high).heldFor).toBe('released_time');
    expect(plan('h', held('m', 'released_time'), held('n', 'applied_time'), high).heldFor).toBeNull();
    expect(plan('h', held('m', 'released_time'), held('n'), high).heldFor).toBeNull();
  });

  it('has an uncertainty where pressures enter, and the worst of several where each part has', () => {
    const [pressure, time] = [measure('m', 'cut_out - cut_in'), measure('n', 'buildup_time')];
    const high = (of: string[]): Parts => measure('h', '', { expression: undefined, highest_of: of });
    expect(plan('m', pressure).uncertainty).not.toBeNull();
    expect(plan('n', time).uncertainty).toBeNull();
    expect(plan('h', pressure, measure('o', 'cut_in'), high(['m', 'o'])).uncertainty).not.toBeNull();
    expect(plan('h', pressure, time, high(['m', 'n'])).uncertainty).toBeNull();
    expect(plan('t', measure('t', 'audible_leak', { unit: '' })).uncertainty).toBeNull();
  });

  it('of one circuit is told apart, and the worst of several by its own circuit or by those of its parts', () => {
    const [front, rear] = [measure('m', 'cut_out', { circuit: 'front' }), measure('n', 'cut_in', { circuit: 'rear' })];
    const high = (more: Parts = {}): Parts => measure('h', '', { expression: undefined, lowest_of: ['m', 'n', 'm'], ...more });
    const circuits = (...measures: Parts[]): unknown => plan('h', ...measures).circuits.map(({ circuit, measure: name, type }) => [circuit, name, type]);
    expect(circuits(front, rear, high())).toStrictEqual([['front', 'm', 'number'], ['rear', 'n', 'number']]);
    expect(circuits(front, rear, high({ circuit: 'all' }))).toStrictEqual([['all', 'h', 'number']]);
    expect(plan('m', measure('m', 'cut_out')).circuits).toStrictEqual([]);
  });

  it('says the conditions of all its parts, each once', () => {
    const own = measure('m', 'cut_out', { recheck: [{ when: 'cut_out > 1', say: 'x' }] });
    expect(plan('h', own, measure('n', 'cut_in'), measure('h', '', { expression: undefined, highest_of: ['m', 'n', 'm'] })).rechecks).toHaveLength(1);
  });

  it('says its first clause that holds, and of several the clause of the one that counts', async () => {
    const says = [{ when: 'cut_out > 130', say: 'high at {value}' }, { when: 'vehicles == 2', say: 'two at {value}' }, { say: 'else {value}' }];
    const own = ownPlan({ measures: [measure('m', 'cut_out', { says }), measure('n', 'cut_in'), measure('h', '', { expression: undefined, highest_of: ['m', 'n'] }), measure('l', '', { expression: undefined, lowest_of: ['m', 'n'] })], checks: [check('a', { at_most: 200 }, { measure: 'h' }), check('b', { at_least: 1 }, { measure: 'l' })] });
    const said = async (row: Record<string, number>): Promise<string[]> => (await evaluateRow(own, row)).checks.map(({ reason }) => /: (.*);/.exec(reason)?.[1] ?? reason);
    expect(await said({ cut_out: 140, cut_in: 90 })).toStrictEqual(['high at 140', 'n is 90']);
    expect(await said({ cut_out: 120, cut_in: 90, vehicles: 2 })).toStrictEqual(['two at 120', 'n is 90']);
    expect(await said({ cut_out: 120, cut_in: 90 })).toStrictEqual(['else 120', 'n is 90']);
    expect(await said({ cut_out: 80 })).toStrictEqual(['else 80', 'else 80']);
  });
});

describe('the words of a measure', () => {
  const said = async (measures: readonly Parts[], limit: Parts, row: Record<string, number | string>): Promise<string> => (await evaluateRow(ownPlan({ measures, checks: [check('a', limit, { measure: 'm', unit: '', ...limit })] }), row)).checks[0]!.reason!;

  it('tell a share in per cent', async () => {
    const share = measure('m', 'cut_in / cut_out', { unit: 'share' });
    expect(await said([share], { at_least: 80, unit: '%' }, { cut_in: 75.5, cut_out: 100 })).toContain('m is 75.5 %;');
  });

  it('tell a yes from a no', async () => {
    const leak = measure('m', 'audible_leak', { unit: '' });
    expect(await said([leak], { must_be: 'no' }, { audible_leak: 'yes' })).toContain('m is yes');
    expect(await said([leak], { must_be: 'yes' }, { audible_leak: 'no' })).toContain('m is no');
  });

  it('name their place where a name in them is unknown', () => {
    const placeOf = (more: Parts): string => {
      try {
        ownPlan({ measures: [measure('m', 'cut_out', more)], checks: [check('a', { at_most: 200 }, { measure: 'm' })] });
      } catch (error) {
        return (error as Error).message;
      }
      return 'taken';
    };
    const [says, recheck] = ['measure m, says', 'measure m, recheck'];
    expect(placeOf({ says: [{ say: 'at {cut_oot}' }] })).toContain(says);
    expect(placeOf({ says: [{ when: 'cut_oot > 1', say: 'high' }, { say: 'low' }] })).toContain(says);
    expect(placeOf({ recheck: [{ when: 'cut_oot > 1', say: 'high' }] })).toContain(recheck);
    expect(placeOf({ recheck: [{ when: 'cut_out > 1', say: 'at {cut_oot}' }] })).toContain(recheck);
  });

  it('pass over a clause whose condition cannot be decided', async () => {
    const says = [{ when: 'buildup_to > 90', say: 'built up past 90' }, { say: 'else {value}' }];
    const one = measure('m', 'cut_out', { says });
    expect(await said([one], { at_most: 200, unit: 'psi' }, { cut_out: 120, buildup_to: 100 })).toContain('built up past 90');
    expect(await said([one], { at_most: 200, unit: 'psi' }, { cut_out: 120 })).toContain('else 120');
  });

  it('are those of the part that counts, of three and where one is blank', async () => {
    const parts = [measure('x', 'cut_out'), measure('y', 'cut_in'), measure('z', 'buildup_to'), measure('m', '', { expression: undefined, highest_of: ['x', 'y', 'z'] })];
    const of = (row: Record<string, number>): Promise<string> => said(parts, { at_most: 200, unit: 'psi' }, row);
    expect(await of({ cut_out: 90, cut_in: 80, buildup_to: 100 })).toContain('z is 100');
    expect(await of({ cut_out: 90, cut_in: 110, buildup_to: 100 })).toContain('y is 110');
    expect(await of({ cut_out: 120, cut_in: 110, buildup_to: 100 })).toContain('x is 120');
    expect(await of({ cut_in: 90 })).toContain('y is 90');
  });
});

describe('what a plan takes part of', () => {
  it('is every half-width that the table has, or that is not said, and no measure for diagnosis unless it is asked for', () => {
    const set = loadLimitSet('common-practice');
    const names = (options?: Parameters<typeof compileLimitSet>[1]): string[] => compileLimitSet(set, options).measures.map(({ measure: one }) => one.measure);
    expect(names()).not.toContain('leak_free_air');
    expect(names({ diagnosis: new Set(['leak_free_air']) })).toContain('leak_free_air');
    expect(names({ diagnosis: new Set(['leak_free_air']) })).not.toContain('leak_hole');
    // What is told for diagnosis decides nothing, so that nobody asks how sure it is.
    expect(compileLimitSet(set, { diagnosis: new Set(['leak_free_air']) }).measures.find(({ measure: one }) => one.measure === 'leak_free_air')!.uncertainty).toBeNull();
    const half = (optionalColumns?: ReadonlySet<string>): number => [...compileLimitSet(set, optionalColumns ? { optionalColumns } : {}).optionalColumns].filter((name) => name.endsWith('_half_width')).length;
    expect(half(new Set())).toBe(0);
    expect(half(new Set(['cut_in_half_width']))).toBeLessThanOrEqual(1);
    expect(half()).toBeGreaterThan(10);
  });

  it('is the set\'s own measure before an optional one of that name', () => {
    const plan = ownPlan({ measures: [measure('recovery_time', 'buildup_time', { unit: 's', title: 'Mine' })], checks: [check('a', { at_most: 60 }, { measure: 'recovery_time', unit: 's' })] });
    expect(plan.measures.filter(({ measure: one }) => one.measure === 'recovery_time').map(({ measure: one }) => one.title)).toStrictEqual(['Mine']);
  });

  it('has a cell for every number and none for what has several or none', () => {
    const plan = ownPlan({ checks: [check('a', { at_least: 80 }), check('b', { at_least: '80 + 2 * vehicles' }), check('c', { at_most: 'cut_out' }), check('d', { between: [80, 'cut_out'] })], interval: { months: 6, source: SOURCE } });
    expect(plan.cells).toStrictEqual([{ name: 'limit:a:1', value: 80 }, { name: 'limit:d:1_low', value: 80 }, { name: 'limit:interval:months', value: 6 }]);
  });
});

describe('a limit set is refused', () => {
  const refused = (parts: Parts): string => {
    try {
      compileLimitSet(parseLimitSet(ownSet(parts), 'own.json'));
    } catch (error) {
      return (error as Error).message;
    }
    return 'taken';
  };
  const DIFFER = 'check a: its alternatives differ in measure, comparator, title, optional, either_of or without_ends; give the one that differs a name of its own';

  it.each<[string, Parts, Parts]>([
    ['title', {}, { title: 'B' }],
    ['optional', {}, { optional: true }],
    ['either_of', { either_of: 'r' }, { either_of: 's' }],
    ['without_ends', { at_least: undefined, between: [1, 2], without_ends: 'lower' }, { at_least: undefined, between: [1, 2], without_ends: 'upper' }],
    ['no_number', { at_least: undefined, no_number: true }, { at_least: undefined, no_number: 'not known' }],
  ])('whose alternatives differ in %s', (_what, first, second) => {
    expect(refused({ checks: [check('a', { at_least: 80 }, { when: 'vehicles == 1', ...first }), check('a', { at_least: 80 }, second)] })).toBe(DIFFER);
  });

  it('that gives two checks one title, whatever its case', () => {
    expect(refused({ checks: [check('a', { at_least: 80 }, { title: 'Cut-in' }), check('b', { at_least: 80 }, { title: 'CUT-IN' })] })).toBe('check b: its title "CUT-IN" is that of the check a; give each check a title of its own');
    expect(refused({ checks: [check('a', { at_least: 80 }, { when: 'vehicles == 1' }), check('a', { at_least: 80 })] })).toBe('taken');
  });

  it('that keeps a measure in a unit of diagnosis without being one', () => {
    expect(refused({ measures: [measure('m', 'cut_out', { unit: 'L/min' })], checks: [check('a', { at_least: 80 })] })).toBe('measure m: the unit "L/min" is not one that measures are kept in; use psi, psi/min, s, psi/s, share, or an empty text');
  });

  it('with a condition of a check far from any', () => {
    expect(refused({ checks: [check('a', { at_least: 80 })], conditions: [{ checks: ['something'], recheck_when: 'cut_in > 1', say: 'x', source: SOURCE }] })).toBe('condition 1 of something: no check is named something; name a check of this set');
  });

  it('with a part of a measure far from any', () => {
    expect(refused({ measures: [measure('m', '', { expression: undefined, highest_of: ['cut_in', 'something_else_again'] })], checks: [check('a', { at_least: 80 })] })).toBe('measure m: no measure above it is named something_else_again; put the measures that it is made of before it');
  });

  it('not with ends of a band that are the same', () => {
    expect(refused({ checks: [check('a', { between: [80, 80] })] })).toBe('taken');
    expect(shippedPlan('common-practice').set.id).toBe('common-practice');
  });
});
