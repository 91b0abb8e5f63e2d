import { describe, expect, it } from 'vitest';
import { plainEvaluation } from '../../src/fleet/plain-evaluation.js';
import { RowEvaluator } from '../../src/fleet/row-evaluator.js';
import { compileLimitSet, type LimitPlan } from '../../src/limits/compile-limit-set.js';
import { limitSetOf } from '../../src/limits/limit-set-of.js';
import { NOTHING_FOUND, type Entry, type Inspection } from '../../src/readings/inspection.js';
import { ownPlan, shippedPlan, SOURCE } from '../support/evaluate-rows.js';

const inspectionOf = (plan: LimitPlan, row: number, entries: Readonly<Record<string, Entry>>): Inspection => ({ row, values: plan.dictionary.fields.map(({ name }) => entries[name] ?? null), asFound: NOTHING_FOUND, notRead: [], extra: [] });
const loss = (plan: LimitPlan, row: number, psi: number): Inspection => inspectionOf(plan, row, { inspection_id: `A${row}`, unit: 'K-1', inspected_on: '2026-03-14', released_primary_start: 104, released_primary_end: 104 - psi, released_time: 60 });

describe('an evaluation', () => {
  it('names its row, its unit and its day, and keeps the inspection', () => {
    const plan = shippedPlan('us-nevada');
    const inspection = loss(plan, 9, 5);
    const evaluation = new RowEvaluator(plan).evaluate(inspection);
    const { row, inspection_id, unit, inspected_on, verdict } = evaluation;
    expect({ row, inspection_id, unit, inspected_on, verdict }).toStrictEqual({ row: 9, inspection_id: 'A9', unit: 'K-1', inspected_on: '2026-03-14', verdict: 'fail' });
    expect(evaluation.inspection).toBe(inspection);
  });

  it('says the same whenever it is asked, whatever was evaluated since', () => {
    const plan = shippedPlan('us-nevada');
    const evaluator = new RowEvaluator(plan);
    const [first, second] = [evaluator.evaluate(loss(plan, 2, 1)), evaluator.evaluate(loss(plan, 3, 5))];
    for (let again = 0; again < 2; again++) {
      expect([first.verdict, first.measures['released_loss'], first.checks[0]!.verdict, first.computed.at(-1)]).toStrictEqual(['not tested', 1, 'pass', null]);
      expect(first.reason).toMatch(/^Not complete\./);
      expect([second.verdict, second.measures['released_loss'], second.checks[0]!.verdict]).toStrictEqual(['fail', 5, 'fail']);
      expect(second.reason).toMatch(/^Fails\./);
    }
  });

  it('gives one list of what it worked out as often as it is asked, and another for another row', () => {
    const plan = shippedPlan('us-nevada');
    const evaluator = new RowEvaluator(plan);
    const first = evaluator.evaluate(loss(plan, 2, 1));
    expect([first.checks, first.measures, first.computed].map((list, at) => list === [first.checks, first.measures, first.computed][at])).toStrictEqual([true, true, true]);
    const [checks, measures] = [first.checks, first.measures];
    const second = evaluator.evaluate(loss(plan, 3, 1));
    expect([second.checks === checks, second.measures === measures]).toStrictEqual([false, false]);
    expect([second.checks, second.measures]).toStrictEqual([checks, measures]);
  });

  it('is worked out anew for an inspection that was changed and is evaluated again', () => {
    const plan = shippedPlan('us-nevada');
    const evaluator = new RowEvaluator(plan);
    const inspection = loss(plan, 2, 1);
    expect(evaluator.evaluate(inspection).checks[0]!.value).toBe(1);
    (inspection.values as Entry[])[plan.dictionary.position.get('released_primary_end')!] = 99;
    const again = evaluator.evaluate(inspection);
    expect([again.verdict, again.checks[0]!.value, again.measures['released_loss']]).toStrictEqual(['fail', 5, 5]);
  });

  it('measures what the plan measures', () => {
    const plan = shippedPlan('us-nevada');
    const { measures } = new RowEvaluator(plan).evaluate(loss(plan, 2, 1));
    expect(Object.keys(measures)).toStrictEqual(plan.measures.map(({ measure }) => measure.measure));
  });

  it('has a measure that is a text before anything else of it was asked for', () => {
    const plan = ownPlan({
      measures: [{ measure: 'where', title: 'Where', unit: '', expression: 'site', meaning: 'The site.' }],
      checks: [{ check: 'a', title: 'A', measure: 'cut_in', at_least: 80, unit: 'psi', source: SOURCE }],
    });
    const evaluator = new RowEvaluator(plan);
    for (const site of ['North', 'South']) expect(evaluator.evaluate(inspectionOf(plan, 2, { site })).measures['where']).toBe(site);
  });

  it('as a plain object holds all of it, in JSON as well, and borders only where there are several sets', () => {
    const one = shippedPlan('us-nevada');
    const evaluation = new RowEvaluator(one).evaluate(loss(one, 2, 1));
    const { row, inspection_id, inspected_on, unit, verdict, reason, measures, checks, inspection, computed } = evaluation;
    expect(plainEvaluation(evaluation)).toStrictEqual({ row, inspection_id, inspected_on, unit, verdict, reason, measures, checks, inspection, computed });
    expect(JSON.parse(JSON.stringify(evaluation))).toMatchObject({ row, unit, verdict, reason, checks: [{ check: 'released_loss' }, {}, {}] });
    expect(evaluation.borders).toBeUndefined();

    const both = compileLimitSet(limitSetOf('us-nevada,us-driver-licence-manual'));
    const across = new RowEvaluator(both).evaluate(loss(both, 2, 2));
    // Nevada lets 2 psi in a minute pass (NAC 484D.110), the manual wants less than 2 (Section 5, Step 7).
    expect(across.borders).toStrictEqual({ verdicts: { 'us-nevada': 'not tested', 'us-driver-licence-manual': 'fail' }, disagreement: expect.stringContaining('released loss 2 psi/min') as string });
    expect(plainEvaluation(across)).toHaveProperty('borders', across.borders);
    expect(new Set(across.checks.map(({ limit_set }) => limit_set))).toStrictEqual(new Set(['us-nevada', 'us-driver-licence-manual']));
  });
});
