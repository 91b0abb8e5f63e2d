import { readFileSync } from 'node:fs';
import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { columnLetters } from '../../src/util/column-letters.js';
import { evaluateReadings, type EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import { verifyWorkbook } from '../../src/workbook/verify-workbook.js';
import { workbookOf } from '../../src/workbook/write-workbook.js';
import { bytesOf } from './bytes-of.js';
import { requireEditing, editInLibreOffice } from './edit-in-libreoffice.js';
import { withSheetChanged } from './workbook-parts.js';

const SHEETS = ['Units', 'Open work', 'One unit', 'Trend'];

let fleet: EvaluatedFleet;
let book: Uint8Array;
/** The letters of a column of a sheet, by the start of its title. */
let letters: (sheet: string, title: string) => string;
beforeAll(async () => {
  fleet = await evaluateReadings(Buffer.from(readFileSync('samples/invented-fleet.csv')), { name: 'fleet.csv' });
  book = await bytesOf(workbookOf(fleet));
  const titles = new Map<string, readonly string[]>();
  const { sheets } = await openXlsx(book);
  for (const sheet of sheets.filter(({ name }) => SHEETS.includes(name))) {
    const longest: string[] = [];
    for await (const { cells } of sheet.table().rows) {
      const texts = cells.map((cell) => (typeof cell === 'string' ? cell : ''));
      if (texts.filter((text) => text !== '').length > longest.filter((text) => text !== '').length && texts[0] !== '' && cells.every((cell) => cell === null || typeof cell === 'string')) longest.splice(0, Infinity, ...texts);
    }
    titles.set(sheet.name, longest);
  }
  letters = (sheet, title) => {
    const at = titles.get(sheet)!.findIndex((one) => one.startsWith(title));
    if (at < 0) throw new Error(`the sheet ${sheet} has no column ${title}`);
    return columnLetters(at);
  };
});

async function found(workbook: Uint8Array): Promise<string[]> {
  const { findings } = await verifyWorkbook(workbook, { name: 'book.xlsx' });
  return findings.filter(({ sheet }) => SHEETS.includes(sheet)).map(({ code, sheet, cell, column }) => `${code} ${sheet}!${cell} ${column}`);
}

describe('the sheets that sum up, changed inside the file', () => {
  it('verify clean as they were written', async () => {
    expect(await found(book)).toStrictEqual([]);
  });

  it.each([
    ['Units', 'Days open', 8],
    ['Open work', 'Days open', 10],
    ['Trend', 'Fail rate', 32],
    ['One unit', 'Verdict', 31],
  ])('name a value that was typed over a formula: %s, %s', async (sheet, title, row) => {
    const cell = letters(sheet, title) + row;
    const changed = await withSheetChanged(book, sheet, (xml) => xml.replace(new RegExp(`(<c r="${cell}"[^>]*?)( t="[a-zA-Z]+")?>.*?</c>`), '$1><v>77</v></c>'));
    expect(await found(changed)).toStrictEqual([`formula_replaced ${sheet}!${cell} ${await titleOf(sheet, cell)}`]);
  });

  it.each([
    ['Units', 'Trend', 'steady', 'rising'],
    ['Trend', 'Period', '2026-', '2025-'],
  ])('name a value that no formula gives: %s, %s', async (sheet, title, before, after) => {
    const { sheets } = await openXlsx(book);
    const index = letterIndex(letters(sheet, title));
    let row = 0;
    for await (const { number, cells } of sheets.find(({ name }) => name === sheet)!.table().rows) if (row === 0 && number > 6 && String(cells[index] ?? '').startsWith(before)) row = number;
    const cell = `${letters(sheet, title)}${row}`;
    const changed = await withSheetChanged(book, sheet, (xml) => xml.replace(new RegExp(`<c r="${cell}"([^>]*?) t="[a-zA-Z]+">.*?</c>`), `<c r="${cell}"$1 t="inlineStr"><is><t>${after}07</t></is></c>`));
    expect(await found(changed)).toStrictEqual([`stored_value_differs ${sheet}!${cell} ${await titleOf(sheet, cell)}`]);
  });

  async function titleOf(sheet: string, cell: string): Promise<string> {
    const rows = { Units: 6, 'Open work': 8, Trend: 31, 'One unit': 29 }[sheet]!;
    for await (const { number, cells } of (await openXlsx(book)).sheets.find(({ name }) => name === sheet)!.table().rows) if (number === rows) return String(cells[letterIndex(cell.replace(/[0-9]/g, ''))]);
    return '';
  }

  function letterIndex(column: string): number {
    return [...column].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0) - 1;
  }
});

describe('a workbook of a period, beside a baseline', () => {
  let period: Uint8Array;
  beforeAll(async () => {
    const earlier = await bytesOf(workbookOf(await evaluateReadings('samples/invented-fleet.csv', { from: '2025-01-01', to: '2025-06-30' })));
    period = await bytesOf(workbookOf(await evaluateReadings('samples/invented-fleet.csv', { from: '2026-01-01', to: '2026-06-30', by: 'quarter', baseline: earlier, baselineName: 'earlier.xlsx' })));
  }, 60_000);

  it('verifies clean', async () => {
    expect((await verifyWorkbook(period)).findings).toStrictEqual([]);
  });

  it('names a rate of now, a difference and a word that do not follow from the counts', async () => {
    const { sheets } = await openXlsx(period);
    const sheet = sheets.find(({ name }) => name === 'Baseline')!;
    let [row, columns]: [number, readonly unknown[]] = [0, []];
    for await (const { number, cells } of sheet.table().rows) {
      if (cells[0] === 'Fail rate of') columns = [...cells];
      if (cells[0] === 'All inspections' && typeof cells[1] === 'number') row = number;
    }
    const words = `${columnLetters(columns.indexOf('In words'))}${row}`;
    const failedNow = `${columnLetters(columns.lastIndexOf('Failed'))}${row}`;
    const changed = await withSheetChanged(period, 'Baseline', (xml) =>
      xml.replace(new RegExp(`<c r="${words}"([^>]*?) t="[a-zA-Z]+">.*?</c>`), `<c r="${words}"$1 t="inlineStr"><is><t>better than ever</t></is></c>`).replace(new RegExp(`(<c r="${failedNow}"[^>]*>)<v>[^<]*</v>`), '$1<v>0</v>'));
    const { findings } = await verifyWorkbook(changed);
    expect(findings.map(({ code, sheet: on, cell }) => `${code} ${on}!${cell}`).sort()).toStrictEqual([`stored_value_differs Baseline!${failedNow}`, `stored_value_differs Baseline!${words}`].sort());
  });
});

describe('the sheets that sum up, changed in LibreOffice', { timeout: 300_000 }, () => {
  beforeEach(async (context) => {
    await requireEditing(context);
  });

  it('tell what was tampered with, and nothing of what people are asked to type', async () => {
    const other = fleet.summary.units.at(-1)!.unit;
    const edited = await editInLibreOffice(book, {
      picked: `cell("One unit", "B4").String = ${JSON.stringify(other)}`,
      pickedNone: 'cell("One unit", "B4").String = ""',
      pickedUpTo: 'cell("One unit", "B5").Value = 46100',
      countedTo: 'cell("Units", "G2").Value = 46700',
      countedToEarlier: 'cell("Units", "G2").Value = 46050',
      doneBy: `cell("Open work", "${letters('Open work', 'Done by')}9").String = "our workshop"`,
      sorted: 'sort("Units", "A7:CZ39", 1, True)',
      rowsAbove: 'rows("Units").insertByIndex(0, 2); rows("Trend").insertByIndex(0, 1); rows("Open work").insertByIndex(0, 1); rows("One unit").insertByIndex(0, 3)',
      lineBelow: 'cell("Trend", "A99").String = "2031-01"',
      verdictSwapped: 'cell("Units", "B7").String = "pass"',
      firstToPullIn: 'cell("Units", "A2").String = "none"',
      figure: 'cell("Open work", "A5").Value = 0',
      namedElsewhere: 'book.NamedRanges.getByName("counted_to").Content = "$Units.$H$2"',
    }, { resaved: true });
    const told = Object.fromEntries(await Promise.all(Object.entries(edited).map(async ([name, bytes]) => [name, await found(bytes)] as const)));
    expect(told).toStrictEqual({
      picked: [],
      pickedNone: [],
      pickedUpTo: [],
      countedTo: [],
      countedToEarlier: [],
      doneBy: [],
      sorted: [],
      rowsAbove: [],
      lineBelow: ['line_added Trend!A99 '],
      verdictSwapped: ['formula_replaced Units!B7 Latest verdict'],
      firstToPullIn: ['formula_replaced Units!A2 Unit'],
      figure: ['formula_replaced Open work!A5 No.'],
      namedElsewhere: expect.arrayContaining(['name_changed Units!G2 counted_to']) as string[],
    });
  });
});
