import { beforeAll, describe, expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { plainValue } from '../../src/util/raw-table.js';
import { evaluatedCsv } from '../../src/workbook/evaluated-csv.js';
import { evaluateReadings, type EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import { evaluationJson } from '../../src/workbook/evaluation-json.js';
import { verifyWorkbook } from '../../src/workbook/verify-workbook.js';
import { workbookOf } from '../../src/workbook/write-workbook.js';
import { compareWithRecalculation } from '../support/compare-with-recalculation.js';
import { dumpByOpenpyxl } from '../support/openpyxl-dump.js';
import { requireOutside } from '../support/recalculate.js';
import { ResultsSection } from '../support/results-section.js';
import { convertByLibreOffice } from '../support/run-libreoffice.js';
import { bytesOf, textOf } from './bytes-of.js';
import { workbookParts } from './workbook-parts.js';

const results = new ResultsSection('tests/workbook/hostile/WRITTEN.md', 'Texts and numbers made to do harm where they are written, and what came of each', 'Awkward and over-long texts, and numbers that no cell holds');

/** Texts that XML cannot carry, that a workbook reads as something else, or that programs like to change. */
const AWKWARD: readonly (readonly [name: string, text: string])[] = [
  ...Array.from({ length: 32 }, (_, code) => [`the control character ${code}`, `a${String.fromCharCode(code)}b`] as const),
  ['DEL', 'a\u007fb'],
  ['a control character of Latin-1', 'a\u0085b\u009fc'],
  ['the escape of a carriage return, as letters', 'a_x000D_b'],
  ['the escape of an escape, as letters', '_x005F_x000D_'],
  ['an escape in small letters', '_x000d_'],
  ['a bell before what closes an escape', '_x0007\u0007_'],
  ['U+FFFE', 'a\ufffeb'],
  ['U+FFFF alone', '\uffff!'],
  ['a character that Unicode leaves unused', 'a\ufdd0b'],
  ['CR and LF', 'a\r\nb'],
  ['a line break at either end', '\na\n'],
  ['letters beyond U+FFFF', '😀\u{10ffff}'],
  ['a byte-order mark', '\ufeffa'],
  ['spaces at either end', '  a  '],
  ['hard spaces at either end', '\u00a0a\u3000'],
  ['an invisible space', 'a\u200bb'],
  ['right to left', '\u202ea'],
  ['XML', '<c r="A1"><v>1</v></c> & "q" \'s\' ]]>'],
  ['what looks like an error', '#N/A'],
  ['what looks like a number', '007'],
  ['what looks like a date', '2026-03-14'],
  ['what looks like truth', 'TRUE'],
];

/** One inspection for each text, which stands in every field that takes text and in a column of the user's own. */
const rowsOf = (texts: readonly string[]): object[] => texts.map((text, row) => ({ inspection_id: `${row}${text}`, inspected_on: `2026-03-${10 + (row % 20)}`, unit: `u${row}${text}`, site: `${text}${row}`, inspector: `${row}${text}`, leak_place: `${text}${row}`, audible_leak: 'yes', defects: text, notes: text, own: text, released_primary_start: 104, released_primary_end: row % 2 === 0 ? 90 : 102, released_time: '1:00' }));
const evaluate = (rows: readonly object[], name = 'awkward.json'): Promise<EvaluatedFleet> => evaluateReadings(Buffer.from(JSON.stringify(rows)), { name, format: 'json' });
const entriesOf = (fleet: EvaluatedFleet): unknown => fleet.evaluations.map(({ inspection: { values, asFound, notRead, extra } }) => ({ values, asFound: Object.fromEntries(asFound), notRead, extra: extra.map((cell) => plainValue(cell)) }));

/** LibreOffice ends lines with a line feed, drops NUL, does not decode the escape of DEL, and decodes the letters of an escaped escape a second time. */
const DECODED_TWICE = /_x005F_x|_x0007\u0007_/;

async function textsOf(bytes: Uint8Array, sheet: string): Promise<Map<string, string>> {
  const texts = new Map<string, string>();
  for await (const { number, cells } of (await openXlsx(bytes)).sheets.find(({ name }) => name === sheet)!.table().rows) {
    for (const [index, cell] of cells.entries()) if (typeof cell === 'string') texts.set(`${index},${number}`, cell);
  }
  return texts;
}

describe('awkward texts', { timeout: 120_000 }, () => {
  let fleet: EvaluatedFleet;
  let book: Uint8Array;
  let again: EvaluatedFleet;
  beforeAll(async () => {
    fleet = await evaluate(rowsOf(AWKWARD.map(([, text]) => text)));
    book = await bytesOf(workbookOf(fleet));
    again = await evaluateReadings(book, { name: 'again.xlsx' });
  }, 60_000);

  it.each(AWKWARD.map(([name, text], row) => [name, row, text] as const))('%s comes back from a workbook and from CSV', async (name, row, text) => {
    const of = (one: EvaluatedFleet): unknown => (entriesOf(one) as { values: unknown[]; extra: unknown[] }[])[row];
    expect(of(again)).toStrictEqual(of(fleet));
    expect(fleet.evaluations[row]!.inspection.extra).toStrictEqual([text]);
    results.came(`${name}: ${text}`, 'a text in the workbook, and it comes back equal');
  });

  it('comes back from CSV', async () => {
    const csv = await textOf(evaluatedCsv(fleet.plan, fleet.columns, fleet.evaluations));
    expect(entriesOf(await evaluateReadings(Buffer.from(csv), { name: 'again.csv' }))).toStrictEqual(entriesOf(fleet));
  });

  it('leaves the workbook as it verifies: clean', async () => {
    expect((await verifyWorkbook(book)).findings).toStrictEqual([]);
  });

  it('has no character in a part that XML does not allow', async () => {
    // https://www.w3.org/TR/xml/#charsets
    for (const [path, xml] of await workbookParts(book)) expect([path, /[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/u.exec(xml)?.[0]]).toStrictEqual([path, undefined]);
  });

  it('is opened by openpyxl and LibreOffice, which read the texts that they can hold as we do', async (context) => {
    dumpByOpenpyxl(context, new Map([['awkward', book]]));
    requireOutside(context, 'soffice');
    const saved = (await convertByLibreOffice(book, 'awkward.xlsx', 'xlsx')).get('awkward.xlsx')!;
    const [ours, theirs] = [await textsOf(book, 'Readings'), await textsOf(saved, 'Readings')];
    const read = (text: string): string => text.replace(/\r\n?/g, '\n').replaceAll('\0', '').trim();
    const wrong = [...ours].filter(([, text]) => !DECODED_TWICE.test(text)).filter(([place, text]) => read(theirs.get(place) ?? '') !== read(text)).map(([place, text]) => [place, text, theirs.get(place)]);
    expect(wrong).toStrictEqual([]);
  });

  it('is computed by LibreOffice as it is stored', async (context) => {
    requireOutside(context, 'soffice');
    const held = await evaluate(rowsOf(AWKWARD.map(([, text]) => text).filter((text) => !/[\0\r\u007f]/.test(text) && !DECODED_TWICE.test(text))));
    const { differences } = await compareWithRecalculation(await bytesOf(workbookOf(held)), await bytesOf(workbookOf(held, { withoutResults: true })));
    expect(differences).toStrictEqual([]);
  });
});

describe('half a pair of surrogates', () => {
  it('becomes U+FFFD when it is read, so that every output has the same', async () => {
    const fleet = await evaluate(rowsOf(['a\ud800b', '\udc00']));
    expect(fleet.evaluations.map(({ inspection }) => inspection.extra)).toStrictEqual([['a\ufffdb'], ['\ufffd']]);
    results.came('half a pair of surrogates', 'read as U+FFFD, the same in every output');
    const book = await bytesOf(workbookOf(fleet));
    expect(entriesOf(await evaluateReadings(book, { name: 'again.xlsx' }))).toStrictEqual(entriesOf(fleet));
    expect((await verifyWorkbook(book)).findings).toStrictEqual([]);
  });
});

describe('a text of more than 32,767 characters', { timeout: 60_000 }, () => {
  const LONG = `${'L'.repeat(39_999)}!`;
  const CUT = `${'L'.repeat(32_767 - '… (cut: a cell holds no more)'.length)}… (cut: a cell holds no more)`;
  const row = { ...rowsOf(['x'])[0], notes: LONG, site: LONG, own: LONG, cut_in: LONG, leak_place: LONG };

  it('does not keep the fleet from being written: its cell holds the beginning and says that it was cut', async () => {
    const fleet = await evaluate([row, { ...rowsOf(['y', 'z'])[1] }]);
    const book = await bytesOf(workbookOf(fleet));
    expect([...(await textsOf(book, 'Readings')).values()].filter((text) => text.length > 1000)).toStrictEqual([CUT, CUT, CUT, CUT, CUT]);
    expect(CUT.length).toBe(32_767);
    results.came('a text of 40,000 characters, in a workbook', `cut to ${CUT.length} characters, the last of them ${CUT.slice(-29)}`);
    expect((await verifyWorkbook(book)).findings).toStrictEqual([]);
    const { evaluations } = await evaluateReadings(book, { name: 'again.xlsx' });
    expect(evaluations.map(({ verdict, inspection: { extra } }) => [verdict, extra])).toStrictEqual([[fleet.evaluations[0]!.verdict, [CUT]], [fleet.evaluations[1]!.verdict, ['z']]]);
  });

  it('is named among the problems with its cell, and is whole in CSV and JSON', async () => {
    const header = Object.keys(row);
    const csv = `${header.join(',')}\r\n${header.map((name) => String((row as Record<string, unknown>)[name])).join(',')}\r\n`;
    const fleet = await evaluateReadings(Buffer.from(csv), { name: 'long.csv' });
    const found = fleet.problems.filter(({ code }) => code === 'text_too_long').map(({ column, cell, found: text }) => [column, cell, text]);
    expect(found).toStrictEqual(['site', 'leak_place', 'notes', 'own', 'cut_in'].map((name) => [name, `${String.fromCharCode(65 + header.indexOf(name))}2`, `${'L'.repeat(60)}… (40000 characters)`]));
    expect((await textOf(evaluatedCsv(fleet.plan, fleet.columns, fleet.evaluations))).split(LONG).length - 1).toBe(5);
    results.came('a text of 40,000 characters, in CSV and JSON', 'whole, and named among the problems with its cell');
    expect(JSON.parse(await textOf(evaluationJson(fleet)))).toMatchObject({ problems: expect.arrayContaining([expect.objectContaining({ code: 'text_too_long', column: 'notes', row: 2 })]) });
  });

  it('is never cut within a letter of two units', async () => {
    const fleet = await evaluate([{ ...row, own: `x${'😀'.repeat(20_000)}` }, { ...row, unit: 'other', own: '😀'.repeat(20_000) }]);
    const texts = [...(await textsOf(await bytesOf(workbookOf(fleet)), 'Readings')).values()].filter((text) => text.includes('😀'));
    expect(texts).toHaveLength(2);
    for (const text of texts) expect([text.includes('\ufffd'), text.length <= 32_767, text.endsWith('… (cut: a cell holds no more)')]).toStrictEqual([false, true, true]);
    results.came('a text to be cut within a letter of two units', 'cut before that letter');
  });

  it('that was understood, and is kept beside its cell, is left out where the cell of texts as found cannot hold it', async () => {
    const spaced = `~${' '.repeat(33_000)}104`;
    const fleet = await evaluate([{ ...rowsOf(['x'])[0], released_primary_start: spaced, light_on_at: '~60' }]);
    const book = await bytesOf(workbookOf(fleet));
    const again = await evaluateReadings(book, { name: 'again.xlsx' });
    expect(Object.fromEntries(again.evaluations[0]!.inspection.asFound)).toStrictEqual({ light_on_at: '~60' });
    results.came('a text as found that its cell cannot hold', 'left out beside its value; the others are kept');
    expect((await verifyWorkbook(book)).findings).toStrictEqual([]);
  });
});

describe('numbers and dates that a sheet cannot hold', { timeout: 60_000 }, () => {
  it('no NaN and no infinity stands in a sheet, whatever is computed', async () => {
    const extremes = [1e308, 5e-324, Number.MAX_VALUE, 1e-300, -1e308];
    const names = ['released_primary_start', 'released_primary_end', 'applied_primary_start', 'applied_primary_end', 'odometer', 'gauge_step', 'readable_to', 'reservoir_volume', 'cut_in', 'cut_out', 'reserve_before', 'reserve_after', 'buildup_from', 'buildup_to', 'engine_rpm', 'own'];
    const rows = extremes.map((value, index) => ({ unit: `n${index}`, inspected_on: '2026-03-14', released_time: 60, applied_time: 60, buildup_time: 60, required_reservoir_volume: 1 / value, ...Object.fromEntries(names.map((name) => [name, value])) }));
    const book = await bytesOf(workbookOf(await evaluate(rows)));
    for (const [path, xml] of await workbookParts(book)) if (path.startsWith('xl/')) expect([path, /<(?:c:)?v>(?:NaN|-?Infinity)<|val="(?:NaN|-?Infinity)"|(?:ht|width)="(?:NaN|-?Infinity)"/.exec(xml)?.[0]]).toStrictEqual([path, undefined]);
    expect((await verifyWorkbook(book)).findings).toStrictEqual([]);
    for (const value of extremes) results.came(`readings of ${value}`, 'no NaN and no infinity in a sheet or chart');
  });

  it('a number that JSON cannot hold is refused, with its place', async () => {
    await expect(evaluateReadings(Buffer.from('[{"unit":"K-1","inspected_on":"2026-03-14","cut_in":1e999}]'), { name: 'huge.json' })).rejects.toMatchObject({ code: 'input_unreadable', where: 'huge.json, item 1, cut_in' });
  });

  // ECMA-376 Part 1, 18.17.4.1: the 1900 system counts a 29 February 1900, and programs differ about the days before.
  it('a date before March 1900 is no date, and one from then on is stored as its serial', async () => {
    const serials = new Map([['1899-12-31', null], ['1900-01-01', null], ['1900-02-28', null], ['1900-02-29', null], ['1900-03-01', 61], ['1900-03-02', 62], ['9999-12-31', 2_958_465]]);
    const fleet = await evaluate([...serials.keys()].map((date) => ({ ...rowsOf([date])[0], unit: `u ${date}`, inspected_on: date })));
    const book = await bytesOf(workbookOf(fleet));
    let at = -1;
    const cells: unknown[] = [];
    for await (const row of (await openXlsx(book)).sheets.find(({ name }) => name === 'Readings')!.table().rows) {
      if (at >= 0) cells.push(plainValue(row.cells[at]));
      else at = row.cells.indexOf('inspected_on');
    }
    expect(cells).toStrictEqual([...serials].map(([date, serial]) => serial ?? date));
    expect(fleet.problems.filter(({ column }) => column === 'inspected_on').map(({ code, found }) => [code, found])).toStrictEqual([...serials].flatMap(([date, serial]) => (serial === null ? [['not_understood', date]] : [])));
    expect(entriesOf(await evaluateReadings(book, { name: 'again.xlsx' }))).toStrictEqual(entriesOf(fleet));
    expect((await verifyWorkbook(book)).findings).toStrictEqual([]);
  });
});

it('stand in the published table with what came of them (WRITE_RESULTS=1 writes it anew)', () => results.expectPublished());
