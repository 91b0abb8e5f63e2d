import { beforeAll, describe, expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { isoDateToSerial } from '../../src/readings/date-serial.js';
import { cautions } from '../../src/workbook/cautions.js';
import { extraCell } from '../../src/workbook/cell-values.js';
import { evaluateReadings, type EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import { MOST_LIVE_STROKES } from '../../src/workbook/sheets/strokes-sheet.js';
import { blankWorkbook, workbookOf } from '../../src/workbook/write-workbook.js';
import { compareWithRecalculation } from '../support/compare-with-recalculation.js';
import { requireOutside } from '../support/recalculate.js';
import { bytesOf } from './bytes-of.js';
import { requireEditing, editInLibreOffice } from './edit-in-libreoffice.js';
import { recordsOfSheet, rowsOfSheet, type PlainCell } from './sheet-tables.js';
import { EVERY_ROW, READINGS, strokesCsv, type StrokeRow } from './stroke-rows.js';
import { sheetPath, workbookParts } from './workbook-parts.js';

const NAME_ROW = 7;

async function fleetWith(rows: readonly StrokeRow[]): Promise<EvaluatedFleet> {
  return evaluateReadings(Buffer.from(READINGS), { name: 'fleet.csv', strokes: Buffer.from(await strokesCsv(rows)) });
}

/** The rows of the sheet by the names of their columns. */
async function records(workbook: Uint8Array): Promise<Record<string, PlainCell>[]> {
  return [...(await recordsOfSheet(workbook, 'Strokes', NAME_ROW)).values()];
}

describe('the sheet Strokes', { timeout: 180_000 }, () => {
  let fleet: EvaluatedFleet;
  let book: Uint8Array;
  beforeAll(async () => {
    fleet = await fleetWith(EVERY_ROW);
    book = await bytesOf(workbookOf(fleet));
  });

  // The outside source is LibreOffice, which computes a twin of the workbook that holds no results.
  it('has formulas that give in LibreOffice what is stored, for every listed chamber and every kind of row', async (context) => {
    requireOutside(context, 'soffice');
    const { compared, differences } = await compareWithRecalculation(book, await bytesOf(workbookOf(fleet, { withoutResults: true })));
    expect(differences.filter(({ cell }) => /^(Strokes|Provenance)!/.test(cell))).toStrictEqual([]);
    expect(compared).toBeGreaterThan(EVERY_ROW.length * 35);
  });

  it('holds the verdict, the limit and the source of each row as the evaluation gives them', async () => {
    const { chambers } = fleet.strokes!.evaluation;
    const shown = (await records(book)).slice(0, chambers.length);
    expect(shown.map((row) => [row['computed.verdict'], row['computed.limit_in'], row['computed.reason'], row['computed.source']])).toStrictEqual(chambers.map(({ verdict, limit_in: limit, reason, citation, status }) => [verdict, limit, reason || null, limit === null ? null : `${citation} (${status})`]));
    expect(new Set(chambers.map(({ verdict }) => verdict))).toStrictEqual(new Set(['pass', 'fail', 'recheck', 'not tested', null]));
  });

  it('writes text that looks like a formula as text', async () => {
    const xml = (await workbookParts(book)).get(sheetPath(await workbookParts(book), 'Strokes'))!;
    for (const text of ["=cmd|' /c calc'!A1", '@SUM(1)', '+1L', '=1+1']) expect(xml).toMatch(new RegExp(`<c r="[A-Z]+\\d+"[^>]* t="inlineStr"><is><t xml:space="preserve">${text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&').replaceAll("'", "(?:'|&apos;|&#39;)")}</t>`));
    expect(xml).not.toMatch(/<f>(?:=|cmd|@SUM)/);
  });

  it('gives the same strokes when it is read back, and the same again', async () => {
    const once = (await evaluateReadings(book, { name: 'fleet.xlsx' })).strokes!;
    expect(once.strokes.map(({ entries, asFound, extra }) => [entries, asFound, extra.map(extraCell)])).toStrictEqual(fleet.strokes!.strokes.map(({ entries, asFound, extra }) => [entries, asFound, extra.map(extraCell)]));
    expect(once.evaluation).toStrictEqual(fleet.strokes!.evaluation);
    const again = await bytesOf(workbookOf(await evaluateReadings(book, { name: 'fleet.csv' })));
    expect(await records(again)).toStrictEqual(await records(book));
  });

  it('shows the cautions, how to measure, and a source and status for every number', async () => {
    const rows = await rowsOfSheet(book, 'Strokes');
    const top = [2, 3, 4].map((row) => String(rows.get(row)![0]));
    for (const caution of cautions()) expect(top[0]).toContain(caution);
    expect(top[1]).toContain('80 to 90 psi (App. A to 49 CFR 396, 1.a(5)');
    expect(top[2]).toContain('19VAC30-70-440(D)(2)');
    const limits = (await records(book)).filter((row) => row['computed.limits_no'] !== null);
    expect(limits).toHaveLength(34);
    for (const row of limits) expect([row['computed.limits_chamber'], row['computed.limits_source'], row['computed.limits_status']]).toStrictEqual([expect.any(String), expect.stringMatching(/CFR|CVSA/), expect.stringMatching(/^(read|secondary|memory)$/)]);
  });

  it('has a line for each vehicle and inspection, and for each position', async () => {
    const { vehicles, positions } = fleet.strokes!.evaluation;
    const shown = await records(book);
    expect(shown.slice(0, vehicles.length + 1).map((row) => [row['computed.vehicle_unit'], row['computed.vehicle_measured'], row['computed.vehicle_share'], row['computed.vehicle_words']])).toStrictEqual([...vehicles.map(({ unit, measured, defective_share: share, words }) => [unit, measured, share, words]), [null, null, null, null]]);
    expect(shown.slice(0, positions.length + 1).map((row) => [row['computed.position_name'], row['computed.position_tested'], row['computed.position_failed'], row['computed.position_high']])).toStrictEqual([...positions.map(({ position, tested, failed, high }) => [position, tested, failed, high]), [null, null, null, null]]);
  });

  it('locks what is computed, and prints its three tables from pages of their own', async () => {
    const parts = await workbookParts(book);
    const workbook = parts.get('xl/workbook.xml')!;
    const [, index, areas] = /<definedName name="_xlnm\.Print_Area" localSheetId="(\d+)">(Strokes![^<]*)</.exec(workbook)!;
    expect([...workbook.matchAll(/<sheet\b[^>]* name="([^"]+)"/g)][Number(index)]![1]).toBe('Strokes');
    expect(areas!.split(',')).toHaveLength(3);
    expect(workbook.match(/<definedName name="_xlnm\.Print_Area" localSheetId="(\d+)">/g)!.length).toBe(new Set(workbook.match(/<definedName name="_xlnm\.Print_Area" localSheetId="(\d+)">/g)).size);
    expect(parts.get(sheetPath(parts, 'Strokes'))).toMatch(/<sheetProtection sheet="1"/);
  });

  it('is left out where there are no strokes', async () => {
    const without = await bytesOf(workbookOf(await evaluateReadings(Buffer.from(READINGS))));
    expect((await openXlsx(without)).sheets.map(({ name }) => name)).not.toContain('Strokes');
    expect([...(await rowsOfSheet(without, 'Start here')).values()].flat()).not.toContain('Strokes');
  });

  it('counts its rows on Provenance', async () => {
    const lines = new Map([...(await rowsOfSheet(book, 'Provenance')).values()].map(([label, value]) => [label, value]));
    expect(['Strokes, input', 'Strokes, sheet', 'Strokes, rows read below the header', 'of these blank', 'of these with columns of your own alone', 'Brake chambers', 'Rows on the sheet Strokes', 'Do the strokes add up?'].map((label) => lines.get(label))).toStrictEqual(['the strokes', 'none: the file is one table', EVERY_ROW.length, 0, 1, EVERY_ROW.length - 1, EVERY_ROW.length - 1, 'yes']);
  });

  it('holds values in place of formulas that look at all rows, above the number that they can bear', async () => {
    const many = Array.from({ length: MOST_LIVE_STROKES + 1 }, (_, index): StrokeRow => ({ unit: `K-${index >> 1}`, inspected_on: '2026-03-14', position: index % 2 === 0 ? '1L' : '1R', chamber_size: '30', stroke: index % 2 === 0 ? '1.5' : '1.75' }));
    const large = await bytesOf(workbookOf(await fleetWith(many)));
    const formulas = new Map<string, string | null>();
    for (const sheet of (await openXlsx(large)).sheets) {
      if (sheet.name !== 'Strokes') continue;
      const names = (await rowsOfSheet(large, 'Strokes')).get(NAME_ROW)!;
      for await (const row of sheet.rowsWithFormulas()) if (row.number === 8) names.forEach((name, at) => formulas.set(String(name), row.formulas[at] ?? null));
    }
    expect(['computed.verdict', 'computed.reason'].map((name) => formulas.get(name))).toStrictEqual([expect.any(String), expect.any(String)]);
    expect(['computed.across_axle_in', 'computed.vehicle_unit', 'computed.position_rate'].map((name) => formulas.get(name))).toStrictEqual([null, null, null]);
    const shown = await records(large);
    expect([shown[0]!['computed.across_axle_in'], shown[1000]!['computed.vehicle_unit']]).toStrictEqual([0.25, 'K-1000']);
  });
});

describe('the sheet Strokes of a blank workbook', { timeout: 300_000 }, () => {
  it('has 60 rows ready, and nothing in them', async () => {
    const rows = await records(await bytesOf(blankWorkbook({ rows: 5 })));
    expect(rows).toHaveLength(60);
    expect(rows.flatMap((row) => Object.entries(row).filter(([name, value]) => value !== null && !name.startsWith('computed.limits_')))).toStrictEqual([]);
  });

  // The outside source is LibreOffice: rows are typed into it, a limit is changed, and it computes.
  it('gives verdicts, shares and rates as rows are typed, follows a changed limit, and is read back', async (context) => {
    await requireEditing(context);
    const blank = await bytesOf(blankWorkbook({ rows: 5 }));
    const names = (await rowsOfSheet(blank, 'Strokes')).get(NAME_ROW)!.map(String);
    const at = (name: string, row: number): string => `${lettersAt(names.indexOf(name))}${row}`;
    const type = (row: number, cells: Readonly<Record<string, string | number>>): string[] => Object.entries(cells).map(([name, value]) => `cell('Strokes','${at(name, row)}').${typeof value === 'number' ? `Value = ${value}` : `String = ${JSON.stringify(value)}`}`);
    // 10 brakes: 2 past by 1/4 in is 20 % (CVSA criteria, from memory).
    const ten = Array.from({ length: 10 }, (_, index) => type(8 + index, { unit: 'K-1', inspected_on: isoDateToSerial('2026-03-14')!, position: `${(index >> 1) + 1}${index % 2 === 0 ? 'L' : 'r'}`, chamber_size: 30, stroke: index < 2 ? 2.25 : 50.8, ...(index < 2 ? {} : { stroke_unit: 'MM' }) })).flat();
    const readingNames = (await rowsOfSheet(blank, 'Readings')).get(3)!.map(String);
    const reading = [`cell('Readings','${lettersAt(readingNames.indexOf('unit'))}4').String = 'K-1'`, `cell('Readings','${lettersAt(readingNames.indexOf('inspected_on'))}4').Value = ${isoDateToSerial('2026-03-14')!}`];
    const line = 8 + 12;
    expect((await records(blank))[12]!['computed.limits_chamber']).toBe('clamp 30 standard');
    const typed = [...reading, ...ten].join('\n');
    const { plain, changed } = await editInLibreOffice(blank, { plain: typed, changed: `${typed}\ncell('Strokes','${at('computed.limits_limit', line)}').Value = 1.75` });
    const [first, second, third] = await records(plain);
    expect([first!['computed.verdict'], third!['computed.verdict'], first!['computed.reason']]).toStrictEqual(['fail', 'pass', '2.25 in is 0.25 in past the limit of 2 in (clamp 30 standard); counts as one defective brake']);
    expect(['vehicle_unit', 'vehicle_inspected_on', 'vehicle_measured', 'vehicle_past_whole', 'vehicle_share', 'vehicle_words', 'position_name', 'position_tested', 'position_failed', 'across_axle_in'].map((id) => first![`computed.${id}`])).toStrictEqual(['K-1', isoDateToSerial('2026-03-14'), 10, 2, 0.2, "out of service by CVSA's general rule: its share of brakes is reached", '1L', 1, 1, 0]);
    expect([second!['computed.vehicle_unit'], second!['computed.position_name']]).toStrictEqual([null, '1r']);
    expect((await records(changed)).slice(0, 3).map((row) => [row['computed.verdict'], row['computed.limit_in'], row['computed.excess_in']])).toStrictEqual([['fail', 1.75, 0.5], ['fail', 1.75, 0.5], ['fail', 1.75, 0.25]]);
    const { strokes } = await evaluateReadings(plain, { name: 'typed.xlsx' });
    expect(strokes!.evaluation.vehicles).toMatchObject([{ unit: 'K-1', inspected_on: '2026-03-14', measured: 10, defective_share: 0.2 }]);
  });
});

function lettersAt(index: number): string {
  return index < 26 ? String.fromCharCode(65 + index) : lettersAt(Math.floor(index / 26) - 1) + lettersAt(index % 26);
}
