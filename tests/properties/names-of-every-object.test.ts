import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { columnMapText, parseColumnMap } from '../../src/readings/column-map.js';
import { fieldDictionary } from '../../src/readings/dictionary.js';
import { parseLimitSet } from '../../src/limits/load-limit-set.js';
import { TreadlebookError } from '../../src/util/treadlebook-error.js';
import { compareReadings } from '../../src/workbook/compare-readings.js';
import { evaluatedCsv } from '../../src/workbook/evaluated-csv.js';
import { evaluateReadings, type EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import { evaluationJson } from '../../src/workbook/evaluation-json.js';
import { openStrokes } from '../../src/workbook/open-strokes.js';
import { verifyWorkbook } from '../../src/workbook/verify-workbook.js';
import { workbookOf } from '../../src/workbook/write-workbook.js';
import { runInside } from '../cli/run-inside.js';
import { inFolder } from '../cli/run-program.js';
import { makeXlsx } from '../formats/make-xlsx.js';
import { ownSet, SOURCE } from '../support/evaluate-rows.js';
import { changedSince, watchPrototypes } from '../support/watch-prototypes.js';
import { bytesOf, textOf } from '../workbook/bytes-of.js';
import { understoodOf } from './any-table.js';

const before = watchPrototypes();
afterAll(() => {
  expect(changedSince(before)).toStrictEqual([]);
});

/** Names that objects of JavaScript have, names that differ in case alone, and one that stands there twice. */
const NAMES = ['__proto__', 'constructor', 'toString', 'hasOwnProperty', 'valueOf', 'prototype', '__defineGetter__', 'length', 'then', 'toJSON', 'Colour', 'colour', 'COLOUR', 'Twice', 'Twice'];
/** Units, sites and inspectors that differ in case alone are one, as to a spreadsheet; the first spelling stands. */
const DISTINCT = NAMES.filter((name, at) => NAMES.findIndex((other) => other.toLowerCase() === name.toLowerCase()) === at);
const HEADER = ['unit', 'inspected_on', 'site', 'inspector', 'cut_out', ...NAMES];
/** A row for each name: it is the unit, the site and the inspector, and each of the other columns says where it stands. */
const ROWS = NAMES.slice(0, -1).map((name, at): (string | number)[] => [name, `2026-03-${String(at + 10)}`, name, name, 120 + at, ...NAMES.map((_, column) => `${at}/${column}`)]);

const quoted = (cell: string | number): string => `"${String(cell).replaceAll('"', '""')}"`;
const CSV = [HEADER, ...ROWS].map((row) => row.map(quoted).join(',')).join('\n');
const xmlRow = (row: readonly (string | number)[]): string => `<row>${row.map((cell) => (typeof cell === 'number' ? `<c><v>${cell}</v></c>` : `<c t="inlineStr"><is><t>${cell}</t></is></c>`)).join('')}</row>`;
const xlsx = (): Promise<Buffer> => makeXlsx([HEADER, ...ROWS].map(xmlRow).join(''));
// An object cannot have one key twice: of the last two columns JSON holds one.
const jsonOf = (row: readonly (string | number)[]): string => `{${row.slice(0, -1).map((cell, at) => `${JSON.stringify(HEADER[at])}:${JSON.stringify(cell)}`).join(',')}}`;
const JSON_TEXT = `[${ROWS.map(jsonOf).join(',')}]`;

const inputs: readonly (readonly [name: string, bytes: () => Promise<Uint8Array>, columns: number])[] = [
  ['fleet.csv', async () => Buffer.from(CSV), NAMES.length],
  ['fleet.xlsx', xlsx, NAMES.length],
  ['fleet.json', async () => Buffer.from(JSON_TEXT), NAMES.length - 1],
];
const ownHeaders = ({ columns }: EvaluatedFleet): string[] => columns.flatMap(({ role, header }) => (role === 'extra' ? [header] : []));

describe('names that every object has are only names', () => {
  it.each(inputs)('of columns of the office and of units, sites and inspectors, from %s', async (name, bytes, count) => {
    const fleet = await evaluateReadings(await bytes(), { name });
    expect(ownHeaders(fleet)).toStrictEqual(NAMES.slice(0, count));
    expect(fleet.evaluations.map(({ inspection }) => inspection.extra)).toStrictEqual(ROWS.map((row) => row.slice(5, 5 + count)));
    expect(fleet.summary.units.map(({ unit }) => unit).sort()).toStrictEqual([...DISTINCT].sort());
    const sites = fleet.summary.fail_rates.filter(({ group }) => group === 'site').map(({ name: site }) => site);
    expect([...new Set(sites)].sort()).toStrictEqual([...DISTINCT].sort());
    expect(fleet.evaluations.map(({ measures }) => measures['cut_out'])).toStrictEqual(ROWS.map((row) => row[4]));
  });

  it.each(inputs)('through a workbook, CSV and JSON and back, from %s', { timeout: 60_000 }, async (name, bytes) => {
    const fleet = await evaluateReadings(await bytes(), { name });
    const book = await bytesOf(workbookOf(fleet));
    const csv = await bytesOf(evaluatedCsv(fleet.plan, fleet.columns, fleet.evaluations));
    for (const [written, as] of [[book, 'again.xlsx'], [csv, 'again.csv']] as const) {
      const again = await evaluateReadings(written, { name: as });
      expect(understoodOf(again)).toStrictEqual(understoodOf(fleet));
      expect(again.summary.units.map(({ unit }) => unit)).toStrictEqual(fleet.summary.units.map(({ unit }) => unit));
    }
    if (name === 'fleet.csv') expect((await verifyWorkbook(book, { name: 'again.xlsx' })).findings).toStrictEqual([]);
    const json = JSON.parse(await textOf(evaluationJson(fleet))) as { units: { unit: string }[]; inspections: { unit: string }[] };
    expect(json.units.map(({ unit }) => unit)).toStrictEqual(fleet.summary.units.map(({ unit }) => unit));
    expect(json.inspections.map(({ unit }) => unit)).toStrictEqual(ROWS.map(([unit]) => unit));
  });

  it('in a comparison of two keyings in different formats, and the cell that differs is named', async () => {
    const same = await compareReadings(Buffer.from(CSV), await xlsx(), { names: { a: 'a.csv', b: 'b.xlsx' } });
    expect({ differences: same.differences, missing: same.missing, extra: same.extra, matched: same.matched }).toStrictEqual({ differences: [], missing: [], extra: [], matched: ROWS.length });
    const columns = new Set(same.columns.map(({ column }) => column));
    for (const column of NAMES) expect(columns.has(column), column).toBe(true);
    const changed = await compareReadings(Buffer.from(CSV), Buffer.from(CSV.replace('"3/0"', '"other"')), { names: { a: 'a.csv', b: 'b.csv' } });
    expect(changed.differences.map(({ column, unit, text_a, text_b }) => [column, unit, text_a, text_b])).toStrictEqual([['__proto__', 'hasOwnProperty', '3/0', 'other']]);
  });

  it('in a table of strokes', async () => {
    const strokes = `unit,inspected_on,position,chamber,stroke,${NAMES.join(',')}\n${NAMES.slice(0, -1).map((unit) => `${unit},2026-03-14,1L,30,1.5,${NAMES.join(',')}`).join('\n')}\n`;
    const { strokes: read } = await openStrokes(Buffer.from(strokes), { name: 'strokes.csv' });
    expect(read.evaluation.vehicles.map(({ unit }) => unit)).toStrictEqual(DISTINCT);
    expect(read.evaluation.chambers.map(({ verdict }) => verdict)).toStrictEqual(NAMES.slice(0, -1).map(() => 'pass'));
  });

  it('as spellings of columns that a limit set adds', async () => {
    const columns = ['__proto__', 'constructor', 'toString', 'valueOf'].map((spelling, at) => ({ name: `mine_${at}`, kind: 'pressure', title: `Mine ${at}`, help: 'Mine.', spellings: [spelling] }));
    const set = parseLimitSet(ownSet({ columns, measures: [{ measure: 'constructor', title: 'C', unit: 'psi', expression: 'mine_0 + mine_1 + mine_2 + mine_3', meaning: 'Their sum.' }], checks: [{ check: 'constructor', title: 'C', measure: 'constructor', at_most: 10, unit: 'psi', source: SOURCE }] }), 'own.json');
    const fleet = await evaluateReadings(Buffer.from('unit,inspected_on,__proto__,constructor,toString,valueOf,hasOwnProperty\nT1,2026-03-14,1,2,3,4,5\n'), { name: 'fleet.csv', limits: set });
    expect(fleet.evaluations[0]!.measures).toMatchObject({ constructor: 10 });
    expect([fleet.evaluations[0]!.verdict, ownHeaders(fleet)]).toStrictEqual(['pass', ['hasOwnProperty']]);
    const json = JSON.parse(await textOf(evaluationJson(fleet))) as { inspections: { measures: Record<string, unknown>; checks: { check: string; value: unknown }[] }[] };
    expect(Object.entries(json.inspections[0]!.measures).filter(([name]) => name === 'constructor')).toStrictEqual([['constructor', 10]]);
    expect(json.inspections[0]!.checks.map(({ check, value }) => [check, value])).toStrictEqual([['constructor', 10]]);
  });

  it('in a map file, which is written and read back the same', async () => {
    const columns = '{"__proto__":"cut_out","constructor":"cut_in","toString":null,"hasOwnProperty":"unit","":null}';
    const dictionary = fieldDictionary();
    const map = parseColumnMap(`{"format":"treadlebook-map","version":1,"columns":${columns}}`, 'map.json', dictionary);
    expect([...map]).toStrictEqual([['__proto__', 'cut_out'], ['constructor', 'cut_in'], ['toString', null], ['hasOwnProperty', 'unit'], ['', null]]);
    const fleet = await evaluateReadings(Buffer.from('__proto__,constructor,toString,hasOwnProperty,inspected_on\n125,100,x,T-1,2026-03-14\n'), { name: 'fleet.csv', map });
    expect([fleet.evaluations[0]!.measures['cut_out'], fleet.evaluations[0]!.measures['cut_in'], fleet.evaluations[0]!.unit, ownHeaders(fleet)]).toStrictEqual([125, 100, 'T-1', ['toString']]);
    const again = parseColumnMap(columnMapText(fleet.columns, dictionary), 'again.json', dictionary);
    expect([...again]).toStrictEqual([['__proto__', 'cut_out'], ['constructor', 'cut_in'], ['toString', null], ['hasOwnProperty', 'unit'], ['inspected_on', 'inspected_on']]);
    for (const value of ['5', '{"unit":1}', '["unit"]', 'true', '"nothing"']) expect(() => parseColumnMap(`{"format":"treadlebook-map","version":1,"columns":{"__proto__":${value}}}`, 'map.json', dictionary)).toThrow(TreadlebookError);
  });

  it('that stand in a header twice keep their field in the map that is printed', async () => {
    const fleet = await evaluateReadings(Buffer.from('unit,inspected_on,Cut-out,Cut-out\nT-1,2026-03-14,125,130\n'), { name: 'fleet.csv' });
    expect([...parseColumnMap(columnMapText(fleet.columns, fieldDictionary()), 'map.json', fieldDictionary())]).toStrictEqual([['unit', 'unit'], ['inspected_on', 'inspected_on'], ['Cut-out', 'cut_out']]);
  });

  it('on the command line: files, limit sets and options of that name', async () => {
    await inFolder(async (folder) => {
      writeFileSync(join(folder, '__proto__.csv'), CSV);
      const { code, out } = await runInside(['evaluate', join(folder, '__proto__.csv'), '--json', '--quiet']);
      expect(code).toBe(0);
      expect((JSON.parse(out) as { source: { name: string }; units: unknown[] }).units).toHaveLength(DISTINCT.length);
    });
    for (const word of ['__proto__', 'constructor', 'toString', 'hasOwnProperty']) {
      expect((await runInside([word])).code).toBe(2);
      expect((await runInside(['limits', word])).code).toBe(2);
      expect((await runInside(['fields', `--${word}`])).code).toBe(2);
      expect((await runInside(['fields', `--${word}=1`])).code).toBe(2);
    }
  });
});
