import { describe, expect, it } from 'vitest';
import { readRows } from '../formats/csv-text.js';
import { fieldDictionary } from '../../src/readings/dictionary.js';
import { blankCsv, evaluatedCsv } from '../../src/workbook/evaluated-csv.js';
import { evaluateReadings, type EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import { textOf } from './bytes-of.js';

const evaluate = (csv: string): Promise<EvaluatedFleet> => evaluateReadings(Buffer.from(csv), { name: 'fleet.csv' });
const csvOf = (fleet: EvaluatedFleet, delimiter?: string): Promise<string> => textOf(evaluatedCsv(fleet.plan, fleet.columns, fleet.evaluations, delimiter));

describe('readings as CSV', () => {
  it('stand under the columns of the file, with the computed columns behind them', async () => {
    const rows = await readRows(await csvOf(await evaluate('site,unit,inspected_on,light_on_at\nQuay,K-1,2026-03-14,70\n')));
    const [header, first] = rows.map(({ cells }) => cells);
    expect(header!.slice(0, 4)).toStrictEqual(['site', 'unit', 'inspected_on', 'light_on_at']);
    expect(header!.slice(4).every((name) => String(name).startsWith('computed.'))).toBe(true);
    expect(first).toHaveLength(header!.length);
    expect([first![header!.indexOf('computed.verdict')], first![header!.indexOf('computed.warning_check_verdict')]]).toStrictEqual(['not tested', 'pass']);
  });

  it('keep cells that stood beyond the header beyond it, so that no other cell moves', async () => {
    const csv = await csvOf(await evaluate('unit,inspected_on,light_on_at\nK-1,2026-03-14,70,late\nK-2,2026-03-14,70\n'));
    const [header, first, second] = (await readRows(csv)).map(({ cells }) => cells);
    expect(first!.slice(0, header!.length).map(String).map((cell) => cell.replace('K-1', 'K-2'))).toStrictEqual(second!.map(String));
    expect(first!.slice(header!.length)).toStrictEqual(['late']);
  });

  it('give the same inspections and the same CSV when they are evaluated again', async () => {
    const once = await csvOf(await evaluate('unit,inspected_on,Cut in (kPa),released_time,released_primary_start,notes,mine\nK-1,14/3/2026,700,60 sec,104-108,=1+1,-x\nK-2,2026-03-15,~710,n/a,abc,\'q,"a, b"\n'));
    expect(await csvOf(await evaluate(once))).toBe(once);
  });

  it('are parted by a tab where that is asked for', async () => {
    const text = await csvOf(await evaluate('unit,inspected_on\nK-1,2026-03-14\n'), '\t');
    expect(text.split('\r\n')[1]!.split('\t').slice(0, 2)).toStrictEqual(['K-1', '2026-03-14']);
  });
});

it('a blank table for entry is the header alone', async () => {
  const { fields, standardCount } = fieldDictionary();
  expect(await textOf(blankCsv(undefined, '\t'))).toBe(`${fields.slice(0, standardCount).map(({ name }) => name).join('\t')}\r\n`);
});
