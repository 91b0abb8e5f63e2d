import { describe, expect, it } from 'vitest';
import { packagePath } from '../../src/util/package-path.js';
import { evaluatedCsv } from '../../src/workbook/evaluated-csv.js';
import { evaluatedParquet } from '../../src/workbook/evaluated-parquet.js';
import { evaluateReadings, type EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';

async function bytesOf(pieces: AsyncIterable<string | Uint8Array>): Promise<Uint8Array> {
  const all: Uint8Array[] = [];
  for await (const piece of pieces) all.push(Buffer.from(piece as Uint8Array));
  return new Uint8Array(Buffer.concat(all));
}

const asParquet = (fleet: EvaluatedFleet): Promise<Uint8Array> => bytesOf(evaluatedParquet(fleet.plan, fleet.columns, fleet.evaluations));
const asCsv = (fleet: EvaluatedFleet): Promise<Uint8Array> => bytesOf(evaluatedCsv(fleet.plan, fleet.columns, fleet.evaluations));

/** What an evaluation says, without where its row stood. */
const said = ({ evaluations, plan }: EvaluatedFleet): unknown[] =>
  evaluations.map(({ inspection_id, inspected_on, unit, verdict, reason, checks, inspection }) => ({ inspection_id, inspected_on, unit, verdict, reason, checks, values: plan.dictionary.fields.map((_, position) => inspection.values[position] ?? null), notRead: inspection.notRead, found: [...inspection.asFound].sort() }));

describe('the evaluated table as Parquet', () => {
  it.each(['invented-fleet.csv', 'invented-fleet-messy.csv'])('says what the CSV says when it is read again: %s', { timeout: 60_000 }, async (sample) => {
    const options = { limits: 'us-nevada', dateOrder: 'dmy' } as const;
    const first = await evaluateReadings(packagePath('samples', sample), options);
    const fromCsv = await evaluateReadings(await asCsv(first), { ...options, name: 'again.csv' });
    const fromParquet = await evaluateReadings(await asParquet(first), { ...options, name: 'again.parquet' });
    expect(said(fromParquet)).toStrictEqual(said(first));
    expect(said(fromParquet).map((one) => (one as { verdict: string }).verdict)).toStrictEqual(fromCsv.evaluations.map(({ verdict }) => verdict));
    expect(fromParquet.evaluations.map(({ reason }) => reason)).toStrictEqual(fromCsv.evaluations.map(({ reason }) => reason));
    // Read again and written again, it is the same to the byte.
    expect(Buffer.from(await asParquet(fromParquet)).equals(Buffer.from(await asParquet(first)))).toBe(true);
  });

  it('keeps ranges, words and cells that nobody could read, and columns of one\'s own', { timeout: 60_000 }, async () => {
    const csv = [
      'unit,inspected_on,Own,own,,released_primary_start,released_primary_end,released_time,light_on_at,audible_leak,notes',
      'K-1,2026-03-14,a,b,c,112-114,~110,60 s,never,Y,=1+1',
      'K-2,2026-03-15,1,2,3,112,11O,soon,n/a,,',
      'K-3,2026-03-15,1,2,3,112,111,1:00,70,no,x,beyond',
    ].join('\n');
    const first = await evaluateReadings(new TextEncoder().encode(csv), { format: 'csv' });
    const again = await evaluateReadings(await asParquet(first), { name: 'again.parquet' });
    expect(said(again)).toStrictEqual(said(first));
    expect(again.evaluations.map(({ inspection }) => inspection.notRead)).toStrictEqual([[], ['released_primary_end', 'released_time'], []]);
    expect(again.columns.map(({ header }) => header).slice(0, 7)).toStrictEqual(['unit', 'inspected_on', 'Own', 'own (2)', 'column_5', 'released_primary_start', 'released_primary_start_half_width']);
    expect(again.evaluations.map(({ inspection }) => inspection.extra)).toStrictEqual([['a', 'b', 'c', null], ['1', '2', '3', null], ['1', '2', '3', 'beyond']]);
  });
});
