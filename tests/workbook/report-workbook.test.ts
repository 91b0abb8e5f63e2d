import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import ExcelJS from 'exceljs';
import { describe, expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { plainValue } from '../../src/util/raw-table.js';
import { cautions } from '../../src/workbook/cautions.js';
import { evaluateReadings, type EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import { reportWorkbook, type ReportOptions } from '../../src/workbook/report-workbook.js';
import { requireOutside } from '../support/recalculate.js';
import { convertByLibreOffice } from '../support/run-libreoffice.js';
import { bytesOf } from './bytes-of.js';
import { pagesOfPdf } from './paper-book.js';

const MESSY = 'samples/invented-fleet-messy.csv';

async function pagesOf(fleet: EvaluatedFleet, options: ReportOptions): Promise<Map<string, string[]>> {
  const pages = new Map<string, string[]>();
  for (const sheet of (await openXlsx(await bytesOf(reportWorkbook(fleet, options)))).sheets) {
    const texts: string[] = [];
    for await (const { cells } of sheet.table().rows) for (const cell of cells) if (plainValue(cell) !== null && plainValue(cell) !== '') texts.push(String(plainValue(cell)));
    pages.set(sheet.name, texts);
  }
  return pages;
}

const csvOf = (rows: readonly Readonly<Record<string, string>>[]): Buffer => {
  const names = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  return Buffer.from([names, ...rows.map((row) => names.map((name) => `"${(row[name] ?? '').replaceAll('"', '""')}"`))].map((line) => line.join(',')).join('\n'));
};

describe('the report of an inspection', { timeout: 60_000 }, () => {
  it('holds, word for word, what was read, what came of it, by which limits, and where from', async () => {
    const fleet = await evaluateReadings(MESSY);
    const pages = await pagesOf(fleet, { unit: 'S-307', date: '2026-10-12' });
    expect([...pages.keys()]).toStrictEqual(['S-307 2026-10-12']);
    const texts = pages.get('S-307 2026-10-12')!;
    const whole = texts.join('\n');
    const evaluation = fleet.evaluations.find(({ unit, inspected_on }) => unit === 'S-307' && inspected_on === '2026-10-12')!;
    for (const words of ['Inspection report: S-307, 2026-10-12', evaluation.verdict.toUpperCase(), evaluation.reason, fleet.plan.set.authority]) expect(whole).toContain(words);
    for (const caution of cautions()) expect(whole).toContain(caution);
    for (const { reason, verdict, citation, status } of evaluation.checks) {
      expect(texts).toContain(reason);
      expect(texts).toContain(verdict);
      expect(texts).toContain(`${citation} [${status}]`);
    }
    // The readings as they stand in the file.
    for (const [name, text] of evaluation.inspection.asFound) expect([name, texts.includes(text)]).toStrictEqual([name, true]);
    expect(texts).toContain('approx. 110');
    expect(evaluation.checks[0]!.chance_within_limit).not.toBeNull();
    expect(texts).toContain(`${(evaluation.checks[0]!.chance_within_limit! * 100).toFixed(1)} %`);
    expect(whole).toContain('Where to look first (common practice, no source; the licensed inspector decides): Released fails, applied passes');
    expect(whole).toContain(createHash('sha256').update(readFileSync(MESSY)).digest('hex'));
    expect(whole).toContain(fleet.plan.sha256);
    expect(texts).toContain('Weather');
  });

  it('has no formula, and is the same bytes each time', async () => {
    const fleet = await evaluateReadings(csvOf([{ unit: '=1+1', inspected_on: '2026-03-14', notes: '=HYPERLINK("http://example.org")', site: '+A1', inspector: '@SUM(A1)', '=cmd': '-1+2', cut_out: '=2*3', defects: 'bell \u0007 _x0041_ 😀' }]));
    const options = { unit: '=1+1', date: '2026-03-14' };
    const bytes = await bytesOf(reportWorkbook(fleet, options));
    expect(Buffer.compare(bytes, await bytesOf(reportWorkbook(fleet, options)))).toBe(0);
    for (const sheet of (await openXlsx(bytes)).sheets) for await (const { formulas } of sheet.rowsWithFormulas()) expect(formulas.filter((formula) => formula)).toStrictEqual([]);
    const texts = [...(await pagesOf(fleet, options)).values()].flat();
    for (const text of ['=HYPERLINK("http://example.org")', '+A1', '@SUM(A1)', '=cmd', '-1+2', '=2*3 (not understood)', 'bell \u0007 _x0041_ 😀']) expect(texts).toContain(text);
  });

  it('is one page for each inspection where several are of that unit and day, with the inspections before it in three lines', async () => {
    const row = (id: string, date: string, end: string): Record<string, string> => ({ inspection_id: id, unit: 'K-1', inspected_on: date, released_primary_start: '110', released_primary_end: end, released_time: '1:00' });
    const fleet = await evaluateReadings(csvOf([row('a', '2026-01-01', '109'), row('b', '2026-02-01', '104'), row('c', '2026-03-01', '109'), row('d', '2026-03-14', '103'), row('e', '2026-03-14', '109'), row('f', '2026-04-01', '109')]), { limits: 'us-nevada' });
    const pages = await pagesOf(fleet, { unit: 'K-1', date: '2026-03-14' });
    expect([...pages.keys()]).toStrictEqual(['K-1 2026-03-14', 'K-1 2026-03-14 (2)']);
    const before = [...pages.values()].map((texts) => texts.slice(texts.indexOf('Inspections of this unit before it') + 1, texts.indexOf('Source')).map((line) => line.slice(0, line.indexOf('.'))));
    expect(before).toStrictEqual([['2026-03-01, c: not tested', '2026-02-01, b: fail', '2026-01-01, a: not tested'], ['2026-03-14, d: fail', '2026-03-01, c: not tested', '2026-02-01, b: fail']]);
    expect((await pagesOf(fleet, { unit: 'K-1', date: '2026-01-01' })).get('K-1 2026-01-01')).toContain('None in this table.');
  });

  it('says which numbers of the sheet Limits were changed, and judges by them', async () => {
    const fleet = await evaluateReadings(csvOf([{ unit: 'K-1', inspected_on: '2026-03-14', light_on_at: '62' }]));
    const [plain, changed] = [await pagesOf(fleet, { unit: 'K-1', date: '2026-03-14' }), await pagesOf(fleet, { unit: 'K-1', date: '2026-03-14', numbers: new Map([['limit:warning:1', 65]]) })].map((pages) => [...pages.values()][0]!);
    expect([plain!.includes('at least 60 psi'), plain!.includes('NOT TESTED'), plain!.join().includes('sheet Limits')]).toStrictEqual([true, true, false]);
    expect([changed!.includes('at least 65 psi'), changed!.includes('FAIL')]).toStrictEqual([true, true]);
    expect(changed!.join('\n')).toContain('limit_warning_1 is 65, in the limit set 60');
  });

  it('says what could not be understood, and which unit stood for a blank one', async () => {
    const fleet = await evaluateReadings(csvOf([{ unit: 'K-1', inspected_on: '2026-03-14', cut_in: 'abc' }]));
    const texts = [...(await pagesOf(fleet, { unit: 'K-1', date: '2026-03-14' })).values()].flat();
    expect(texts).toContain('abc (not understood)');
    expect(texts).toContain('psi (left blank)');
    expect(texts.join('\n')).toContain('Problem (not_understood) cut_in: abc;');
  });

  it('cuts a text that would fill the page, and says so', async () => {
    const fleet = await evaluateReadings(csvOf([{ unit: 'K-1', inspected_on: '2026-03-14', notes: 'x '.repeat(5000) }]));
    const texts = [...(await pagesOf(fleet, { unit: 'K-1', date: '2026-03-14' })).values()].flat();
    expect(texts.filter((text) => text.endsWith('… (cut; the whole stands in the source)')).length).toBe(1);
  });

  it('is refused for an inspection that is not there', async () => {
    const fleet = await evaluateReadings(MESSY);
    await expect(bytesOf(reportWorkbook(fleet, { unit: 'S-307', date: '2026-10-11' }))).rejects.toThrow('there is no inspection of "S-307" on 2026-10-11; the nearest one is of 2026-10-12');
  });

  it('prints upright on one page', async () => {
    const book = new ExcelJS.Workbook();
    await book.xlsx.load(Buffer.from(await bytesOf(reportWorkbook(await evaluateReadings(MESSY), { unit: 'S-307', date: '2026-10-12' }))) as never);
    expect(book.worksheets[0]!.pageSetup).toMatchObject({ orientation: 'portrait', fitToPage: true, fitToWidth: 1, fitToHeight: 1, blackAndWhite: true });
  });
});

// The outside source is LibreOffice: it lays out the pages.
it('every report takes one page, by the limit set with the most checks too', { timeout: 120_000 }, async (context) => {
  requireOutside(context, 'soffice');
  for (const limits of ['common-practice', 'us-driver-licence-manual', 'ca-quebec']) {
    const fleet = await evaluateReadings(MESSY, { limits });
    const pdf = (await convertByLibreOffice(await bytesOf(reportWorkbook(fleet, { unit: 'S-307', date: '2026-10-12' })), 'report.xlsx', 'pdf')).get('report.pdf')!;
    expect([limits, pagesOfPdf(pdf).pages]).toStrictEqual([limits, 1]);
  }
});
