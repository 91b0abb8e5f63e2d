import { describe, expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { sha256 } from '../../src/util/sha256.js';
import { sheetPurposes } from '../../src/workbook/sheet-purposes.js';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import { baselineHeadline } from '../../src/workbook/sheets/baseline-words.js';
import { workbookOf } from '../../src/workbook/write-workbook.js';
import { savedByLibreOffice } from '../support/run-libreoffice.js';
import { requireOutside } from '../support/recalculate.js';
import { beside, csvOf, warnings, warningSet, type Cells } from './baseline-tables.js';
import { bytesOf } from './bytes-of.js';
import { rowsOfSheet, type PlainCell } from './sheet-tables.js';
import { sheetPath, workbookParts } from './workbook-parts.js';

/** Two sites; the second stands in one table only, with a name that looks like a formula. */
const NOW: readonly Cells[] = [...warnings(56, 70, { site: 'Quay', vehicle_kind: 'truck' })];
const BEFORE: readonly Cells[] = [...warnings(48, 80, { first: '2025-01-01', site: 'QUAY', vehicle_kind: 'truck' }), ...warnings(0, 3, { first: '2025-06-01', site: '=1+1', vehicle_kind: 'bus' })];

async function shown(book: Uint8Array): Promise<{ readonly rows: Map<number, PlainCell[]>; readonly texts: string[]; readonly table: PlainCell[][] }> {
  const rows = await rowsOfSheet(book, 'Baseline');
  const all = [...rows.values()];
  const header = all.findIndex((cells) => cells[0] === 'Fail rate of');
  return { rows, texts: all.flat().filter((cell) => typeof cell === 'string'), table: all.slice(header + 1).map((cells) => cells.slice(0, 17)) };
}

const bookOf = async (...args: Parameters<typeof beside>): Promise<Uint8Array> => bytesOf(workbookOf(await beside(...args)));
const four = (value: PlainCell | undefined): string => (value as number).toFixed(4);

describe('the sheet Baseline', { timeout: 120_000 }, () => {
  it('is there only where a baseline was given, behind Fail rates', async () => {
    const names = async (book: Uint8Array): Promise<string[]> => (await openXlsx(book)).sheets.map(({ name }) => name);
    const sheets = (baseline: boolean): string[] => [...sheetPurposes({ baseline, severalSets: false, strokes: false }).keys()];
    expect(await names(await bookOf(NOW, BEFORE))).toStrictEqual(sheets(true));
    expect(await names(await bytesOf(workbookOf(await evaluateReadings(csvOf(NOW), { limits: warningSet() }))))).toStrictEqual(sheets(false));
    expect(sheets(true).indexOf('Baseline')).toBe(sheets(true).indexOf('Fail rates') + 1);
    expect(sheets(true).filter((name) => name !== 'Baseline')).toStrictEqual(sheets(false));
  });

  // Newcombe RG, Statistics in Medicine 17 (1998) 873-890, Table II, column (a), method 10: 56/70 and 48/80; each rate with
  // Wilson's interval (Newcombe, Statistics in Medicine 17 (1998) 857-872).
  it('shows rates then and now, the difference with its interval, and the words', async () => {
    const { table } = await shown(await bookOf(NOW, BEFORE));
    expect(table.map((cells) => cells[0])).toStrictEqual(['All inspections', 'All inspections', 'By check', 'Warning', 'By site (whole inspections)', 'Quay', '=1+1', 'By kind of vehicle (whole inspections)', 'truck', 'bus']);
    const [, , , , , quay, gone] = table;
    expect(quay!.slice(1, 4)).toStrictEqual([80, 48, 0]);
    expect(quay!.slice(7, 10)).toStrictEqual([70, 56, 0]);
    expect([quay![4], quay![10], quay![13], quay![14], quay![15]].map(four)).toStrictEqual(['0.6000', '0.8000', '0.2000', '0.0524', '0.3339']);
    expect(quay![16]).toBe('worse');
    // No failure of 3: 0 to 3.841/(3 + 3.841).
    expect(gone!.slice(1, 6)).toStrictEqual([3, 0, 0, 0, 0]);
    expect(four(gone![6])).toBe('0.5615');
    expect(gone!.slice(7)).toStrictEqual([0, 0, 0, null, null, null, null, null, null, 'not to be compared']);
  });

  it('says at the top whether the fleet is better, and when it was computed', async () => {
    const { rows } = await shown(await bookOf(NOW, BEFORE));
    // 48 of 83 is 57.8 %.
    expect(rows.get(3)![0]).toMatch(/^Worse than the baseline: 80\.0 % of 70 tested failed now, 57\.8 % of 83 then; difference \+22\.2 points, 95 % interval \+\d+\.\d to \+\d+\.\d$/);
    expect(rows.get(2)![0]).toContain('Values, computed when this workbook was written, from inspections up to 2026-05-09.');
    expect((await shown(await bookOf(warnings(0, 40), BEFORE))).rows.get(3)![0]).toMatch(/^Better than the baseline: 0\.0 % of 40/);
    expect((await shown(await bookOf(NOW, NOW))).rows.get(3)![0]).toMatch(/^No difference from the baseline shown: .*; difference 0\.0 points, 95 % interval -\d+\.\d to \+\d+\.\d$/);
    expect((await shown(await bookOf(NOW, BEFORE, { from: '2030-01-01' }))).rows.get(3)![0]).toBe('Not to be compared with the baseline: no inspection of those counted now passed or failed');
  });

  it('names both tables, their hashes, dates, periods and counts', async () => {
    const { rows } = await shown(await bookOf([...NOW, { unit: 'T-1', light_on_at: 70 }], BEFORE, { from: '2026-03-11', to: '2026-04-09' }));
    const facts = new Map([...rows.values()].map((cells) => [cells[0], [cells[1] ?? null, cells[7] ?? null]]));
    expect(facts.get('Source')).toStrictEqual(['before.csv', 'now.csv']);
    expect(facts.get('SHA-256 of its bytes')).toStrictEqual([sha256(csvOf(BEFORE)), sha256(csvOf([...NOW, { unit: 'T-1', light_on_at: 70 }]))]);
    expect(facts.get('Inspections in the table')).toStrictEqual([83, 71]);
    expect(facts.get('Dates of its inspections')).toStrictEqual(['2025-01-01 to 2025-06-03', '2026-03-01 to 2026-05-09']);
    expect(facts.get('Period counted')).toStrictEqual(['all inspections', 'from 2026-03-11 to 2026-04-09']);
    expect(facts.get('Inspections counted')).toStrictEqual([83, 30]);
    expect(facts.get('of them on both sides')).toStrictEqual([0, 0]);
    expect(facts.get('of them passed or failed')).toStrictEqual([83, 30]);
    expect(facts.get('Limit set')).toStrictEqual(['own', 'own']);
  });

  it('sets medians side by side', async () => {
    const loss = (psi: number, inspected_on: string): Cells => ({ unit: 'T-1', inspected_on, released_primary_start: 110, released_primary_end: 110 - psi, released_time: '1:00' });
    const { rows } = await shown(await bookOf([loss(1, '2026-03-01'), loss(4, '2026-03-02')], [{ ...loss(2, '2025-03-01'), buildup_from: 60, buildup_to: 120, buildup_time: '2:00' }]));
    const medians = new Map([...rows.values()].map((cells) => [cells[0], [cells[1] ?? null, cells[7] ?? null]]));
    expect(medians.get('Loss, brakes released (psi/min)')).toStrictEqual([2, 2.5]);
    expect(medians.get('Loss, brakes applied (psi/min)')).toStrictEqual(['not measured', 'not measured']);
    expect(medians.get('Build-up time (s)')).toStrictEqual([120, 'not measured']);
  });

  it('warns of inspections on both sides, of other limits, of dates that overlap or are later, of dates and cells that could not be read', async () => {
    const plain = (await shown(await bookOf(NOW, BEFORE))).texts;
    const note = /counted on both sides|evaluated anew|overlap|the later of the two|no date that could be read|could not be taken/;
    expect(plain.filter((text) => note.test(text))).toStrictEqual([]);
    const same = (await shown(await bookOf(NOW, NOW.slice(0, 1)))).texts.filter((text) => note.test(text));
    expect(same).toStrictEqual([
      '1 inspection is counted on both sides (same inspection_id and unit; without an inspection_id, same unit and date): a real difference looks smaller than it is.',
      'The dates of the two overlap: the baseline goes up to 2026-03-01, what is counted now begins on 2026-03-01.',
    ]);
    const later = (await shown(await bookOf(BEFORE, [...NOW, { unit: 'T-1', inspected_on: 'soon', light_on_at: 'sometimes' }]))).texts.filter((text) => note.test(text));
    expect(later).toStrictEqual([
      'The baseline is the later of the two: it begins on 2026-03-01.',
      '1 inspection of the baseline has no date that could be read and is counted all the same.',
      '2 cells of the baseline could not be taken as they stood; evaluate it by itself to see which.',
    ]);
    const nevada = await bytesOf(workbookOf(await evaluateReadings(csvOf(BEFORE), { limits: 'us-nevada' })));
    const other = (await shown(await bytesOf(workbookOf(await evaluateReadings(csvOf(NOW), { limits: warningSet(), baseline: nevada }))))).texts.filter((text) => note.test(text));
    expect(other).toStrictEqual([expect.stringMatching(/^The baseline was evaluated with us-nevada: .*\. Here it is evaluated anew with own, like this table, so that its rates are not those that it shows itself\.$/)]);
  });

  it('draws the rate of each check then and now with its intervals', async () => {
    const parts = await workbookParts(await bookOf(NOW, BEFORE));
    const chart = [...parts].find(([path, xml]) => path.startsWith('xl/charts/') && xml.includes('then and now'))![1];
    expect([...chart.matchAll(/<c:tx><c:v>([^<]*)<\/c:v><\/c:tx>/g)].map(([, title]) => title)).toStrictEqual(['Then: the baseline', 'Now: this table']);
    const cached = [...chart.matchAll(/<c:f>([^<]*)<\/c:f><c:numCache>.*?<c:v>([^<]*)<\/c:v>/g)].map(([, , value]) => Number(value));
    const xml = parts.get(sheetPath(parts, 'Baseline'))!;
    for (const [, place] of chart.matchAll(/<c:f>Baseline!\$([A-Z]+\$\d+):[^<]*<\/c:f><c:numCache>/g)) {
      const stored = new RegExp(`<c r="${place!.replace('$', '')}"[^>]*><v>([^<]*)</v>`).exec(xml)![1];
      expect(cached).toContain(Number(stored));
    }
    expect(cached).toHaveLength(6);
    expect(xml).not.toMatch(/<f[ >]/);
    expect(xml).toMatch(/<pageSetup[^>]* orientation="landscape"/);
  });

  it('opens in LibreOffice with everything in its place', async (context) => {
    requireOutside(context, 'soffice');
    const books: Uint8Array[] = [];
    for (const options of [{}, { from: '2030-01-01' }, { to: '2001-01-01' }]) books.push(await bookOf(NOW, BEFORE, options));
    for (const [index, saved] of (await savedByLibreOffice(books)).entries()) {
      const book = books[index]!;
      const rounded = (cells: readonly PlainCell[][]): unknown => cells.map((row) => row.slice(0, 17).map((cell) => (typeof cell === 'number' ? Number(cell.toFixed(9)) : cell)));
      expect(rounded((await shown(saved)).table)).toStrictEqual(rounded((await shown(book)).table));
    }
  });
});

it('a headline never shows a sign before a difference of nothing', () => {
  const rate = { tested: 1000, failed: 1, recheck: 0, rate: 0.001, low: 0, high: 0.005 };
  const words = baselineHeadline({ group: 'all', name: 'All', before: rate, now: rate, difference: -0.0001, low: -0.004, high: 0.0004, verdict: 'no difference shown' }, 'old.csv');
  expect(words).toBe('No difference from the baseline old.csv shown: 0.1 % of 1000 tested failed now, 0.1 % of 1000 then; difference 0.0 points, 95 % interval -0.4 to 0.0');
});
