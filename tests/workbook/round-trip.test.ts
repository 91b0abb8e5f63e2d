import { beforeAll, describe, expect, it } from 'vitest';
import { readCsv } from '../../src/formats/read-csv.js';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { limitSetIds } from '../../src/limits/load-limit-set.js';
import { plainValue, type RawCell } from '../../src/util/raw-table.js';
import { evaluatedCsv } from '../../src/workbook/evaluated-csv.js';
import { evaluateReadings, type EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import type { EvaluateOptions } from '../../src/workbook/opened-fleet.js';
import { evaluationJson } from '../../src/workbook/evaluation-json.js';
import { workbookOf } from '../../src/workbook/write-workbook.js';
import { makeXlsx, stylesXml, workbookXml } from '../formats/make-xlsx.js';
import { requireOutside } from '../support/recalculate.js';
import { savedByLibreOffice } from '../support/run-libreoffice.js';
import { bytesOf, textOf } from './bytes-of.js';
import { EVERY_KIND_CSV, ownLimitSet } from './every-kind-of-cell.js';
import { sheetPath, workbookParts } from './workbook-parts.js';

/** A table as people keep it: columns of their own between ours, headers twice, and texts that spreadsheet programs like to change. */
const KEPT = [
  'Yard bay,inspection_id,=Weather,inspected_on,unit,Notes,+area code,released_primary_start,released_primary_end,released_time,-,@who,notes,light_on_at,buzzer_on_at,vehicle_kind,pressure_unit,audible_leak,Weather,Weather,cut_in,odometer,__proto__,constructor',
  '007,A-01,=1+1,2026-03-14,0042,"two\r\nlines",+44 20,~104,104-108,60 s,-12,@home,"say ""so""",70 psi,never,Truck,PSI,Y,dry,wet,104.0,"123,456",x,y',
  ' padded ,A-02,\'=1,14 March 2026,K-1,=SUM(A1),00,104–108,abc,n/a,\'quoted,-x,,~68,Never,lorry,psi,perhaps,"a,b",;,-,352 360,_x000D_,<&>',
  '1e5,=A-03,+1,2026-02-30,=K-2,\ttab,1.50,104 x,7.2 bar,soon,TRUE,#N/A,"",720 kPa,n/a,bus,bar,no,=,@,??,abc,,',
  ',,,,,,,,,,,,,,,,,,,,,,,',
  '2026-03-14,A-04,12:30,2026-03-15,K-1,,1/2,104,101,1:00,,,x,,,,,,,,1.250,,,',
  '',
].join('\r\n');

async function rowsOf(csv: Uint8Array | string): Promise<(readonly RawCell[])[]> {
  const rows: (readonly RawCell[])[] = [];
  const chunks = (async function* () {
    yield typeof csv === 'string' ? Buffer.from(csv) : csv;
  })();
  for await (const { cells } of (await readCsv(chunks, { delimiter: ',' })).rows) if (cells.some((cell) => cell !== '')) rows.push(cells);
  return rows;
}

const csvOf = async (fleet: EvaluatedFleet): Promise<string> => textOf(evaluatedCsv(fleet.plan, fleet.columns, fleet.evaluations));
const evaluate = (input: Uint8Array | string, name: string, options: EvaluateOptions = {}): Promise<EvaluatedFleet> => evaluateReadings(typeof input === 'string' ? Buffer.from(input) : input, { ...options, name });

/** The evaluation without what names the file and the place in it. */
async function judged(fleet: EvaluatedFleet): Promise<unknown> {
  const json = JSON.parse(await textOf(evaluationJson(fleet))) as { source: unknown; inspections: { row: unknown }[]; open_work: { row: unknown }[]; problems: Record<string, unknown>[] };
  return {
    ...json,
    source: null,
    inspections: json.inspections.map((inspection) => ({ ...inspection, row: null })),
    open_work: json.open_work.map((work) => ({ ...work, row: null })),
    // A sheet has a column for every cell, so that none lies beyond its header.
    problems: json.problems.filter(({ code }) => code !== 'cells_beyond_header').map(({ code, column, found }) => ({ code, column, found })),
  };
}

/** What was understood and kept of each inspection, by name. */
function understoodOf(fleet: EvaluatedFleet): unknown {
  const { fields } = fleet.plan.dictionary;
  return fleet.evaluations.map(({ inspection }) => ({
    values: Object.fromEntries(fields.flatMap(({ name }, position) => ((inspection.values[position] ?? null) === null ? [] : [[name, inspection.values[position]]]))),
    asFound: Object.fromEntries(inspection.asFound),
    notRead: [...inspection.notRead].sort(),
    extra: inspection.extra.map((cell) => String(plainValue(cell) ?? '')).join('|').replace(/\|+$/, ''),
  }));
}

describe('from CSV to a workbook and back', () => {
  let first: EvaluatedFleet;
  let workbook: Uint8Array;
  let second: EvaluatedFleet;
  beforeAll(async () => {
    first = await evaluate(KEPT, 'kept.csv');
    workbook = await bytesOf(workbookOf(first));
    second = await evaluate(workbook, 'kept.xlsx');
  });

  it('gives every column back in its place, cell by cell, those that are not ours and texts as found among them', async () => {
    const [original, direct, back] = await Promise.all([rowsOf(KEPT), csvOf(first).then(rowsOf), csvOf(second).then(rowsOf)]);
    const width = original[0]!.length;
    // A header of ours comes back as its name; every other header as it was.
    const headers = original[0]!.map(String).map((header) => (header === 'Notes' ? 'notes' : header));
    expect(direct.map((row) => row.slice(0, width))).toStrictEqual([headers, ...original.slice(1)]);
    const places = headers.map((header, index) => headers.slice(0, index).filter((other) => other === header).length).map((nth, index) => nthIndex(back[0]!, headers[index]!, nth));
    expect(back.map((row) => places.map((at) => row[at]))).toStrictEqual([headers, ...original.slice(1)]);
    expect(places).toStrictEqual([...places].sort((a, b) => a - b));
  });

  it('gives the same inspections and the same evaluation', async () => {
    expect(understoodOf(second)).toStrictEqual(understoodOf(first));
    expect(await judged(second)).toStrictEqual(await judged(first));
  });

  it('changes nothing on the sheet Readings when the evaluated workbook is evaluated again', async () => {
    const again = await bytesOf(workbookOf(second));
    const [before, after] = [await workbookParts(workbook), await workbookParts(again)];
    expect(after.get(sheetPath(after, 'Readings'))).toBe(before.get(sheetPath(before, 'Readings')));
  });
});

it('a column of a user\'s own that is called as_found is kept beside ours', async () => {
  const csv = 'unit,inspected_on,as_found,light_on_at\nK-1,2026-03-14,rusty,~70\n';
  const back = await rowsOf(await csvOf(await evaluate(await bytesOf(workbookOf(await evaluate(csv, 'found.csv'))), 'found.xlsx')));
  const at = (header: string): unknown => back[1]![back[0]!.indexOf(header)];
  expect([at('as_found'), at('light_on_at'), back[0]!.filter((header) => header === 'as_found').length]).toStrictEqual(['rusty', '~70', 1]);
});

describe('a reading below a header that names its unit', () => {
  it('means the same below the name of the column, in CSV and in a workbook', async () => {
    const csv = 'unit,inspected_on,Cut in (kPa),Cut out (kPa),Light on at (bar),Released time (min)\nK-1,2026-03-14,700,~860-870,4.9,1.5\nK-2,2026-03-15,700 kPa,125 psi,never,2:00\n';
    const first = await evaluate(csv, 'units.csv');
    const [direct, book] = [await evaluate(await csvOf(first), 'direct.csv'), await evaluate(await bytesOf(workbookOf(first)), 'book.xlsx')];
    const measured = (fleet: EvaluatedFleet): unknown => fleet.evaluations.map(({ measures }) => ['cut_in', 'cut_out', 'light_on_at'].map((name) => measures[name]));
    const times = (fleet: EvaluatedFleet): unknown => fleet.evaluations.map(({ inspection }) => inspection.values[fleet.plan.dictionary.position.get('released_time')!]);
    // 700 kPa is 101.53 psi, 865 kPa 125.46 psi and 4.9 bar 71.07 psi (NIST SP 811, appendix B.8: 6.894757 kPa to the psi).
    expect(measured(first)).toStrictEqual([[expect.closeTo(101.53, 2), expect.closeTo(125.46, 2), expect.closeTo(71.07, 2)], [expect.closeTo(101.53, 2), 125, 0]]);
    expect(times(first)).toStrictEqual([90, 120]);
    for (const again of [direct, book]) {
      expect(measured(again)).toStrictEqual(measured(first));
      expect(times(again)).toStrictEqual(times(first));
    }
    expect((await rowsOf(await csvOf(first)))[1]!.slice(0, 6)).toStrictEqual(['K-1', '2026-03-14', '700 kPa', '~860-870 kPa', '4.9 bar', '1.5 min']);
  });
});

describe('a cell that a spreadsheet program took for a date or a time', () => {
  const rows = (serial: number): string =>
    '<row r="1"><c r="A1" t="inlineStr"><is><t>unit</t></is></c><c r="B1" t="inlineStr"><is><t>inspected_on</t></is></c><c r="C1" t="inlineStr"><is><t>notes</t></is></c><c r="D1" t="inlineStr"><is><t>Seen</t></is></c><c r="E1" t="inlineStr"><is><t>Shift</t></is></c></row>' +
    `<row r="2"><c r="A2" t="inlineStr"><is><t>K-1</t></is></c><c r="B2" s="1"><v>${serial}</v></c><c r="C2" s="1"><v>${serial}</v></c><c r="D2" s="2"><v>${serial + 0.25}</v></c><c r="E2" s="3"><v>0.59375</v></c></row>`;
  const styles = stylesXml([0, 14, 22, 20]);

  // 2026-03-14 is serial 46095, and 44633 where days count from 1904 (ECMA-376 Part 1, 18.17.4.1: the systems lie 1462 days apart).
  it.each([[46095, false], [44633, true]])('keeps what it shows: serial %i, 1904: %s', async (serial, date1904) => {
    const workbook = workbookXml(`<workbookPr date1904="${date1904 ? 1 : 0}"/><sheets><sheet name="S" sheetId="1" r:id="rId1"/></sheets>`);
    const first = await evaluate(await makeXlsx(rows(serial), { 'xl/styles.xml': styles, 'xl/workbook.xml': workbook }), 'dates.xlsx');
    const cells = (await rowsOf(await csvOf(first)))[1]!.slice(0, 5);
    expect(cells).toStrictEqual(['K-1', '2026-03-14', '2026-03-14', '2026-03-14 06:00', '14:15']);
    expect((await rowsOf(await csvOf(await evaluate(await bytesOf(workbookOf(first)), 'again.xlsx')))).map((row) => row.filter((cell) => cells.includes(cell)))[1]).toStrictEqual(cells);
  });
});

function nthIndex(cells: readonly RawCell[], wanted: string, nth: number): number {
  return cells.flatMap((cell, index) => (cell === wanted ? [index] : []))[nth] ?? -1;
}

describe('an evaluated workbook, evaluated again', () => {
  it.each([...limitSetIds().map((id) => ['samples/invented-fleet-messy.csv', id] as const), ['samples/invented-fleet.csv', 'common-practice'] as const])('%s against %s: the same evaluation and the same sheet', async (file, limits) => {
    const first = await evaluateReadings(file, { limits });
    const workbook = await bytesOf(workbookOf(first));
    const second = await evaluate(workbook, 'again.xlsx', { limits });
    expect(understoodOf(second)).toStrictEqual(understoodOf(first));
    expect(await judged(second)).toStrictEqual(await judged(first));
    const [before, after] = [await workbookParts(workbook), await workbookParts(await bytesOf(workbookOf(second)))];
    expect(after.get(sheetPath(after, 'Readings'))).toBe(before.get(sheetPath(before, 'Readings')));
  });

  it('holds for columns of a user\'s own', async () => {
    const limits = ownLimitSet();
    const first = await evaluate(EVERY_KIND_CSV, 'every.csv', { limits });
    const second = await evaluate(await bytesOf(workbookOf(first)), 'every.xlsx', { limits });
    expect(understoodOf(second)).toStrictEqual(understoodOf(first));
    expect(await judged(second)).toStrictEqual(await judged(first));
  });

  it('holds after LibreOffice has opened and saved it', { timeout: 120_000 }, async (context) => {
    requireOutside(context, 'soffice');
    const cases = [{ name: 'kept', input: KEPT, limits: undefined }, { name: 'every', input: EVERY_KIND_CSV, limits: ownLimitSet() }];
    // LibreOffice keeps a line feed of a line break, and not the carriage return before it.
    const firsts = await Promise.all(cases.map(({ name, input, limits }) => evaluate(input.replaceAll('"two\r\nlines"', '"two\nlines"'), `${name}.csv`, { limits })));
    const books = await savedByLibreOffice(await Promise.all(firsts.map((first) => bytesOf(workbookOf(first)))));
    for (const [index, { name, limits }] of cases.entries()) {
      const [first, saved] = [firsts[index]!, books[index]!];
      expect((await openXlsx(saved)).application).toMatch(/LibreOffice/);
      const second = await evaluate(saved, `${name}.xlsx`, { limits });
      expect(understoodOf(second)).toStrictEqual(understoodOf(first));
      expect(await judged(second)).toStrictEqual(await judged(first));
    }
  });
});
