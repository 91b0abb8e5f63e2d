import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { evaluationSchema } from '../../src/fleet/evaluation-schema.js';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { packagePath } from '../../src/util/package-path.js';
import { evaluateReadings, type EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import { evaluationJson } from '../../src/workbook/evaluation-json.js';
import { verifyWorkbook } from '../../src/workbook/verify-workbook.js';
import { workbookOf } from '../../src/workbook/write-workbook.js';
import { inFolder } from '../cli/run-program.js';
import { runOpenpyxl, withFolder } from '../formats/outside-program.js';
import { bytesOf, textOf } from './bytes-of.js';
import { rowsOfSheet } from './sheet-tables.js';

const LINES = readFileSync(packagePath('samples', 'invented-fleet.csv'), 'utf8').trimEnd().split(/\r?\n/);
const [HEADER, ROWS] = [LINES[0]!, LINES.slice(1)];
const csv = (from: number, to?: number): Uint8Array => Buffer.from(`${[HEADER, ...ROWS.slice(from, to)].join('\n')}\n`);

/** What was evaluated, without the rows, which a file counts from its own top. */
const computedOf = ({ evaluations }: EvaluatedFleet): unknown => evaluations.map(({ computed, inspection: { values, extra } }) => ({ computed, values, extra }));

describe('several tables', () => {
  it('are evaluated and summarised as one', async () => {
    const whole = await evaluateReadings(csv(0));
    const parts = await evaluateReadings([csv(0, 90), csv(90, 91), csv(91)]);
    expect(computedOf(parts)).toStrictEqual(computedOf(whole));
    const withoutRows = ({ summary }: EvaluatedFleet): unknown => JSON.parse(JSON.stringify(summary, (key, value: unknown) => (key === 'row' ? undefined : value)));
    expect(withoutRows(parts)).toStrictEqual(withoutRows(whole));
    expect(parts.source).toMatchObject({ rows_read: whole.source.rows_read, inspections: whole.source.inspections, files: [{ inspections: 90 }, { inspections: 1 }, { inspections: whole.source.inspections - 91 }] });
    const rows = parts.evaluations.map(({ row }) => row);
    expect(new Set(rows).size).toBe(rows.length);
  });

  it('make a workbook that verifies, and JSON of the published form that lists them', async () => {
    const fleet = await evaluateReadings([csv(0, 20), csv(20, 45)]);
    expect((await verifyWorkbook(await bytesOf(workbookOf(fleet)))).findings).toStrictEqual([]);
    const json = evaluationSchema.parse(JSON.parse(await textOf(evaluationJson(fleet))));
    expect(json.source.files?.map(({ inspections }) => inspections)).toStrictEqual([20, 25]);
  });

  it('may have other columns each, and name their file where something was not taken as it stood', async () => {
    await withTables({ 'june.csv': 'unit,inspected_on,Bay,light_on_at\nT1,2026-06-01,7,60\n', 'july.csv': 'unit,inspected_on,buzzer_on_at,Paint,Bay\nT1,2026-07-01,soon,red,8\nT1,2026-06-01,61,blue,9\n' }, async (path) => {
      const fleet = await evaluateReadings([path('june.csv'), path('july.csv')]);
      expect(fleet.columns.map(({ header }) => header)).toStrictEqual(['unit', 'inspected_on', 'Bay', 'light_on_at', 'buzzer_on_at', 'Paint']);
      expect(fleet.evaluations.map(({ inspection: { extra } }) => extra)).toStrictEqual([['7', null], ['8', 'red'], ['9', 'blue']]);
      expect(fleet.problems.map(({ code, sheet, row, cell }) => [code, sheet, row, cell])).toStrictEqual([
        ['not_understood', 'july.csv', 2, 'C2'],
        ['unit_twice_on_a_day', 'july.csv', 3, 'A3'],
      ]);
      expect(fleet.source.name).toBe('june.csv, july.csv');
    });
  });

  it('share the first spelling of a unit when units are folded', async () => {
    await withTables({ 'a.csv': 'unit,inspected_on\nT-7,2026-06-01\n', 'b.csv': 'unit,inspected_on\nt07,2026-07-01\n' }, async (path) => {
      const fleet = await evaluateReadings([path('a.csv'), path('b.csv')], { units: 'folded' });
      expect(fleet.evaluations.map(({ unit }) => unit)).toStrictEqual(['T-7', 'T-7']);
    });
  });
});

describe('appending', () => {
  const cellsOf = async (workbook: Uint8Array, leftOut: readonly string[]): Promise<Record<string, unknown>> => {
    const names = (await openXlsx(workbook)).sheets.map(({ name }) => name).filter((name) => !leftOut.includes(name));
    return Object.fromEntries(await Promise.all(names.map(async (name) => [name, [...(await rowsOfSheet(workbook, name))]] as const)));
  };

  it('gives the workbook of a full run, but for what names the input', async () => {
    const earlier = await bytesOf(workbookOf(await evaluateReadings(csv(0, 200))));
    const appended = await bytesOf(workbookOf(await evaluateReadings(csv(200), { appendTo: earlier, name: 'july.csv', appendToName: 'fleet.xlsx' })));
    const full = await bytesOf(workbookOf(await evaluateReadings(csv(0), { name: 'fleet.xlsx, july.csv' })));
    // Problems and Data quality name rows of the input, and Provenance its files.
    const namingTheInput = ['Problems', 'Data quality', 'Provenance'];
    expect(await cellsOf(appended, namingTheInput)).toStrictEqual(await cellsOf(full, namingTheInput));
    expect((await verifyWorkbook(appended)).findings).toStrictEqual([]);
  });

  it('passes over what the workbook holds, in every order, so that appending twice changes nothing', async () => {
    const earlier = await bytesOf(workbookOf(await evaluateReadings(csv(0, 40))));
    const once = await evaluateReadings(csv(30, 50), { appendTo: earlier });
    expect([once.passedOver, once.evaluations.length, once.source.inspections]).toStrictEqual([10, 50, 50]);
    expect(once.problems.filter(({ code }) => code.endsWith('twice'))).toStrictEqual([]);
    const twice = await evaluateReadings(csv(30, 50), { appendTo: await bytesOf(workbookOf(once)) });
    expect([twice.passedOver, computedOf(twice)]).toStrictEqual([20, computedOf(once)]);
  });

  it('takes an inspection whose number the workbook has with other readings, and says so', async () => {
    const table = (end: number): Uint8Array => Buffer.from(`inspection_id,unit,inspected_on,released_primary_start,released_primary_end,released_time\nA,T1,2026-03-14,110,${end},1:00\n`);
    const fleet = await evaluateReadings(table(107), { appendTo: await bytesOf(workbookOf(await evaluateReadings(table(109)))) });
    expect([fleet.passedOver, fleet.evaluations.length]).toStrictEqual([0, 2]);
    expect(fleet.problems.map(({ code }) => code)).toStrictEqual(['inspection_id_twice', 'unit_twice_on_a_day']);
  });

  it('keeps what was typed into entries and into columns that are not the program\'s', async (context) => {
    const earlier = await bytesOf(workbookOf(await evaluateReadings(Buffer.from('unit,inspected_on,Bay,light_on_at\nT1,2026-06-01,7,60\nT2,2026-06-02,8,61\n'))));
    const typed = withFolder((folder) => {
      writeFileSync(join(folder, 'book.xlsx'), earlier);
      const script = [
        'import sys, openpyxl',
        'book = openpyxl.load_workbook(sys.argv[1])',
        'sheet = book["Readings"]',
        'names = {cell.value: cell.column for cell in sheet[3]}',
        'sheet.cell(4, names["notes"], "hose rubbed through")',
        'sheet.cell(5, names["repaired_on"], "2026-06-09")',
        'sheet.cell(5, names["Bay"], "=not a formula").data_type = "s"',
        'last = sheet.max_column + 1',
        'sheet.cell(3, last, "Who pays"); sheet.cell(4, last, "the depot")',
        'book.save(sys.argv[2])',
      ].join('\n');
      runOpenpyxl(context, script, join(folder, 'book.xlsx'), join(folder, 'typed.xlsx'));
      return readFileSync(join(folder, 'typed.xlsx'));
    });
    const fleet = await evaluateReadings(Buffer.from('unit,inspected_on,light_on_at\nT3,2026-07-01,62\n'), { appendTo: typed });
    const at = (name: string): number => fleet.plan.dictionary.position.get(name)!;
    expect(fleet.evaluations.map(({ inspection: { values } }) => [values[at('unit')], values[at('notes')], values[at('repaired_on')]])).toStrictEqual([['T1', 'hose rubbed through', null], ['T2', null, '2026-06-09'], ['T3', null, null]]);
    const again = await evaluateReadings(await bytesOf(workbookOf(fleet)));
    const extras = again.columns.flatMap(({ role, header }) => (role === 'extra' ? [header] : []));
    expect(extras).toStrictEqual(['Bay', 'Who pays']);
    expect(again.evaluations.map(({ inspection: { extra } }) => extra.map((cell) => cell ?? ''))).toStrictEqual([['7', 'the depot'], ['=not a formula', ''], ['', '']]);
  }, 60_000);

  it('joins the strokes of both workbooks, those that are in both once', async () => {
    const readings = 'unit,inspected_on,light_on_at\nT1,2026-06-01,60\n';
    const strokes = (...rows: string[]): Uint8Array => Buffer.from(`unit,position,chamber_type,chamber_size,stroke_kind,stroke\n${rows.join('\n')}\n`);
    const book = async (...rows: string[]): Promise<Uint8Array> => bytesOf(workbookOf(await evaluateReadings(Buffer.from(readings), { strokes: strokes(...rows) })));
    const one = await book('T1,axle 1 left,clamp,30,standard,1.75');
    const two = await book('T1,axle 1 left,clamp,30,standard,1.75', 'T1,axle 1 right,clamp,30,standard,2.25');
    const fleet = await evaluateReadings(two, { appendTo: one });
    expect(fleet.strokes?.strokes.map(({ entries: { position, stroke } }) => [position, stroke])).toStrictEqual([['1L', 1.75], ['1R', 2.25]]);
    expect((await verifyWorkbook(await bytesOf(workbookOf(fleet)))).findings).toStrictEqual([]);
  });
});

async function withTables(tables: Readonly<Record<string, string>>, work: (path: (name: string) => string) => Promise<void>): Promise<void> {
  await inFolder(async (folder) => {
    for (const [name, text] of Object.entries(tables)) writeFileSync(join(folder, name), text);
    await work((name) => join(folder, name));
  });
}
