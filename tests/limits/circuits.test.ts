import { beforeEach, describe, expect, it } from 'vitest';
import { circuitsOfCheck, failedCircuits } from '../../src/limits/circuits-of-check.js';
import type { LimitPlan } from '../../src/limits/compile-limit-set.js';
import { evaluateRow, ownPlan, shippedPlan, SOURCE, type Row } from '../support/evaluate-rows.js';

/** The verdict of each circuit of a row, by the name of its computed column. */
async function circuitsOf(plan: LimitPlan, row: Row): Promise<unknown> {
  const { computed } = await evaluateRow(plan, row);
  return Object.fromEntries(plan.circuits.map(({ circuit, column }) => [circuit, computed[plan.columns.findIndex(({ id }) => id === column)]]));
}

const released = (primary: readonly [number, number], secondary: readonly [number, number] | null, time = '1:00'): Row => ({
  released_primary_start: primary[0],
  released_primary_end: primary[1],
  ...(secondary && { released_secondary_start: secondary[0], released_secondary_end: secondary[1] }),
  released_time: time,
});

describe('the circuits of a limit set', () => {
  it('are those of its measures, each with a column of its verdict', () => {
    const { circuits, columns } = shippedPlan('common-practice');
    expect(circuits.map(({ circuit, title, column, checks }) => [circuit, title, columns.find(({ id }) => id === column)!.name, checks.map(({ title: check }) => check)])).toStrictEqual([
      ['primary', 'Primary circuit', 'computed.primary_circuit_verdict', ['Loss, brakes released: primary circuit', 'Loss, brakes applied: primary circuit']],
      ['secondary', 'Secondary circuit', 'computed.secondary_circuit_verdict', ['Loss, brakes released: secondary circuit', 'Loss, brakes applied: secondary circuit']],
    ]);
    expect(columns.filter(({ name }) => /_circuit_verdict$/.test(name)).map(({ band, format }) => [band, format])).toStrictEqual([['result', 'verdict'], ['result', 'verdict']]);
  });

  it('are none where no check tells circuits apart', () => {
    const plan = ownPlan({ checks: [{ check: 'a', title: 'A', measure: 'cut_out', at_most: 135, unit: 'psi', source: SOURCE }] });
    expect(plan.circuits).toStrictEqual([]);
    expect(plan.columns.some(({ name }) => name.includes('circuit_verdict'))).toBe(false);
    expect(circuitsOfCheck(plan.checks[0]!)).toStrictEqual([]);
  });

  it('are told of a check on one circuit alone, and through a measure made of others', () => {
    const plan = ownPlan({
      measures: [
        { measure: 'rear', title: 'Rear', unit: 'psi', expression: 'cut_in', meaning: 'x', circuit: 'rear_axles' },
        { measure: 'inner', title: 'Inner', unit: 'psi', lowest_of: ['rear', 'cut_out'], meaning: 'x' },
        { measure: 'outer', title: 'Outer', unit: 'psi', lowest_of: ['inner', 'cut_out'], meaning: 'x' },
      ],
      checks: [
        { check: 'alone', title: 'Alone', measure: 'released_loss_secondary', at_most: 3, unit: 'psi/min', source: SOURCE },
        { check: 'made', title: 'Made', measure: 'outer', at_least: 80, unit: 'psi', source: SOURCE },
        { check: 'none', title: 'None', measure: 'applied_loss', no_number: true, unit: 'psi/min', source: SOURCE },
      ],
    });
    expect(plan.checks.map((check) => circuitsOfCheck(check).map(({ circuit, measure }) => [circuit, measure]))).toStrictEqual([[['secondary', 'released_loss_secondary']], [['rear_axles', 'rear']], []]);
    expect(plan.circuits.map(({ title }) => title)).toStrictEqual(['Secondary circuit', 'Rear axles circuit']);
  });
});

describe('a check on one circuit', () => {
  it('has a column of its own: decided with the check, undecided with it, and not tested where the circuit was not', async () => {
    const plan = shippedPlan('common-practice');
    const of = async (row: Row): Promise<unknown[]> => {
      const { computed } = await evaluateRow(plan, row);
      return ['primary', 'secondary'].map((circuit) => computed[plan.columns.findIndex(({ id }) => id === `check:released_loss:circuit:${circuit}`)]);
    };
    expect(await of(released([104, 98], null))).toStrictEqual(['fail', 'not tested']);
    expect(await of(released([104, 103], [104, 98]))).toStrictEqual(['pass', 'fail']);
    expect(await of(released([104, 103], null, '0:30'))).toStrictEqual(['recheck', 'recheck']);
    expect(await of({})).toStrictEqual(['not tested', 'not tested']);
  });
});

describe('the verdict of a circuit', () => {
  let plan: LimitPlan;
  beforeEach(() => {
    plan = shippedPlan('common-practice');
  });

  // The loss per minute is the difference of two readings over one minute; 3 and 4 psi in 1 min are the limits (common practice, no source).
  it.each<[string, Row, string, string]>([
    ['both within', released([104, 102], [104, 103]), 'pass', 'pass'],
    ['the primary beyond', released([104, 98], [104, 103]), 'fail', 'pass'],
    ['the secondary beyond', released([104, 103], [104, 98]), 'pass', 'fail'],
    ['both beyond', released([104, 98], [104, 99]), 'fail', 'fail'],
    ['exactly at the limit, which at most 3 lets pass', released([104, 101], [104, 100.99]), 'pass', 'fail'],
    ['float noise above the limit decides nothing', released([104.3, 101.3], [104, 103]), 'pass', 'pass'],
    ['one gauge alone', released([104, 98], null), 'fail', 'not tested'],
    ['nothing measured', {}, 'not tested', 'not tested'],
    ['timed too short to decide', released([104, 103], [104, 103], '0:30'), 'recheck', 'recheck'],
    ['a rise in one circuit leaves the check undecided', released([104, 106], [104, 98]), 'recheck', 'recheck'],
    ['one test undecided, the other fails in one circuit', { ...released([104, 103], [104, 103], '0:30'), applied_primary_start: 100, applied_primary_end: 95, applied_secondary_start: 100, applied_secondary_end: 99, applied_time: '1:00' }, 'fail', 'recheck'],
    ['a circuit that passes one test and fails the other', { ...released([104, 103], [104, 103]), applied_primary_start: 100, applied_primary_end: 95, applied_secondary_start: 100, applied_secondary_end: 99, applied_time: '1:00' }, 'fail', 'pass'],
    ['a text never passes', { ...released([104, 103], null), released_primary_end: 'about a hundred' }, 'recheck', 'recheck'],
    ['a text beside a good circuit: the check is undecided', { ...released([104, 103], [104, 103]), released_secondary_end: 'low' }, 'recheck', 'recheck'],
    ['kPa', { ...released([720, 680], [720, 710]), pressure_unit: 'kPa' }, 'fail', 'pass'],
    ['an unknown unit', { ...released([104, 98], [104, 103]), pressure_unit: 'stone' }, 'not tested', 'not tested'],
  ])('%s', async (_what, row, primary, secondary) => {
    expect(await circuitsOf(plan, row)).toStrictEqual({ primary, secondary });
  });

  it('follows the comparator as printed', async () => {
    const row = released([104, 102], [104, 102.01]);
    // "should be less than (2 psi in 1 min)": model commercial driver licence manual, Section 5, Step 7
    expect(await circuitsOf(shippedPlan('us-driver-licence-manual'), row)).toStrictEqual({ primary: 'fail', secondary: 'pass' });
    // "2 psi in 60 s or less": NAC 484D.110(2)(b)
    expect(await circuitsOf(shippedPlan('us-nevada'), row)).toStrictEqual({ primary: 'pass', secondary: 'pass' });
    // "4 psi in 60 s or less" with the brakes applied for a combination of two vehicles, 3 psi for a single one: NAC 484D.110(2)(b)
    const applied = { applied_primary_start: 100, applied_primary_end: 96.5, applied_time: '1:00' };
    expect(await circuitsOf(shippedPlan('us-nevada'), { ...row, ...applied, vehicles: 2 })).toStrictEqual({ primary: 'pass', secondary: 'pass' });
    expect(await circuitsOf(shippedPlan('us-nevada'), { ...row, ...applied })).toStrictEqual({ primary: 'fail', secondary: 'pass' });
  });

  it.each([
    ['at_most', { at_most: 100 }, ['pass', 'pass', 'fail']],
    ['less_than', { less_than: 100 }, ['pass', 'fail', 'fail']],
    ['at_least', { at_least: 100 }, ['fail', 'pass', 'pass']],
    ['more_than', { more_than: 100 }, ['fail', 'fail', 'pass']],
    ['between', { between: [100, 100] }, ['fail', 'pass', 'fail']],
  ] as const)('%s', async (_name, comparator, expected) => {
    const own = ownPlan({
      measures: [{ measure: 'rear', title: 'Rear', unit: 'psi', expression: 'cut_out', meaning: 'x', circuit: 'rear' }],
      checks: [{ check: 'a', title: 'A', measure: 'rear', ...comparator, unit: 'psi', source: SOURCE }],
    });
    const verdicts: unknown[] = [];
    for (const cut_out of [99.9, 100, 100.1]) {
      const { computed, checks, measures } = await evaluateRow(own, { cut_out });
      const verdict = computed[own.columns.findIndex(({ name }) => name === 'computed.rear_circuit_verdict')];
      // A check on one circuit alone says what the circuit says, and so does the helper for reasons.
      expect([verdict, failedCircuits(own.checks[0]!, checks[0]!, measures)]).toStrictEqual([checks[0]!.verdict, verdict === 'fail' ? ['rear'] : []]);
      verdicts.push(verdict);
    }
    expect(verdicts).toStrictEqual(expected);
  });

  it('must_be, and an alternative that does not apply', async () => {
    const own = ownPlan({
      measures: [{ measure: 'dry', title: 'Dry', unit: '', expression: 'not audible_leak', meaning: 'x', circuit: 'rear' }],
      checks: [{ check: 'a', title: 'A', measure: 'dry', when: 'vehicles == 1', must_be: 'yes', unit: '', source: SOURCE }],
    });
    expect([await circuitsOf(own, { audible_leak: 'no' }), await circuitsOf(own, { audible_leak: 'yes' }), await circuitsOf(own, {}), await circuitsOf(own, { audible_leak: 'yes', vehicles: 2 })]).toStrictEqual([{ rear: 'pass' }, { rear: 'fail' }, { rear: 'not tested' }, { rear: 'not tested' }]);
    const { checks, measures } = await evaluateRow(own, { audible_leak: 'yes' });
    expect(failedCircuits(own.checks[0]!, checks[0]!, measures)).toStrictEqual(['rear']);
  });
});

describe('failedCircuits', () => {
  const [check] = shippedPlan('common-practice').checks;

  it.each<[string, string, Record<string, number | null>, string[]]>([
    ['one', 'fail', { released_loss_primary: 1, released_loss_secondary: 5 }, ['secondary']],
    ['both', 'fail', { released_loss_primary: 3.000001, released_loss_secondary: 5 }, ['primary', 'secondary']],
    ['float noise', 'fail', { released_loss_primary: 3.0000001, released_loss_secondary: 5 }, ['secondary']],
    ['one not measured', 'fail', { released_loss_primary: null, released_loss_secondary: 5 }, ['secondary']],
    ['not failed', 'recheck', { released_loss_primary: 9, released_loss_secondary: 5 }, []],
  ])('%s', (_what, verdict, measures, expected) => {
    expect(failedCircuits(check!, { verdict, limit: 3 }, measures)).toStrictEqual(expected);
  });
});
