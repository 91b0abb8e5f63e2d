import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { RowEvaluator } from '../../src/fleet/row-evaluator.js';
import { compileLimitSet } from '../../src/limits/compile-limit-set.js';
import { loadLimitSet } from '../../src/limits/load-limit-set.js';
import type { Entry, Inspection } from '../../src/readings/inspection.js';
import { handWrittenEvaluator } from './hand-written-evaluator.js';

const plan = compileLimitSet(loadLimitSet('common-practice'), { optionalColumns: new Set() });
const evaluator = new RowEvaluator(plan);
const byHand = handWrittenEvaluator(plan.dictionary);

/** A reading in the neighbourhood where verdicts turn, or blank. */
function entryOf(name: string, kind: string): fc.Arbitrary<Entry> {
  const blank = fc.constant<Entry>(null);
  if (name === 'pressure_unit') return fc.constantFrom<Entry>('psi', 'kPa', 'bar', null);
  if (name === 'gauge_step' || name === 'readable_to') return fc.oneof(blank, fc.constantFrom<Entry>(0.1, 1, 2, 3, 5, 25));
  if (name === 'vehicles') return fc.oneof(blank, fc.constantFrom<Entry>(1, 2, 3));
  if (kind === 'time') return fc.oneof({ weight: 1, arbitrary: blank }, { weight: 6, arbitrary: fc.constantFrom<Entry>(0, 30, 59.5, 60, 61, 90, 119.6, 120, 121, 180, 250, 299, 300, 301, 400) });
  if (name.endsWith('_on_at')) return fc.oneof(blank, fc.constantFrom<Entry>('never', 59.99, 60, 60.01, 4.2), fc.integer({ min: 40, max: 90 }));
  if (kind === 'pressure') return fc.oneof({ weight: 1, arbitrary: blank }, { weight: 6, arbitrary: fc.integer({ min: 95, max: 125 }) }, { weight: 1, arbitrary: fc.constantFrom<Entry>(0, 7.2, 8.25, 110.125, 201, 720, 1500) });
  return blank;
}

const fields = plan.dictionary.fields;
/** A sound vehicle, of which some readings are drawn anew: all of them drawn would leave nothing that passes. */
const SOUND: Readonly<Record<string, Entry>> = {
  gauge_step: 25, vehicles: 1, released_primary_start: 110, released_primary_end: 109, released_secondary_start: 112, released_secondary_end: 111.5, released_time: 60,
  applied_primary_start: 105, applied_primary_end: 103, applied_secondary_start: 104, applied_secondary_end: 103.5, applied_settle_time: 90, applied_time: 60,
  light_on_at: 70, buzzer_on_at: 69, buildup_from: 60, buildup_to: 120, buildup_time: 170, cut_in: 100, cut_out: 121,
};
const drawnFields = fields.slice(0, plan.dictionary.standardCount);
const entries = fc
  .tuple(fc.tuple(...drawnFields.map(({ name, kind }) => entryOf(name, kind))), fc.subarray([...drawnFields.keys()]), fc.boolean())
  .map(([drawn, changed, all]) => drawn.map((entry, position): Entry => (all || changed.includes(position) ? entry : (SOUND[drawnFields[position]!.name] ?? null))));
const notRead = fc.oneof({ weight: 4, arbitrary: fc.constant<string[]>([]) }, { weight: 1, arbitrary: fc.subarray(['pressure_unit', 'released_time', 'cut_in'], { minLength: 1 }) });

describe('the evaluator written by hand', () => {
  test('says what the evaluator of any limit set says, on random rows', () => {
    const verdicts = new Set<string>();
    fc.assert(
      fc.property(entries, notRead, (drawn, unread) => {
        const values = fields.map(({ name }, position): Entry => (unread.includes(name) ? null : (drawn[position] ?? null)));
        const inspection: Inspection = { row: 2, values, asFound: new Map(), notRead: unread, extra: [] };
        const expected = evaluator.evaluate(inspection);
        const found = byHand(inspection);
        verdicts.add(found.verdict);
        const checks = expected.checks.map(({ check, value, limit, verdict, share_of_limit, chance_within_limit, reason }) => ({ check, value, limit, verdict, share_of_limit, chance_within_limit, reason }));
        expect(found).toStrictEqual({ verdict: expected.verdict, reason: expected.reason, measures: { ...expected.measures }, checks });
      }),
      { numRuns: 3000, seed: 20261125 },
    );
    expect([...verdicts].sort()).toStrictEqual(['fail', 'not tested', 'pass', 'recheck']);
  });
});
