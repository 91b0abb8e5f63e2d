import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Evaluation } from '../../src/fleet/evaluation.js';
import { FleetSummariser, type FleetState, type SummaryOptions } from '../../src/fleet/fleet-summariser.js';
import { evaluateRows, shippedPlan, type Row } from '../support/evaluate-rows.js';

const PLANS = ['common-practice', 'us-new-hampshire'].map(shippedPlan);

const day = fc.integer({ min: 0, max: 200 }).map((days) => new Date(Date.UTC(2026, 0, 1 + days)).toISOString().slice(0, 10));
const blankOr = <T>(arbitrary: fc.Arbitrary<T>): fc.Arbitrary<T | null> => fc.option(arbitrary, { freq: 5 });
const row: fc.Arbitrary<Row> = fc.record({
  unit: blankOr(fc.constantFrom('T1', 't1', 'T2', 'Bus 3', '__proto__')),
  inspected_on: blankOr(day),
  site: blankOr(fc.constantFrom('North', 'NORTH', 'Quay', 'constructor')),
  vehicle_kind: blankOr(fc.constantFrom('truck', 'bus')),
  inspector: blankOr(fc.constantFrom('Ann', 'Bob')),
  released_primary_start: blankOr(fc.constant(110)),
  released_primary_end: blankOr(fc.integer({ min: 100, max: 111 })),
  released_secondary_start: blankOr(fc.constant(108)),
  released_secondary_end: blankOr(fc.integer({ min: 98, max: 108 })),
  released_time: blankOr(fc.constantFrom('1:00', '2:00')),
  applied_primary_start: blankOr(fc.constant(100)),
  applied_primary_end: blankOr(fc.integer({ min: 90, max: 100 })),
  applied_time: blankOr(fc.constant('1:00')),
  light_on_at: blankOr(fc.integer({ min: 50, max: 70 })),
  buildup_from: fc.constant(85),
  buildup_to: fc.constant(100),
  buildup_time: blankOr(fc.integer({ min: 20, max: 70 })),
  leak_place: blankOr(fc.constantFrom('hose', 'Hose', 'valve')),
  repaired_on: blankOr(day),
  retest_of: blankOr(fc.constant('A1')),
});
const options: fc.Arbitrary<SummaryOptions> = fc.record({ from: fc.constantFrom(null, '2026-02-01'), to: fc.constantFrom(null, '2026-06-01'), by: fc.constantFrom(null, 'week' as const, 'quarter' as const) });
const cuts = fc.array(fc.nat(40), { maxLength: 4 });

/** The table cut at places, in order; parts may be empty. */
function partsOf<T>(all: readonly T[], at: readonly number[]): T[][] {
  const places = [0, ...at.map((place) => Math.min(place, all.length)).sort((a, b) => a - b), all.length];
  return places.slice(1).map((end, index) => all.slice(places[index], end));
}

describe.each(PLANS)('summaries of shards ($set.id)', (plan) => {
  const summarise = (evaluations: readonly Evaluation[], chosen: SummaryOptions): FleetSummariser => {
    const summariser = new FleetSummariser(plan, chosen);
    for (const evaluation of evaluations) summariser.add(evaluation);
    return summariser;
  };
  /** What comes out of another thread. */
  const sent = (summariser: FleetSummariser): FleetState => structuredClone(summariser.state());

  it('merge to what one pass gives, wherever the table is cut', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(row, { minLength: 1, maxLength: 40 }), cuts, options, async (rows, at, chosen) => {
        const evaluations = await evaluateRows(plan, rows);
        const [first, ...others] = partsOf(evaluations, at).map((part) => summarise(part, chosen));
        for (const other of others) first!.merge(sent(other));
        expect(first!.result()).toStrictEqual(summarise(evaluations, chosen).result());
      }),
      { numRuns: 150 },
    );
  });

  it('merge to it when each shard counts its own rows, however the merging is nested', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(row, { minLength: 3, maxLength: 40 }), fc.nat(40), fc.nat(40), options, async (rows, a, b, chosen) => {
        const evaluations = await evaluateRows(plan, rows);
        const parts = partsOf(rows, [a, b]);
        const [one, two, three] = await Promise.all(parts.map(async (part) => summarise(part.length === 0 ? [] : await evaluateRows(plan, part), chosen)));
        two!.merge(sent(three!), parts[1]!.length);
        one!.merge(sent(two!), parts[0]!.length);
        expect(one!.result()).toStrictEqual(summarise(evaluations, chosen).result());
      }),
      { numRuns: 150 },
    );
  });

  it('leave the shard that was merged as it was', async () => {
    const rows: Row[] = [{ unit: 'T1', light_on_at: 50 }, { unit: 'T1', inspected_on: '2026-04-01', light_on_at: 70 }];
    const evaluations = await evaluateRows(plan, rows);
    const [one, two] = evaluations.map((evaluation) => summarise([evaluation], {}));
    const before = structuredClone(two!.result());
    one!.merge(two!.state());
    one!.add(evaluations[0]!);
    expect(two!.result()).toStrictEqual(before);
  });
});
