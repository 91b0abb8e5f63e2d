import { beforeAll, describe, expect, it } from 'vitest';
import { evaluationSchema } from '../../src/fleet/evaluation-schema.js';
import type { EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import { evaluationJson } from '../../src/workbook/evaluation-json.js';
import { OPEN_WORK_FIRST_ROW, OPEN_WORK_TITLE_ROW } from '../../src/workbook/sheets/open-work-columns.js';
import { BUILDUP_TITLE, UNITS_TITLE_ROW } from '../../src/workbook/sheets/unit-places.js';
import { verifyWorkbook } from '../../src/workbook/verify-workbook.js';
import { blankWorkbook, workbookOf } from '../../src/workbook/write-workbook.js';
import { columnLetters } from '../../src/util/column-letters.js';
import { compareWithRecalculation } from '../support/compare-with-recalculation.js';
import { requireOutside } from '../support/recalculate.js';
import { bytesOf, textOf } from './bytes-of.js';
import { requireEditing, editInLibreOffice } from './edit-in-libreoffice.js';
import { typedFollowUp } from './follow-up-fleet.js';
import { recordsOfSheet, rowsOfSheet, type PlainCell } from './sheet-tables.js';
import { OPEN_UNITS, SAID, SLOW_BUILDUP_ROWS, slowBuildupFleet } from './slow-buildup-fleet.js';
import { withSheetChanged } from './workbook-parts.js';

let fleet: EvaluatedFleet;
let book: Uint8Array;
beforeAll(async () => {
  fleet = await slowBuildupFleet();
  book = await bytesOf(workbookOf(fleet));
});

const pick = (units: readonly string[]): Record<string, PlainCell> => Object.fromEntries(units.map((unit) => [unit, SAID[unit]!]));

async function shown(workbook: Uint8Array, sheet: string, titleRow: number): Promise<Record<string, PlainCell>> {
  const records = [...(await recordsOfSheet(workbook, sheet, titleRow)).values()].filter((record) => record['Unit'] != null);
  return Object.fromEntries(records.map((record) => [String(record['Unit']), record[BUILDUP_TITLE] || null]));
}
const onUnits = (workbook: Uint8Array): Promise<Record<string, PlainCell>> => shown(workbook, 'Units', UNITS_TITLE_ROW);
const onOpenWork = (workbook: Uint8Array): Promise<Record<string, PlainCell>> => shown(workbook, 'Open work', OPEN_WORK_TITLE_ROW);

/** The cell of the words of a unit on the sheet Units. */
async function cellOf(unit: string): Promise<string> {
  const rows = await rowsOfSheet(book, 'Units');
  const [row] = [...rows].find(([number, cells]) => number > UNITS_TITLE_ROW && cells[0] === unit)!;
  return columnLetters(rows.get(UNITS_TITLE_ROW)!.indexOf(BUILDUP_TITLE)) + row;
}

async function found(workbook: Uint8Array): Promise<string[]> {
  return (await verifyWorkbook(workbook)).findings.map(({ code, sheet, cell }) => `${code} ${sheet}!${cell}`);
}

describe('what the leak explains of a slow build-up, on the sheets', { timeout: 240_000 }, () => {
  it('stands on Units by unit under a heading of its own, and on Open work beside where to look', async () => {
    expect(await onUnits(book)).toStrictEqual(pick(Object.keys(SAID)));
    expect(await onOpenWork(book)).toStrictEqual(pick(OPEN_UNITS));
    const units = await rowsOfSheet(book, 'Units');
    expect(units.get(UNITS_TITLE_ROW - 1)![units.get(UNITS_TITLE_ROW)!.indexOf(BUILDUP_TITLE)]).toBe('Diagnosis, never the verdict');
    const titles = (await rowsOfSheet(book, 'Open work')).get(OPEN_WORK_TITLE_ROW)!;
    expect(String(titles[titles.indexOf(BUILDUP_TITLE) - 1])).toMatch(/^Where to look first/);
  });

  it('stands in the JSON by unit and by open failure, as the schema says', async () => {
    const json = JSON.parse(await textOf(evaluationJson(fleet))) as Record<'units' | 'open_work', { unit: string; buildup_explained: string | null }[]>;
    evaluationSchema.parse(json);
    expect(Object.fromEntries(json.units.map(({ unit, buildup_explained }) => [unit, buildup_explained]))).toStrictEqual(pick(Object.keys(SAID)));
    expect(Object.fromEntries(json.open_work.map(({ unit, buildup_explained }) => [unit, buildup_explained]))).toStrictEqual(pick(OPEN_UNITS));
  });

  // The outside source is LibreOffice, which computes a twin of the workbook that holds no results.
  it('follows its unit on Open work: LibreOffice computes what is stored', async (context) => {
    requireOutside(context, 'soffice');
    const { compared, differences } = await compareWithRecalculation(book, await bytesOf(workbookOf(fleet, { withoutResults: true })));
    expect(differences.filter(({ cell }) => /^(?:Units|Open work)!/.test(cell))).toStrictEqual([]);
    expect(compared).toBeGreaterThan(200);
  });

  it('stays as written when the summaries stop at a day', async () => {
    const values = await bytesOf(workbookOf({ ...fleet, asOf: '2026-03-14' }));
    expect(await onUnits(values)).toStrictEqual(pick(Object.keys(SAID)));
    expect(await onOpenWork(values)).toStrictEqual(pick(OPEN_UNITS));
  });

  it('is blank in a blank workbook, which says so, and stays so when readings are typed', async (context) => {
    const blank = await bytesOf(blankWorkbook({ limits: 'common-practice', rows: 20 }));
    const texts = [...(await rowsOfSheet(blank, 'Open work')).values(), ...(await rowsOfSheet(blank, 'Units')).values()].flat().map(String);
    expect(texts.some((text) => text.includes('Build-up and leak stays blank until the workbook is evaluated with the program'))).toBe(true);
    expect(texts.some((text) => text.includes('word on build-up and leak comes when the workbook is evaluated with the program'))).toBe(true);
    requireOutside(context, 'soffice');
    const typed = await typedFollowUp(context, SLOW_BUILDUP_ROWS);
    expect(await onOpenWork(typed)).toStrictEqual(Object.fromEntries(OPEN_UNITS.map((unit) => [unit, null])));
    expect(await found(typed)).toStrictEqual([]);
  });

  it('verifies clean, and tells of words that do not follow from the readings, or were typed over a formula', async () => {
    expect(await found(book)).toStrictEqual([]);
    const cell = await cellOf('NOT');
    const written = (sheet: string, at: string): Promise<Uint8Array> => withSheetChanged(book, sheet, (xml) => xml.replace(new RegExp(`<c r="${at}"([^>]*?)(?: t="[a-zA-Z]+")?(?:/>|>.*?</c>)`), `<c r="${at}"$1 t="inlineStr"><is><t>it is the leak</t></is></c>`));
    expect(await found(await written('Units', cell))).toStrictEqual([`stored_value_differs Units!${cell}`]);
    const titles = (await rowsOfSheet(book, 'Open work')).get(OPEN_WORK_TITLE_ROW)!;
    const onList = columnLetters(titles.indexOf(BUILDUP_TITLE)) + (OPEN_WORK_FIRST_ROW + 1);
    expect(await found(await written('Open work', onList))).toStrictEqual([`formula_replaced Open work!${onList}`]);
  });

  it('is not held against changed readings, and goes with its unit in a sorted list', async (context) => {
    await requireEditing(context);
    const readings = await rowsOfSheet(book, 'Readings');
    const [titleRow, titles] = [...readings].find(([, cells]) => cells.includes('buildup_time'))!;
    const time = columnLetters(titles.indexOf('buildup_time')) + (titleRow + 2);
    const edited = await editInLibreOffice(book, {
      sorted: `sort("Units", "A7:CZ13", 0, True)`,
      countedTo: 'cell("Units", "G2").Value = 46100',
      corrected: `cell("Readings", "${time}").String = "2:10"`,
    });
    expect(await found(edited.sorted)).toStrictEqual([]);
    expect(await onOpenWork(edited.sorted)).toStrictEqual(pick(OPEN_UNITS));
    expect(await found(edited.countedTo)).toStrictEqual([]);
    const corrected = await found(edited.corrected);
    expect(corrected.filter((finding) => /(?:Units|Open work)!/.test(finding))).toStrictEqual([]);
    expect((await onUnits(edited.corrected))['WHOLLY']).toBe(SAID['WHOLLY']);
  });
});
