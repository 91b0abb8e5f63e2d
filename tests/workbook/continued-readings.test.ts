import { beforeAll, describe, expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { ROWS_OF_SHEET } from '../../src/util/continued-sheets.js';
import { plainValue } from '../../src/util/raw-table.js';
import { compareReadings } from '../../src/workbook/compare-readings.js';
import { evaluateReadings, type EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import { evaluationJson } from '../../src/workbook/evaluation-json.js';
import { reportWorkbook } from '../../src/workbook/report-workbook.js';
import type { Finding } from '../../src/workbook/verify-finding.js';
import { verifyWorkbook } from '../../src/workbook/verify-workbook.js';
import { blankWorkbook, workbookOf } from '../../src/workbook/write-workbook.js';
import { compareWithRecalculation } from '../support/compare-with-recalculation.js';
import { dumpByOpenpyxl } from '../support/openpyxl-dump.js';
import { requireOutside } from '../support/recalculate.js';
import { ResultsSection } from '../support/results-section.js';
import { convertByLibreOffice } from '../support/run-libreoffice.js';
import { workbookFaults } from '../support/workbook-faults.js';
import { makeXlsx, relationshipsXml, sheetXml, workbookXml } from '../formats/make-xlsx.js';
import { bytesOf, textOf } from './bytes-of.js';
import { rowsOfSheet } from './sheet-tables.js';
import { sheetPath, withSheetChanged, workbookParts } from './workbook-parts.js';

const results = new ResultsSection('tests/workbook/hostile/WRITTEN.md', 'Texts and numbers made to do harm where they are written, and what came of each', 'More rows than a sheet holds');

const ROWS = 40;
const SHEETS = ['Readings', 'Readings 2', 'Readings 3'];

const entriesOf = (fleet: EvaluatedFleet): unknown => fleet.evaluations.map(({ inspection: { values, asFound, notRead, extra } }) => ({ values, asFound: Object.fromEntries(asFound), notRead, extra: extra.map((cell) => String(plainValue(cell) ?? '')).join('|').replace(/\|+$/, '') }));
const places = (findings: readonly Finding[]): string[] => findings.map(({ code, sheet, cell, column }) => `${code} ${sheet}!${cell} ${column}`);

async function judged(fleet: EvaluatedFleet): Promise<unknown> {
  const json = JSON.parse(await textOf(evaluationJson(fleet))) as { source: unknown; inspections: object[]; open_work: object[]; problems: { code: string; column: string; found: string }[] };
  const apart = <T extends object>(list: readonly T[]): T[] => list.map((one) => ({ ...one, row: null }));
  return { ...json, source: null, inspections: apart(json.inspections), open_work: apart(json.open_work), problems: json.problems.filter(({ code }) => code !== 'cells_beyond_header').map(({ code, column, found }) => ({ code, column, found })) };
}

describe('readings that go on over three sheets', { timeout: 180_000 }, () => {
  let whole: EvaluatedFleet;
  let book: Uint8Array;
  let again: EvaluatedFleet;
  beforeAll(async () => {
    const lines = Array.from({ length: 104 }, (_, row) => {
      const text = row % 25 === 7 ? 'soon' : row % 9 === 0 ? '~104' : '104';
      return `id-${row},2026-0${1 + (row % 6)}-${10 + (row % 19)},K-${row % 13},truck,Yard ${row % 3},${text},${row % 4 === 0 ? 96 : 102},1:00,60,own ${row}`;
    });
    const csv = ['inspection_id,inspected_on,unit,vehicle_kind,site,released_primary_start,released_primary_end,released_time,light_on_at,=mine', ...lines, ''].join('\r\n');
    whole = await evaluateReadings(Buffer.from(csv), { name: 'whole.csv' });
    book = await bytesOf(workbookOf(whole, { rowsPerSheet: ROWS }));
    again = await evaluateReadings(book, { name: 'book.xlsx' });
  }, 60_000);

  it('fills each sheet before the next, with the same rows above, the same columns and the formulas of the first', async () => {
    const tables = await Promise.all(SHEETS.map((sheet) => rowsOfSheet(book, sheet)));
    expect((await openXlsx(book)).sheets.map(({ name }) => name).filter((name) => name.startsWith('Readings'))).toStrictEqual(SHEETS);
    expect(tables.map((table) => Math.max(...table.keys()))).toStrictEqual([43, 43, 27]);
    for (const table of tables) for (const row of [1, 2, 3]) expect(table.get(row)).toStrictEqual(tables[0]!.get(row));
    const formulas = async (sheet: string): Promise<unknown> => {
      for await (const row of (await openXlsx(book)).sheets.find(({ name }) => name === sheet)!.rowsWithFormulas()) if (row.number === 4) return row.formulas;
      return null;
    };
    const [first, ...others] = await Promise.all(SHEETS.map(formulas));
    for (const other of others) expect(other).toStrictEqual(first);
    results.came(`104 readings where a sheet has room for ${ROWS}`, `they go on over ${SHEETS.join(', ')}`);
  });

  it('gives each sheet its filter, frozen rows, validations, protection, print titles and names', async () => {
    const parts = await workbookParts(book);
    const workbook = parts.get('xl/workbook.xml')!;
    for (const [index, sheet] of SHEETS.entries()) {
      const xml = parts.get(sheetPath(parts, sheet))!;
      const last = [43, 43, 27][index]!;
      expect([sheet, /<autoFilter ref="A3:[A-Z]+(\d+)"/.exec(xml)?.[1], /ySplit="(\d)"/.exec(xml)?.[1], /<sheetProtection [^>]*sheet="1"/.test(xml), (xml.match(/<dataValidation /g) ?? []).length > 20]).toStrictEqual([sheet, String(last), '3', true, true]);
      const [unit, verdict] = index === 0 ? ['readings_unit', 'computed_verdict'] : [`readings_${index + 1}_unit`, `computed_${index + 1}_verdict`];
      for (const name of [unit, verdict]) expect(new RegExp(`<definedName name="${name}">([^<]*)<`).exec(workbook)?.[1]?.replaceAll('&apos;', "'")).toMatch(new RegExp(`^'?${sheet}'?!\\$[A-Z]+\\$4:\\$[A-Z]+\\$${last}$`));
      expect(workbook).toMatch(new RegExp(`_xlnm.Print_Titles" localSheetId="\\d+">[^<]*${sheet}(?:'|&apos;)?!\\$1:\\$3`));
    }
    expect(await workbookFaults(book)).toStrictEqual([]);
  });

  it('has values on the sheets that sum up, and no formula there looks at one sheet alone', async () => {
    for (const sheet of (await openXlsx(book)).sheets) {
      if (sheet.name.startsWith('Readings')) continue;
      for await (const { number, formulas } of sheet.rowsWithFormulas()) {
        for (const formula of formulas) {
          const names = [...(formula ?? '').matchAll(/\b(?:readings|computed)_(?:(\d+)_)?/g)].map(([, part]) => part ?? '1');
          expect([sheet.name, number, formula, names]).toStrictEqual([sheet.name, number, formula, names.length === 0 ? [] : ['1', '2', '3']]);
        }
      }
    }
    const one = await bytesOf(workbookOf(whole));
    for (const sheet of ['Units', 'Open work', 'Trend']) {
      const [split, together] = [await rowsOfSheet(book, sheet), await rowsOfSheet(one, sheet)];
      const lines = (table: Map<number, readonly unknown[]>): string[] => [...table.values()].filter(([first]) => String(first ?? '').length < 80).map((cells) => JSON.stringify(cells.slice(0, 3))).filter((line) => /K-\d|2026-|\d{5}/.test(line));
      expect([sheet, lines(split)]).toStrictEqual([sheet, lines(together)]);
    }
  });

  it('says on Start here, Limits and Provenance that they go on', async () => {
    const texts = async (sheet: string): Promise<string[]> => [...(await rowsOfSheet(book, sheet)).values()].map((cells) => cells.filter((cell) => cell !== null).join(' | '));
    expect(await texts('Start here')).toEqual(expect.arrayContaining(['Readings 2 | The same of the inspections for which the sheet before has no more rows.', 'Readings 3 | The same of the inspections for which the sheet before has no more rows.']));
    expect((await texts('Limits'))[1]).toContain('changes the verdicts on Readings and on the 2 sheets on which they go on.');
    expect(await texts('Provenance')).toEqual(expect.arrayContaining(['Sheets of readings | 3', 'on the sheet Readings | inspections 1 to 40', 'on the sheet Readings 2 | inspections 41 to 80', 'on the sheet Readings 3 | inspections 81 to 104', 'Rows on the sheet Readings | 104', 'Do the rows add up? | yes']));
  });

  it('is read back as one table, each row with its sheet and cell', async () => {
    expect(entriesOf(again)).toStrictEqual(entriesOf(whole));
    expect(await judged(again)).toStrictEqual(await judged(whole));
    expect(again.source).toMatchObject({ sheet: 'Readings', rows_read: 104, inspections: 104 });
    const unread = again.problems.filter(({ code }) => code === 'not_understood').map(({ sheet, row, cell }) => [sheet, row, cell]);
    const letters = unread[0]![2]!.toString().replace(/\d+/, '');
    expect(unread).toStrictEqual([['Readings', 11, `${letters}11`], ['Readings', 36, `${letters}36`], ['Readings 2', 21, `${letters}21`], ['Readings 3', 6, `${letters}6`]]);
    expect(again.evaluations.map(({ row }) => row).slice(39, 42)).toStrictEqual([43, ROWS_OF_SHEET + 4, ROWS_OF_SHEET + 5]);
  });

  it('is written again as it was', async () => {
    const [before, after] = [await workbookParts(book), await workbookParts(await bytesOf(workbookOf(again, { rowsPerSheet: ROWS })))];
    for (const sheet of SHEETS) expect([sheet, after.get(sheetPath(after, sheet)) === before.get(sheetPath(before, sheet))]).toStrictEqual([sheet, true]);
  });

  it('is computed by LibreOffice as it is stored, on every sheet', async (context) => {
    requireOutside(context, 'soffice');
    const { compared, differences } = await compareWithRecalculation(book, await bytesOf(workbookOf(whole, { rowsPerSheet: ROWS, withoutResults: true })));
    expect(differences).toStrictEqual([]);
    expect(compared).toBeGreaterThan(104 * whole.plan.columns.length * 0.9);
  });

  it('opens in openpyxl, and comes back from LibreOffice', async (context) => {
    expect(Object.keys(dumpByOpenpyxl(context, new Map([['book', book]])).get('book')!.sheets)).toEqual(expect.arrayContaining(SHEETS));
    requireOutside(context, 'soffice');
    const saved = (await convertByLibreOffice(book, 'book.xlsx', 'xlsx')).get('book.xlsx')!;
    expect(entriesOf(await evaluateReadings(saved, { name: 'saved.xlsx' }))).toStrictEqual(entriesOf(whole));
    expect((await verifyWorkbook(saved)).findings).toStrictEqual([]);
  });

  describe('verified', () => {
    const after = async (sheet: string, change: (xml: string) => string): Promise<string[]> => places((await verifyWorkbook(await withSheetChanged(book, sheet, change))).findings);

    it('is clean, with every formula of every sheet compared', async () => {
      const { findings, formulas_compared: formulas } = await verifyWorkbook(book);
      expect(findings).toStrictEqual([]);
      expect(formulas).toBeGreaterThanOrEqual(104 * whole.plan.columns.filter(({ name }) => name !== '').length * 0.9);
    });

    it.each(SHEETS)('tells of a verdict, of a formula and of an entry that were changed on %s', async (sheet) => {
      // The first row of a sheet holds the texts of shared formulas; the one below has what a person would type over.
      expect(await after(sheet, (xml) => xml.replace(/(<c r="A5"[^>]*>.*?<v>)(?:pass|fail|recheck|not tested)(<\/v>)/, '$1pass!$2'))).toStrictEqual([`stored_value_differs ${sheet}!A5 computed.verdict`]);
      expect(await after(sheet, (xml) => xml.replace(/<c r="A5"([^>]*) t="str">.*?<\/c>/, '<c r="A5"$1 t="inlineStr"><is><t>pass</t></is></c>'))).toContain(`formula_replaced ${sheet}!A5 computed.verdict`);
      const changed = await after(sheet, (xml) => xml.replace(/(<row r="6".*?<t xml:space="preserve">)K-\d+/, '$1K-999'));
      expect(changed.some((one) => one.startsWith('entries_changed Provenance!'))).toBe(true);
    });

    it('tells of a row that was taken off the second sheet, and of the rows that do not show there', async () => {
      const gone = await after('Readings 2', (xml) => xml.replace(/<row r="43".*?<\/row>/, ''));
      expect(gone.some((one) => one.startsWith('rows_deleted Provenance!'))).toBe(true);
      expect(await after('Readings 2', (xml) => xml.replace('<row r="9"', '<row r="9" hidden="1"'))).toStrictEqual(['hidden_rows Readings 2!9:9 ']);
    });

    it('tells of a name of the second sheet that was led astray, and of a column there that was renamed', async () => {
      const parts = await workbookParts(book);
      const workbook = parts.get('xl/workbook.xml')!.replace(/(<definedName name="computed_2_verdict">[^<]*\$)43</, '$142<');
      const { makeZip } = await import('../formats/make-xlsx.js');
      const led = new Uint8Array(await makeZip(Object.fromEntries([...parts].map(([path, xml]) => [path, path === 'xl/workbook.xml' ? workbook : xml]))));
      expect(places((await verifyWorkbook(led)).findings)).toStrictEqual(['name_changed Readings 2! computed_2_verdict']);
      const shared = await after('Readings 2', (xml) => xml.replace(/(<row r="3".*?<c r="C3"[^>]*>)<v>\d+<\/v>/, '$1<v>0</v>'));
      expect(shared).toContain('rows_deleted Provenance!B16 Inspections');
      expect(shared).toContain('columns_changed Readings 2! ');
    });

    it('tells of a sheet that is gone', async () => {
      const parts = await workbookParts(book);
      const workbook = parts.get('xl/workbook.xml')!.replace('name="Readings 3"', 'name="Other"');
      const { makeZip } = await import('../formats/make-xlsx.js');
      const without = new Uint8Array(await makeZip(Object.fromEntries([...parts].map(([path, xml]) => [path, path === 'xl/workbook.xml' ? workbook : xml]))));
      const told = places((await verifyWorkbook(without)).findings);
      expect(told).toContain('sheet_missing Readings 3! ');
      expect(told.some((one) => one.startsWith('rows_deleted Provenance!'))).toBe(true);
    });
  });

  it('is compared with another keying, which names sheet and cell', async () => {
    const { differences } = await compareReadings(book, Buffer.from(`inspection_id,inspected_on,unit,released_primary_end\r\nid-50,2026-03-22,K-11,77\r\n`), { names: { a: 'book.xlsx', b: 'again.csv' } });
    expect(differences.filter(({ column }) => column === 'released_primary_end').map(({ cell_a, text_a, text_b, cell_b }) => [cell_a.replace(/[A-Z]+(\d+)$/, '$1'), text_a, text_b, cell_b])).toStrictEqual([["'Readings 2'!14", '102', '77', 'D2']]);
  });

  it('gives reports that name the sheet and the row', async () => {
    const one = again.evaluations[50]!;
    const report = await bytesOf(reportWorkbook(again, { unit: one.unit!, date: one.inspected_on! }));
    const [sheet] = (await openXlsx(report)).sheets;
    const texts = [...(await rowsOfSheet(report, sheet!.name)).values()].flat().filter((cell) => typeof cell === 'string');
    expect(texts.some((text) => text.startsWith('book.xlsx, sheet Readings 2, row 14.'))).toBe(true);
  });
});

describe('a workbook of somebody else', () => {
  const cell = (column: string, row: number, text: string): string => `<c r="${column}${row}" t="inlineStr"><is><t>${text}</t></is></c>`;
  const sheet = (headers: readonly string[], ...rows: readonly (readonly string[])[]): string => sheetXml([headers, ...rows].map((cells, index) => `<row r="${index + 1}">${cells.map((text, at) => cell('ABCDEF'[at]!, index + 1, text)).join('')}</row>`).join(''));
  async function bookOf(sheets: Readonly<Record<string, string>>): Promise<Buffer> {
    const names = Object.keys(sheets);
    return makeXlsx('', {
      'xl/workbook.xml': workbookXml(`<sheets>${names.map((name, index) => `<sheet name="${name}" sheetId="${index + 1}" r:id="rId${index + 1}"/>`).join('')}</sheets>`),
      'xl/_rels/workbook.xml.rels': relationshipsXml(names.map((_, index) => [`rId${index + 1}`, 'worksheet', `worksheets/sheet${index + 1}.xml`] as const)),
      ...Object.fromEntries(Object.values(sheets).map((xml, index) => [`xl/worksheets/sheet${index + 1}.xml`, xml])),
    });
  }
  const HEADER = ['unit', 'inspected_on', 'notes'];
  const read = async (sheets: Readonly<Record<string, string>>, wanted?: string): Promise<{ readonly units: unknown; readonly problems: unknown }> => {
    const fleet = await evaluateReadings(await bookOf(sheets), { name: 'theirs.xlsx', sheet: wanted });
    return { units: fleet.evaluations.map(({ unit, row }) => [unit, row]), problems: fleet.problems.map(({ code, sheet: on }) => [code, on]) };
  };
  const first = sheet(HEADER, ['K-1', '2026-03-14', 'a']);

  it('goes on where the sheets have the same columns, in order and without a gap', async () => {
    expect(await read({ Readings: first, 'Readings 3': sheet(HEADER, ['K-3', '2026-03-16', 'c']), 'Readings 2': sheet(['my list', '', ''], HEADER, ['K-2', '2026-03-15', 'b']) })).toStrictEqual({ units: [['K-1', 2], ['K-2', ROWS_OF_SHEET + 3], ['K-3', 2 * ROWS_OF_SHEET + 2]], problems: [] });
    expect((await read({ Readings: first, 'Readings 3': first })).units).toStrictEqual([['K-1', 2]]);
  });

  it('does not go on where the columns are others, and says which sheet was not read', async () => {
    expect(await read({ Readings: first, 'Readings 2': sheet(['unit', 'notes', 'inspected_on'], ['K-2', 'b', '2026-03-15']) })).toStrictEqual({ units: [['K-1', 2]], problems: [['sheet_not_read', 'Readings 2']] });
    expect(await read({ Readings: first, 'Readings 2': sheet(['just', 'some', 'words']) })).toStrictEqual({ units: [['K-1', 2]], problems: [] });
  });

  it('goes on from the sheet that was asked for, whatever its name', async () => {
    const second = sheet(HEADER, ['K-2', '2026-03-15', 'b']);
    expect((await read({ Yard: first, 'Yard 2': second }, 'yard')).units).toStrictEqual([['K-1', 2], ['K-2', ROWS_OF_SHEET + 2]]);
    expect((await read({ Readings: first, 'Readings 2': second }, 'Readings 2')).units).toStrictEqual([['K-2', 2]]);
  });
});

describe('lists that are longer than their sheet', { timeout: 60_000 }, () => {
  const header = 'unit,inspected_on,released_primary_start,released_primary_end,released_time';
  const csv = [header, ...Array.from({ length: 30 }, (_, row) => `K-${row},2026-03-14,abc,102,1:00`), ''].join('\n');

  it('Problems ends with a line that says how many more there are, and Provenance adds up', async () => {
    const fleet = await evaluateReadings(Buffer.from(csv));
    const book = await bytesOf(workbookOf(fleet, { rowsPerSheet: 12 }));
    const problems = await rowsOfSheet(book, 'Problems');
    expect(Math.max(...problems.keys())).toBe(15);
    expect(problems.get(15)!.filter((cell) => cell !== null)).toStrictEqual(['… and 19 more: evaluate --json lists them all']);
    const provenance = [...(await rowsOfSheet(book, 'Provenance')).values()].map(([label, value]) => `${label}: ${value}`);
    expect(provenance).toEqual(expect.arrayContaining(['Cells not taken as they stood: 30', 'of them without room on the sheet Problems (evaluate --json lists them): 19', 'Lines on the sheet Problems: 11', 'Do they add up?: yes']));
    expect((await verifyWorkbook(book)).findings).toStrictEqual([]);
    expect((JSON.parse(await textOf(evaluationJson(fleet))) as { problems: unknown[] }).problems).toHaveLength(30);
    results.came('30 problems where a sheet has room for 12 lines', `the last line: ${problems.get(15)!.find((cell) => cell !== null)}`);
  });

  it('Strokes says how many more brake chambers there are, and verifies clean', async (context) => {
    const strokes = ['unit,inspected_on,position,chamber_type,stroke', ...Array.from({ length: 90 }, (_, row) => `K-${row},2026-03-14,1L,30,1.5`), ''].join('\n');
    const fleet = await evaluateReadings(Buffer.from(csv.replaceAll('abc', '104')), { strokes: Buffer.from(strokes) });
    const [book, twin] = [await bytesOf(workbookOf(fleet, { rowsPerSheet: 70 })), await bytesOf(workbookOf(fleet, { rowsPerSheet: 70, withoutResults: true }))];
    const title = (await rowsOfSheet(book, 'Strokes')).get(1)![0];
    expect(title).toMatch(/20 more brake chambers have no room here: evaluate --json lists them\.$/);
    expect((await verifyWorkbook(book)).findings).toStrictEqual([]);
    expect((JSON.parse(await textOf(evaluationJson(fleet))) as { strokes: unknown[] }).strokes).toHaveLength(90);
    results.came('90 strokes where a sheet has room for 70', `its title: ${String(title).replace(/.*?(?=\d+ more)/s, '')}`);
    requireOutside(context, 'soffice');
    expect((await compareWithRecalculation(book, twin)).differences).toStrictEqual([]);
  });

  it('a blank workbook of more rows than its formulas bear is refused', async () => {
    for (const rows of [0, 5001, 2_000_000, 1.5, Number.NaN]) await expect(async () => bytesOf(blankWorkbook({ rows }))).rejects.toMatchObject({ code: 'usage', where: 'blank workbook' });
    for (const rows of [0, 5001, 2_000_000, 1.5, Number.NaN]) results.came(`a blank workbook of ${rows} rows`, `refused: ${(await refusalOfBlank(rows)).replace(/^blank workbook: /, '')}`);
    for (const rowsPerSheet of [0, 1_048_574, 2.5]) await expect(async () => bytesOf(workbookOf(await evaluateReadings(Buffer.from(csv)), { rowsPerSheet }))).rejects.toMatchObject({ code: 'usage', where: 'rowsPerSheet' });
  });
});

/** What the refusal of a blank workbook of so many rows says. */
async function refusalOfBlank(rows: number): Promise<string> {
  return (async () => bytesOf(blankWorkbook({ rows })))().then(() => 'it was written', (error: Error) => error.message);
}

it('stand in the published table with what came of them (WRITE_RESULTS=1 writes it anew)', () => results.expectPublished());
