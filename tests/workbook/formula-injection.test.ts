import { beforeAll, describe, expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { decodeXmlEscapes } from '../../src/formats/xlsx-reader/decode-xml-escapes.js';
import { columnLetters } from '../../src/util/column-letters.js';
import { readCsv } from '../../src/formats/read-csv.js';
import { plainValue } from '../../src/util/raw-table.js';
import { compareReadings } from '../../src/workbook/compare-readings.js';
import { comparisonCsv } from '../../src/workbook/comparison-csv.js';
import { comparisonJson } from '../../src/workbook/comparison-json.js';
import { blankCsv, evaluatedCsv } from '../../src/workbook/evaluated-csv.js';
import { evaluateReadings, type EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import { evaluationJson } from '../../src/workbook/evaluation-json.js';
import { verifyWorkbook } from '../../src/workbook/verify-workbook.js';
import { harmlessBooks, hostileBooks, type HostileBooks } from '../support/hostile-books.js';
import { PAYLOADS } from '../support/hostile-fleet.js';
import { dumpByOpenpyxl } from '../support/openpyxl-dump.js';
import { requireOutside } from '../support/recalculate.js';
import { ResultsSection } from '../support/results-section.js';
import { convertAllByLibreOffice } from '../support/run-libreoffice.js';
import { textOf } from './bytes-of.js';

const results = new ResultsSection('tests/workbook/hostile/WRITTEN.md', 'Texts and numbers made to do harm where they are written, and what came of each', 'Texts that start as a formula does');

/** A formula without its texts and row numbers. */
const bare = (formula: string): string => formula.replace(/"(?:[^"]|"")*"/g, '""').replace(/\d+/g, '#');
const kinds = (formulas: Iterable<string>): string[] => [...formulas].map(bare).sort();
/** A text as a program may give it back that ends lines in its own way. */
const inLines = (text: string): string => text.replace(/\r\n?/g, '\n');

async function cellsOf(bytes: Uint8Array): Promise<Map<string, { readonly text: string | null; readonly formula: boolean }>> {
  const cells = new Map<string, { text: string | null; formula: boolean }>();
  for (const sheet of (await openXlsx(bytes)).sheets) {
    for await (const { number, cells: row, formulas } of sheet.rowsWithFormulas()) {
      for (const [index, cell] of row.entries()) {
        const value = plainValue(cell);
        cells.set(`${sheet.name}!${columnLetters(index)}${number}`, { text: typeof value === 'string' ? value : null, formula: Boolean(formulas[index]) });
      }
    }
  }
  return cells;
}

/** What was understood of the readings, and the cells of columns of the user's own. */
const understood = (fleet: EvaluatedFleet): unknown => fleet.evaluations.map(({ inspection: { values, asFound, notRead, extra } }) => ({ values, asFound: Object.fromEntries(asFound), notRead, extra: extra.map((cell) => plainValue(cell)) }));

/** What is true of each start of a text, as it is found true. */
const found = new Map(PAYLOADS.map((payload) => [payload, { text: false, formulas: 0, csv: false, back: false }]));

describe('a fleet in which every text starts as a formula does', { timeout: 120_000 }, () => {
  let hostile: HostileBooks;
  let harmless: HostileBooks;
  /** The cells of its workbooks. */
  const cells = new Map<string, Awaited<ReturnType<typeof cellsOf>>>();
  const textsOn = (book: string, sheet: string): (string | null)[] => [...cells.get(book)!].filter(([place]) => place.startsWith(`${sheet}!`)).map(([, { text }]) => text);
  beforeAll(async () => {
    [hostile, harmless] = [await hostileBooks(), await harmlessBooks()];
    for (const [name, bytes] of hostile.books) cells.set(name, await cellsOf(bytes));
  }, 120_000);

  describe('in a workbook', () => {
    it('makes no formula, and texts are texts: openpyxl finds the formulas of a harmless fleet of the same shape, and reads what we read', async (context) => {
      const [dumped, plain] = [dumpByOpenpyxl(context, hostile.books), dumpByOpenpyxl(context, harmless.books)];
      for (const [name, { sheets, names, externalLinks }] of dumped) {
        const right = plain.get(name) ?? plain.get('report 0')!;
        expect([name, externalLinks]).toStrictEqual([name, 0]);
        expect([name, names]).toStrictEqual([name, right.names]);
        for (const [index, sheet] of Object.values(sheets).entries()) {
          const twin = Object.values(right.sheets)[index]!;
          const title = `${name}, ${Object.keys(sheets)[index]}`;
          expect([title, sheet.hyperlinks]).toStrictEqual([title, 0]);
          expect([title, kinds(Object.values(sheet.formulas))]).toStrictEqual([title, kinds(Object.values(twin.formulas))]);
          expect([title, kinds(sheet.rules)]).toStrictEqual([title, kinds(twin.rules)]);
        }
        const ours = cells.get(name)!;
        for (const [title, { texts }] of Object.entries(sheets)) {
          // openpyxl decodes the escapes of shared texts and not those of texts in cells.
          for (const [cell, text] of Object.entries(texts)) expect([name, title, cell, [text, decodeXmlEscapes(text)].map(inLines)]).toStrictEqual([name, title, cell, expect.arrayContaining([inLines(ours.get(`${title}!${cell}`)?.text ?? '')])]);
        }
      }
    });

    /** Each way in, and a sheet on which its text must be found whole. */
    it.each([
      ['inspection_id', 'evaluated', 'Readings', (index: number) => `id ${index}`],
      ['unit', 'evaluated', 'Units', (index: number) => `unit ${index}`],
      ['unit', 'evaluated', 'Open work', (index: number) => `unit ${index}`],
      ['site', 'evaluated', 'Fail rates', (index: number) => `site ${index}`],
      ['inspector', 'evaluated', 'Fail rates', (index: number) => `inspector ${index}`],
      ['leak_place', 'evaluated', 'Fail rates', (index: number) => `place ${index}`],
      ['leak_place', 'evaluated', 'Readings', (index: number) => `place ${index}`],
      ['defects', 'evaluated', 'Readings', (index: number) => `defect ${index}`],
      ['notes', 'evaluated', 'Readings', (index: number) => `note ${index}`],
      ['a cell of a column of the user\'s own', 'evaluated', 'Readings', (index: number) => `cell ${index}`],
      ['a cell of the strokes', 'evaluated', 'Strokes', (index: number) => `cell of stroke ${index}`],
      ['unit', 'two sets', 'Borders', (index: number) => `unit ${index}`],
      ['site', 'evaluated', 'Baseline', (index: number) => `site ${index}`],
      ['notes', 'comparison', 'Differences', (index: number) => `remark ${index}`],
    ])('%s stands whole on %s, %s', (_, book, sheet, what) => {
      const texts = new Set(textsOn(book, sheet));
      // The fourth row is not in the second keying.
      const expected = PAYLOADS.map((payload, index) => `${payload}${what(index)}`).filter((_payload, index) => book !== 'comparison' || index !== 2);
      // Names are compared and shown as they are once spaces at their ends are gone.
      const missing = expected.filter((text) => !texts.has(text) && !texts.has(text.trim()));
      expect(missing).toStrictEqual([]);
      if (book === 'evaluated') for (const [index, payload] of PAYLOADS.entries()) found.get(payload)!.text = texts.has(`${payload}${what(index)}`) || texts.has(`${payload}${what(index)}`.trim());
    });

    it.each([
      ['header of a column of the user\'s own', 'Readings', 2, 'own'],
      ['name of the file', 'Provenance', 0, 'fleet'],
      ['name of the baseline', 'Provenance', 1, 'before'],
      ['text that is no kind of vehicle', 'Problems', 0, 'kind'],
      ['text that is no pressure unit', 'Problems', 1, 'unit of pressure'],
      ['text that is no pressure', 'Problems', 2, 'pressure'],
      ['text that is no time', 'Problems', 3, 'time'],
      ['text that is no warning pressure', 'Readings', 0, 'never'],
      ['text that is no yes or no', 'Readings', 4, 'heard'],
      ['text that is no date', 'Problems', 14, 'repaired'],
      ['text that is no inspection', 'Problems', 15, 'retest of'],
      ['header of a column of the user\'s own beside strokes', 'Strokes', 5, 'own of strokes'],
      ['text that is no position', 'Strokes', 6, 'position'],
      ['text that is no chamber', 'Strokes', 7, 'chamber'],
      ['text that is no stroke', 'Strokes', 8, 'stroke'],
      ['text that is no unit of length', 'Strokes', 9, 'inch'],
    ])('a %s stands whole on %s', (_, sheet, payload, what) => {
      expect(textsOn('evaluated', sheet).filter((text) => text?.includes(`${PAYLOADS[payload]!}${what}`.trim())).length).toBeGreaterThan(0);
    });

    it.each(['title of the set', 'authority', 'notice', 'span', 'span check', 'span without number', 'citation of the span', 'printed of the span', 'note of the span', 'citation of the condition', 'not for {cut_in}', 'citation of the interval', 'meaning of the span'])('the text %j of a limit set stands whole on Limits', (what) => {
      const payload = PAYLOADS[what.length % PAYLOADS.length]!.replace(/[\u0000-\u001f]/g, '').replaceAll('_x', 'x');
      expect(textsOn('evaluated', 'Limits').filter((text) => text?.includes(payload + what)).length).toBeGreaterThan(0);
    });

    it('is what LibreOffice opens, text for text, without a formula in its place', async (context) => {
      requireOutside(context, 'soffice');
      const saved = await convertAllByLibreOffice(new Map([...hostile.books].map(([name, bytes]) => [`${name}.xlsx`, bytes])), 'xlsx');
      expect([...saved.keys()].sort()).toStrictEqual([...hostile.books.keys()].map((name) => `${name}.xlsx`).sort());
      for (const [name, ours] of cells) {
        const theirs = await cellsOf(saved.get(`${name}.xlsx`)!);
        for (const [place, { text, formula }] of ours) {
          if (text === null || text === '') continue;
          const found = theirs.get(place);
          // It leaves escapes in results of formulas as they stand, and the spaces at their ends out.
          const read = [found?.text ?? '', ...(formula ? [decodeXmlEscapes(found?.text ?? '')] : [])].map((one) => inLines(one).trim());
          expect([name, place, found?.formula, read]).toStrictEqual([name, place, formula, expect.arrayContaining([inLines(text).trim()])]);
        }
      }
    });

    it('comes back equal, and the workbook verifies clean', async () => {
      const book = hostile.books.get('evaluated')!;
      const again = await evaluateReadings(book, { name: 'again.xlsx', limits: hostile.input.limits });
      expect(understood(again)).toStrictEqual(understood(hostile.fleet));
      const written = [...cells.get('evaluated')!.values()];
      for (const [payload, one] of found) {
        one.formulas = written.filter(({ text, formula }) => formula && text?.startsWith(payload) === true && /^(?:note|defect|cell) \d/.test(text.slice(payload.length))).length;
        one.back = again.evaluations.some(({ inspection: { extra } }, index) => extra.some((cell) => String(plainValue(cell)).startsWith(payload) && hostile.fleet.evaluations[index]!.inspection.extra.includes(cell)));
      }
      expect((await verifyWorkbook(book, { limits: hostile.input.limits })).findings).toStrictEqual([]);
    });

    it('leaves numbers numbers', async () => {
      const rows = (await openXlsx(hostile.books.get('evaluated')!)).sheets.find(({ name }) => name === 'Readings')!.table().rows;
      let at = -1;
      const found: unknown[] = [];
      for await (const { cells } of rows) {
        if (at >= 0) found.push(cells[at]);
        else at = cells.indexOf('released_primary_end');
      }
      expect(found).toStrictEqual([...PAYLOADS, ...PAYLOADS].map((_, row) => (row % 3 === 0 ? 96 : 102)));
    });
  });

  describe('in CSV', () => {
    it('starts no cell as a formula does, and comes back equal', async () => {
      const { fleet, input } = hostile;
      const compared = await compareReadings(input.readings, input.keyedAgain, { names: { a: input.names.readings, b: input.names.keyedAgain } });
      const files = [
        ['evaluated', await textOf(evaluatedCsv(fleet.plan, fleet.columns, fleet.evaluations))],
        ['evaluated, tabs', await textOf(evaluatedCsv(fleet.plan, fleet.columns, fleet.evaluations, '\t'))],
        ['blank', await textOf(blankCsv(input.limits))],
        ['comparison', await textOf(comparisonCsv(compared))],
      ] as const;
      for (const [name, text] of files) {
        const chunks = (async function* () {
          yield Buffer.from(text);
        })();
        for await (const { cells } of (await readCsv(chunks, { delimiter: name.includes('tabs') ? '\t' : ',', restoreNeutralised: false })).rows) {
          for (const cell of cells) expect([name, cell, /^\s*[=+\-@＝＋－＠\t\r\n\0]/.test(String(cell)) && !/^-?\d+(?:\.\d+)?$/.test(String(cell))]).toStrictEqual([name, cell, false]);
        }
      }
      const again = await evaluateReadings(Buffer.from(files[0][1]), { name: 'again.csv', limits: input.limits });
      expect(understood(again)).toStrictEqual(understood(fleet));
      for (const payload of PAYLOADS) found.get(payload)!.csv = again.evaluations.some(({ inspection: { extra } }) => extra.some((cell) => String(plainValue(cell)).startsWith(payload)));
    });
  });

  it('is the same text in JSON', async () => {
    const { fleet, input } = hostile;
    const json = JSON.parse(await textOf(evaluationJson(fleet))) as { inspections: { unit: string }[]; problems: { found: string }[] };
    expect(json.inspections.slice(0, PAYLOADS.length).map(({ unit }) => unit.trim())).toStrictEqual(PAYLOADS.map((payload, index) => `${payload}unit ${index}`.trim()));
    const compared = await compareReadings(input.readings, input.keyedAgain);
    const differences = JSON.parse(await textOf(comparisonJson(compared))) as { differences: { column: string; text_b: string }[] };
    expect(differences.differences.filter(({ column }) => column === 'notes').map(({ text_b }) => text_b)).toContain(`${PAYLOADS[0]}remark 0`);
  });
});

it('stand in the published table with what came of them (WRITE_RESULTS=1 writes it anew)', () => {
  for (const [payload, { text, formulas, csv, back }] of found) results.came(payload, text && formulas === 0 ? 'a text on its sheets, and no formula' : 'no text on its sheets', csv ? 'no cell of CSV starts as a formula does' : 'it is not in CSV', back && csv ? 'it comes back equal from both' : 'it does not come back');
  results.expectPublished();
});
