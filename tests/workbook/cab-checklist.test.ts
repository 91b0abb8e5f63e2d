import { describe, expect, it } from 'vitest';
import { checkReadings } from '../../src/limits/check-readings.js';
import { limitSetIds } from '../../src/limits/load-limit-set.js';
import { fieldDictionary } from '../../src/readings/dictionary.js';
import { HALF_WIDTH } from '../../src/readings/field.js';
import { checklistOf, type Checklist } from '../../src/workbook/cab-checklist.js';
import { cabSteps } from '../../src/workbook/cab-steps.js';
import { layOutReadings } from '../../src/workbook/readings-layout.js';
import { ownPlan, shippedPlan, SOURCE } from '../support/evaluate-rows.js';
import type { LimitPlan } from '../../src/limits/compile-limit-set.js';

const listOf = (plan: LimitPlan): Checklist => checklistOf(plan, (name) => layOutReadings({ plan, fileColumns: [], overflow: 0, rowCount: 1 }).lettersOf(name) !== null);
const boxesOf = ({ steps }: Checklist): string[] => steps.flatMap(({ boxes }) => boxes.map(({ name }) => name));
const names = (fields: readonly { readonly name: string }[]): string[] => fields.map(({ name }) => name);
const stepsOf = ({ steps }: Checklist): string[] => steps.map(({ step }) => step.step);

describe('the steps in workbooks/cab-steps.json', () => {
  it('name every reading that is taken in the cab once, and no other', () => {
    const { fields } = fieldDictionary();
    // Who, when, which and with what gauge stand in the heading; a follow-up is no reading of the day; words are written as notes.
    const taken = fields.filter(({ name, group, kind }) => !['identity', 'gauge', 'followup'].includes(group) && kind !== 'text' && !name.endsWith(HALF_WIDTH));
    const named = cabSteps().steps.flatMap(({ readings }) => readings);
    expect([...named].sort()).toStrictEqual(names(taken).sort());
  });

  it('say that they are common practice without a source', () => {
    expect(cabSteps()).toMatchObject({ status: 'common practice', source: 'common practice, no source' });
  });

  // Order of the tests: common practice, no source.
  it('begin with the chocks, have the engine off before a loss is timed, and end with the brakes set', () => {
    expect(names(cabSteps().steps.map(({ step: name }) => ({ name })))).toStrictEqual(['secure', 'build_up', 'governor', 'released_loss', 'applied_loss', 'warning', 'valves', 'reserve', 'suspension', 'other', 'release']);
    const words = new Map(cabSteps().steps.map((step) => [step.step, step.words]));
    expect(words.get('secure')).toMatch(/Chock wheels/);
    for (const step of ['released_loss', 'applied_loss', 'warning', 'valves']) expect([step, words.get(step)]).toStrictEqual([step, expect.stringMatching(/engine off.*chocks in place/i)]);
    expect(words.get('release')).toMatch(/set the parking brakes.*take the chocks away/);
  });
});

describe.each(limitSetIds())('the checklist of %s', (id) => {
  const plan = shippedPlan(id);
  const list = listOf(plan);
  const decided = plan.checks.filter(({ comparator }) => comparator !== 'no_number');

  it('has one box for each reading that its checks need, and no other', () => {
    const needed = new Set(decided.flatMap((check) => checkReadings(plan, check)));
    const asked = [...boxesOf(list), ...names(list.heading).filter((name) => needed.has(name))];
    expect([...asked].sort()).toStrictEqual([...needed].sort());
  });

  it('lists the rest of the sheet\'s columns as optional', () => {
    const columns = layOutReadings({ plan, fileColumns: [], overflow: 0, rowCount: 1 }).columns.flatMap((column) => (column.part === 'entry' ? [column.field.name] : [])).filter((name) => !name.endsWith(HALF_WIDTH));
    expect([...boxesOf(list), ...names(list.heading), ...names(list.optional)].sort()).toStrictEqual(columns.sort());
  });

  it('has every check with a number once, where all its boxes are filled, and names those without', () => {
    expect(list.steps.flatMap(({ checks }) => checks.map(({ plan: { check } }) => check)).sort()).toStrictEqual(decided.map(({ check }) => check).sort());
    expect(list.withoutNumber.map(({ check }) => check)).toStrictEqual(plan.checks.filter(({ comparator }) => comparator === 'no_number').map(({ check }) => check));
    for (const [at, { checks }] of list.steps.entries()) {
      const filled = new Set(list.steps.slice(0, at + 1).flatMap(({ boxes }) => names(boxes)));
      for (const { plan: check } of checks) expect([check.check, check.measure.readings.filter((name) => boxesOf(list).includes(name) && !filled.has(name))]).toStrictEqual([check.check, []]);
    }
  });

  it('goes through the steps in their order, from the chocks to the brakes set again', () => {
    const order = cabSteps().steps.map(({ step }) => step);
    expect(stepsOf(list)).toStrictEqual(order.filter((step) => stepsOf(list).includes(step)));
    expect([stepsOf(list)[0], stepsOf(list).at(-1)]).toStrictEqual(['secure', 'release']);
  });
});

// Common practice, no source: the four checks of a state-inspection style test.
it('asks for nothing of a test that the set does not have', () => {
  expect(stepsOf(listOf(shippedPlan('us-nevada')))).toStrictEqual(['secure', 'build_up', 'released_loss', 'applied_loss', 'release']);
  expect(stepsOf(listOf(shippedPlan('common-practice')))).toStrictEqual(['secure', 'build_up', 'governor', 'released_loss', 'applied_loss', 'warning', 'release']);
});

it('prints the conditions of a check as their source does, once', () => {
  const { steps } = listOf(shippedPlan('common-practice'));
  expect(steps.flatMap(({ checks }) => checks.map(({ plan, conditions }) => [plan.check, conditions]))).toStrictEqual([['buildup', ['to governor cut-out']], ['released_loss', ['in 1 min']], ['applied_loss', ['in 1 min', 'up to 2 min to stabilise']], ['warning', []]]);
});

it('puts a column that a set adds into the step of its group, else among the others', () => {
  const plan = ownPlan({
    columns: [{ name: 'before_pedal', group: 'applied', kind: 'pressure', title: 'Before the pedal', help: 'Gauge before the pedal goes down.' }, { name: 'odd', kind: 'count', title: 'Odd', help: 'A number.' }],
    measures: [{ measure: 'drop', title: 'Drop', unit: 'psi', expression: 'before_pedal - applied_primary_start', meaning: 'Drop.' }, { measure: 'oddness', title: 'Oddness', unit: '', expression: 'odd', meaning: 'Odd.' }],
    checks: [{ check: 'drop', title: 'Drop', measure: 'drop', at_most: 20, unit: 'psi', source: SOURCE }, { check: 'odd', title: 'Odd', measure: 'oddness', at_most: 20, unit: '', source: SOURCE }],
  });
  expect(listOf(plan).steps.map(({ step, boxes, checks }) => [step.step, names(boxes), checks.length])).toStrictEqual([['secure', [], 0], ['build_up', [], 0], ['applied_loss', ['applied_primary_start', 'before_pedal'], 1], ['other', ['odd'], 1], ['release', [], 0]]);
});
