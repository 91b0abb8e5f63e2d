import ExcelJS from 'exceljs';
import { beforeAll, describe, expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { readCsv } from '../../src/formats/read-csv.js';
import { plainValue } from '../../src/util/raw-table.js';
import { compareReadings, type ComparedReadings } from '../../src/workbook/compare-readings.js';
import { comparisonCsv } from '../../src/workbook/comparison-csv.js';
import { comparisonJson, comparisonSchema } from '../../src/workbook/comparison-json.js';
import { comparisonWorkbook } from '../../src/workbook/comparison-workbook.js';
import { compareWithRecalculation } from '../support/compare-with-recalculation.js';
import { requireOutside } from '../support/recalculate.js';
import { bytesOf, textOf } from './bytes-of.js';

const HEADER = 'inspection_id,inspected_on,unit,site,cut_out,notes,__proto__';
const A = [HEADER, 'I-1,2026-03-01,K-101,North,120,=1+1,p', 'I-2,2026-03-02,K-102,North,12O,ok,p', 'I-3,2026-03-03,K-103,South,118,ok,p', 'I-4,2026-03-04,K-104,South,119,,p'].join('\n');
const B = [HEADER, 'I-4,2026-03-04,K-104,south,119,,p', 'I-1,2026-03-01,K-101,North,102,@SUM(A1),q', 'I-2,2026-03-02,K-102,,120,ok,p', 'I-9,2026-03-09,K-109,East,90,+2,p'].join('\n');
// Worked by hand.
const DIFFERENCES = [
  ['I-1', '2026-03-01', 'K-101', 'cut_out', 'value', 2, 'E2', '120', 3, 'E3', '102'],
  ['I-1', '2026-03-01', 'K-101', 'notes', 'value', 2, 'F2', '=1+1', 3, 'F3', '@SUM(A1)'],
  ['I-1', '2026-03-01', 'K-101', '__proto__', 'value', 2, 'G2', 'p', 3, 'G3', 'q'],
  ['I-2', '2026-03-02', 'K-102', 'site', 'blank', 3, 'D3', 'North', 4, 'D4', ''],
  ['I-2', '2026-03-02', 'K-102', 'cut_out', 'not understood', 3, 'E3', '12O', 4, 'E4', '120'],
  ['I-4', '2026-03-04', 'K-104', 'site', 'spelling', 5, 'D5', 'South', 2, 'D2', 'south'],
];

let compared: ComparedReadings;
beforeAll(async () => {
  compared = await compareReadings(Buffer.from(A), Buffer.from(B), { names: { a: 'first.csv', b: 'second.csv' } });
});

describe('as JSON', () => {
  it('is one object of the schema', async () => {
    const json = comparisonSchema.parse(JSON.parse(await textOf(comparisonJson(compared))));
    expect(json.differences.map(({ inspection_id, inspected_on, unit, column, kind, row_a, cell_a, text_a, row_b, cell_b, text_b }) => [inspection_id, inspected_on, unit, column, kind, row_a, cell_a, text_a, row_b, cell_b, text_b])).toStrictEqual(DIFFERENCES);
    expect(json).toMatchObject({ format: 'treadlebook-comparison', version: 1, matched: 3, compared_cells: 20, agreeing_cells: 14, agreement: 0.7, a: { name: 'first.csv', inspections: 4 }, b: { name: 'second.csv', inspections: 4 } });
    expect([json.missing, json.extra]).toStrictEqual([[{ row: 4, inspection_id: 'I-3', inspected_on: '2026-03-03', unit: 'K-103' }], [{ row: 5, inspection_id: 'I-9', inspected_on: '2026-03-09', unit: 'K-109' }]]);
    expect(json.columns.map(({ column, differences }) => [column, differences]).slice(0, 4)).toStrictEqual([['site', 2], ['cut_out', 2], ['notes', 1], ['__proto__', 1]]);
  });

  it('of equal keyings has nothing in its lists', async () => {
    const same = await compareReadings(Buffer.from(A), Buffer.from(A));
    expect(comparisonSchema.parse(JSON.parse(await textOf(comparisonJson(same))))).toMatchObject({ missing: [], extra: [], differences: [], agreement: 1 });
  });
});

describe('as CSV', () => {
  it('has a line for each difference and each inspection of one keying only, and no formula', async () => {
    const text = await textOf(comparisonCsv(compared));
    expect(text).not.toMatch(/(?:^|,)"?[=@]/m);
    const rows: unknown[][] = [];
    for await (const { cells } of (await readCsv((async function* () { yield Buffer.from(text); })())).rows) rows.push([...cells]);
    expect(rows[0]).toStrictEqual(['inspection_id', 'inspected_on', 'unit', 'column', 'kind', 'row_a', 'cell_a', 'text_a', 'row_b', 'cell_b', 'text_b']);
    expect(rows.slice(1, 7)).toStrictEqual(DIFFERENCES.map((row) => row.map(String)));
    expect(rows.slice(7)).toStrictEqual([
      ['I-3', '2026-03-03', 'K-103', '', 'missing', '4', '', '', '', '', ''],
      ['I-9', '2026-03-09', 'K-109', '', 'extra', '', '', '', '5', '', ''],
    ]);
  });
});

describe('as a workbook', () => {
  const rowsOfSheet = async (bytes: Uint8Array, name: string): Promise<unknown[][]> => {
    const rows: unknown[][] = [];
    for await (const { cells } of (await openXlsx(bytes)).sheets.find((sheet) => sheet.name === name)!.table().rows) rows.push(cells.map(plainValue));
    return rows;
  };

  it('has three sheets, with every difference as text', async () => {
    const bytes = await bytesOf(comparisonWorkbook(compared));
    expect((await openXlsx(bytes)).sheets.map(({ name }) => name)).toStrictEqual(['Summary', 'Differences', 'Missing and extra']);
    const differences = await rowsOfSheet(bytes, 'Differences');
    expect(differences.slice(3).map((row) => Array.from({ length: 11 }, (_, index) => row[index] ?? ''))).toStrictEqual(DIFFERENCES);
    const unmatched = await rowsOfSheet(bytes, 'Missing and extra');
    expect(unmatched.slice(3).map((row) => row.slice(0, 5))).toStrictEqual([['in A only', 4, 'I-3', '2026-03-03', 'K-103'], ['in B only', 5, 'I-9', '2026-03-09', 'K-109']]);
    const summary = await rowsOfSheet(bytes, 'Summary');
    expect(summary[1]![0]).toBe('6 cells differ; 1 inspection in A only, 1 in B only. 70.00 % of the cells agree. Columns are listed with the worst keyed first.');
    expect(summary.find(([label]) => label === 'Inspections')!.slice(0, 3)).toStrictEqual(['Inspections', 4, 4]);
    expect(summary.find(([label]) => label === 'cut_out')!.slice(0, 5)).toStrictEqual(['cut_out', 3, 1, 2, 0.3333]);
  });

  it('gives the same bytes for the same comparison', async () => {
    const [one, other] = [await bytesOf(comparisonWorkbook(compared)), await bytesOf(comparisonWorkbook(compared))];
    expect(Buffer.from(one).equals(Buffer.from(other))).toBe(true);
  });

  it('prints with its header on every page, and freezes it', async () => {
    const book = new ExcelJS.Workbook();
    await book.xlsx.load(Buffer.from(await bytesOf(comparisonWorkbook(compared))) as unknown as ArrayBuffer);
    const sheet = book.getWorksheet('Differences')!;
    expect(sheet.pageSetup).toMatchObject({ orientation: 'landscape', fitToWidth: 1, printTitlesRow: '3:3' });
    expect(sheet.views[0]).toMatchObject({ state: 'frozen', ySplit: 3 });
    expect(sheet.autoFilter).toBe('A3:L9');
  });

  it('says so when nothing differs', async () => {
    const bytes = await bytesOf(comparisonWorkbook(await compareReadings(Buffer.from(A), Buffer.from(A))));
    expect((await rowsOfSheet(bytes, 'Differences'))[3]![0]).toBe('None: no cell differs.');
    expect((await rowsOfSheet(bytes, 'Missing and extra'))[3]![0]).toBe('None.');
    expect((await rowsOfSheet(bytes, 'Summary'))[1]![0]).toMatch(/^The two keyings are the same\. 100\.00 % of the cells agree\./);
  });

  it('takes texts that no sheet can hold as they are', async () => {
    const odd = (text: string): Uint8Array => Buffer.from(`unit,inspected_on,notes,${'h'.repeat(300)}\nK-1,2026-03-01,"${text}",x\n`);
    const bytes = await bytesOf(comparisonWorkbook(await compareReadings(odd(`bell\u0007 ${'long '.repeat(9000)}`), odd('_x0041_ <&> \ud83d'), { names: { a: '=cmd()\u0001.csv', b: `${'n'.repeat(500)}.csv` } })));
    const row = (await rowsOfSheet(bytes, 'Differences'))[3]!;
    expect(row[10]).toBe('_x0041_ <&> \ufffd');
    expect(row[7]).toMatch(/^bell\u0007 long .*…$/);
    expect(row[7]).toHaveLength(1000);
  });

  it('stores what LibreOffice computes', { timeout: 120_000 }, async (context) => {
    requireOutside(context, 'soffice');
    const result = await compareWithRecalculation(await bytesOf(comparisonWorkbook(compared)), await bytesOf(comparisonWorkbook(compared, { withoutResults: true })));
    expect(result.differences).toStrictEqual([]);
    expect(result.compared).toBe(3 + 2 + 2 * 7);
  });
});
