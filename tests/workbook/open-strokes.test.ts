import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import ExcelJS from 'exceljs';
import { describe, expect, it } from 'vitest';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import { openReadings } from '../../src/workbook/open-readings.js';
import { openStrokes } from '../../src/workbook/open-strokes.js';
import { inFolder } from '../cli/run-program.js';

const READINGS = [['inspection_id', 'inspected_on', 'unit', 'released_primary_start', 'released_primary_end', 'released_time'], ['A-1', '2026-03-14', 'K-1', 104, 102, '1:00']];
const STROKES = [['unit', 'inspected_on', 'position', 'chamber', 'travel'], ['K-1', '2026-03-14', 'LF', '30', '1 3/4'], ['K-1', '2026-03-14', 'RF', '30L', '2 5/8']];
const CSV = STROKES.map((row) => row.join(',')).join('\n');

type Rows = readonly (readonly (string | number)[])[];

/** A workbook of another program: sheets by name, a name in brackets being hidden. */
async function bookOf(sheets: Readonly<Record<string, Rows>>): Promise<Uint8Array> {
  const book = new ExcelJS.Workbook();
  for (const [name, rows] of Object.entries(sheets)) {
    const hidden = name.startsWith('(');
    const sheet = book.addWorksheet(hidden ? name.slice(1, -1) : name, { state: hidden ? 'hidden' : 'visible' });
    for (const row of rows) sheet.addRow([...row]);
  }
  return new Uint8Array(await book.xlsx.writeBuffer());
}

const shown = async (book: Uint8Array, strokes?: Uint8Array): Promise<unknown> => {
  const fleet = await evaluateReadings(book, { name: 'book.xlsx', strokes });
  return [fleet.evaluations.map(({ unit }) => unit), fleet.strokes?.source.sheet ?? null, fleet.strokes?.evaluation.chambers.map(({ verdict }) => verdict) ?? null, fleet.problems.map(({ code, sheet }) => `${code} ${sheet}`)];
};

describe('strokes of the same workbook', () => {
  it('stand on the sheet Strokes, or on one with their columns whatever its name and place', async () => {
    expect(await shown(await bookOf({ Readings: READINGS, Strokes: STROKES }))).toStrictEqual([['K-1'], 'Strokes', ['pass', 'fail'], []]);
    expect(await shown(await bookOf({ 'Brake adjustment': STROKES, March: READINGS }))).toStrictEqual([['K-1'], 'Brake adjustment', ['pass', 'fail'], []]);
    expect(await shown(await bookOf({ March: READINGS, 'Brake adjustment': STROKES }))).toStrictEqual([['K-1'], 'Brake adjustment', ['pass', 'fail'], []]);
  });

  it('are read from one sheet, and others are named', async () => {
    expect(await shown(await bookOf({ Readings: READINGS, Old: STROKES, STROKES }))).toStrictEqual([['K-1'], 'STROKES', ['pass', 'fail'], ['sheet_not_read Old']]);
    expect(await shown(await bookOf({ Readings: READINGS, '(Old)': STROKES }))).toStrictEqual([['K-1'], null, null, ['sheet_not_read Old']]);
  });

  it('are none where the sheet is empty or has its header alone, and one without their columns is named', async () => {
    expect(await shown(await bookOf({ Readings: READINGS, Strokes: [] }))).toStrictEqual([['K-1'], null, null, []]);
    expect(await shown(await bookOf({ Readings: READINGS, Strokes: [STROKES[0]!] }))).toStrictEqual([['K-1'], null, null, []]);
    expect(await shown(await bookOf({ Readings: READINGS, Strokes: [['left', 'right'], ['1 3/4', '2']] }))).toStrictEqual([['K-1'], null, null, ['sheet_not_read Strokes']]);
  });

  it('give way to a file of their own, and are named then', async () => {
    expect(await shown(await bookOf({ Readings: READINGS, Strokes: STROKES }), Buffer.from(`${CSV}\n`))).toStrictEqual([['K-1'], '', ['pass', 'fail'], ['sheet_not_read Strokes']]);
  });

  it('are no readings', async () => {
    await expect(openReadings(await bookOf({ Adjustment: STROKES }), { name: 'book.xlsx' })).rejects.toMatchObject({ code: 'input_empty', message: 'book.xlsx: the sheet Adjustment holds strokes, and no sheet holds readings; add a sheet of readings, or evaluate the readings and name this workbook with --strokes' });
  });
});

describe('a file of strokes', () => {
  it('may be CSV, TSV, JSON or a workbook', async () => {
    const json = JSON.stringify(STROKES.slice(1).map((row) => Object.fromEntries(STROKES[0]!.map((name, index) => [name, row[index]]))));
    const files: Record<string, Uint8Array> = { 'strokes.csv': Buffer.from(CSV), 'strokes.tsv': Buffer.from(CSV.replaceAll(',', '\t')), 'strokes.json': Buffer.from(json), 'strokes.xlsx': await bookOf({ Adjustment: STROKES }) };
    for (const [name, bytes] of Object.entries(files)) {
      const { strokes, problems } = await openStrokes(bytes, { name });
      expect([name, strokes.evaluation.chambers.map(({ verdict, stroke_in: stroke }) => [verdict, stroke]), strokes.source.strokes, problems]).toStrictEqual([name, [['pass', 1.75], ['fail', 2.625]], 2, []]);
    }
  });

  it('is named by its file in problems', async () => {
    const { problems } = await openStrokes(Buffer.from(`${CSV}\nK-1,2026-03-14,2L,30,worn\n`), { name: 'strokes.csv' });
    expect(problems.map(({ sheet, cell, found }) => [sheet, cell, found])).toStrictEqual([['strokes.csv', 'E4', 'worn']]);
  });

  it.each<[string, string, string]>([
    ['unit,position\nK-1,1L\n', 'header_missing', 'no header row'],
    [`${STROKES[0]!.join(',')}\n`, 'input_empty', 'no brake chamber'],
    ['', 'header_missing', 'no header row'],
  ])('that holds none is refused: %j', async (text, code, words) => {
    await expect(openStrokes(Buffer.from(text), { name: 'strokes.csv' })).rejects.toMatchObject({ code, message: expect.stringContaining(words) as string });
  });

  it('that is not there, or a workbook without strokes, is refused', async () => {
    await expect(openStrokes('no-such-file.csv')).rejects.toMatchObject({ code: 'input_missing' });
    await expect(openStrokes(await bookOf({ Readings: READINGS }), { name: 'book.xlsx' })).rejects.toMatchObject({ code: 'header_missing' });
  });

  it('is opened by its path', async () => {
    await inFolder(async (folder) => {
      writeFileSync(join(folder, 'strokes.csv'), CSV);
      const { strokes } = await openStrokes(join(folder, 'strokes.csv'));
      expect([strokes.source.name, strokes.source.rows_read]).toStrictEqual(['strokes.csv', 2]);
    });
  });
});
