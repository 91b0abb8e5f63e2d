import { describe, expect, it } from 'vitest';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import { evaluatedCsv } from '../../src/workbook/evaluated-csv.js';
import { openFleet } from '../../src/workbook/open-fleet.js';

const FLEET = 'samples/invented-fleet.csv';

async function textOf(pieces: AsyncIterable<string>): Promise<string> {
  let text = '';
  for await (const piece of pieces) text += piece;
  return text;
}

describe('a fleet that is evaluated as it is taken', () => {
  it('comes to the same as one that is kept: the outcome and the CSV', async () => {
    for (const options of [{}, { from: '2026-01-01', to: '2026-03-31', baseline: FLEET }, { limits: 'us-nevada' }]) {
      const [kept, taken] = [await evaluateReadings(FLEET, options), await openFleet(FLEET, options)];
      const csv = await textOf(evaluatedCsv(taken.plan, taken.columns, taken.evaluations));
      expect(csv).toBe(await textOf(evaluatedCsv(kept.plan, kept.columns, kept.evaluations)));
      const { evaluations: _, plan: _plan, ...outcome } = kept;
      const { plan: _own, ...own } = taken.outcome();
      expect(own).toStrictEqual(outcome);
    }
  });

  it('counts each verdict, and where the dates lie', async () => {
    const csv = 'unit,inspected_on,light_on_at\nT-1,2026-03-01,70\nT-2,2026-03-02,50\nT-3,,70\nT-4,2026-05-01,\n';
    const fleet = await openFleet(Buffer.from(csv), { to: '2026-03-31', summarise: false });
    const verdicts: string[] = [];
    for await (const { verdict } of fleet.evaluations) verdicts.push(verdict);
    const { counts } = fleet.tally();
    expect(counts.inspections).toBe(4);
    for (const [verdict, count] of Object.entries(counts.verdicts)) expect(verdicts.filter((one) => one === verdict)).toHaveLength(count);
    expect(counts.verdicts.fail).toBe(1);
    expect(counts.period).toStrictEqual({ inside: 2, before: 0, after: 1, undated: 1, first: '2026-03-01', last: '2026-05-01' });
  });

  it('tells nothing of the whole before its end, and no figures where none were asked for', async () => {
    const fleet = await openFleet(FLEET, { summarise: false });
    expect(() => fleet.tally()).toThrow(/not been taken to their end/);
    for await (const _ of fleet.evaluations) continue;
    expect(fleet.tally().counts.inspections).toBe(fleet.tally().source.inspections);
    expect(() => fleet.outcome()).toThrow(/without its figures/);
  });

  it('of nothing but a header says so where its inspections are taken', async () => {
    const { evaluations } = await openFleet(Buffer.from('unit,inspected_on,light_on_at\n'));
    await expect(evaluations[Symbol.asyncIterator]().next()).rejects.toMatchObject({ code: 'input_empty' });
  });
});
