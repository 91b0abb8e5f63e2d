import { readFileSync, writeFileSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import ExcelJS from 'exceljs';
import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { columnLetters } from '../../src/util/column-letters.js';
import type { RawRow } from '../../src/util/raw-table.js';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import { verificationSchema, type Finding } from '../../src/workbook/verify-finding.js';
import { verifyWorkbook } from '../../src/workbook/verify-workbook.js';
import { blankWorkbook, workbookOf } from '../../src/workbook/write-workbook.js';
import { makeZip } from '../formats/make-xlsx.js';
import { runOpenpyxl, withFolder } from '../formats/outside-program.js';
import { savedByLibreOffice } from '../support/run-libreoffice.js';
import { bytesOf } from './bytes-of.js';
import { requireEditing, editInLibreOffice } from './edit-in-libreoffice.js';
import { withSheetChanged, workbookParts } from './workbook-parts.js';

/** The whole invented fleet, and its first rows for what takes long. */
const WHOLE = readFileSync('samples/invented-fleet.csv', 'utf8');
const ROWS = WHOLE.split('\n').slice(0, 41).join('\n');

/** Where each finding is, in the shortest words. */
function places(findings: readonly Finding[]): string[] {
  return findings.map(({ code, sheet, cell, column }) => `${code} ${sheet}${cell === '' ? '' : `!${cell}`}${column === '' ? '' : ` ${column}`}`);
}

async function findings(workbook: Uint8Array): Promise<readonly Finding[]> {
  return verificationSchema.parse(await verifyWorkbook(workbook, { name: 'book.xlsx' })).findings;
}

async function found(workbook: Uint8Array): Promise<string[]> {
  return places(await findings(workbook));
}

/** The letters of each column of Readings by its name, and the rows of the table. */
async function readingsOf(workbook: Uint8Array): Promise<{ readonly letters: (name: string) => string; readonly computed: readonly string[]; readonly row: (test: (cell: (name: string) => unknown) => boolean) => number }> {
  const sheet = (await openXlsx(workbook)).sheets.find(({ name }) => name === 'Readings')!;
  const rows: RawRow[] = [];
  for await (const row of sheet.table().rows) rows.push(row);
  const names = rows.find(({ number }) => number === 3)!.cells;
  const at = (name: string): number => names.indexOf(name);
  return {
    letters: (name) => columnLetters(at(name)),
    computed: names.flatMap((name, index) => (String(name).startsWith('computed.') ? [columnLetters(index)] : [])),
    row: (test) => rows.find(({ number, cells }) => number > 3 && test((name) => cells[at(name)] ?? null))!.number,
  };
}

let book: Uint8Array;
let where: Awaited<ReturnType<typeof readingsOf>>;
beforeAll(async () => {
  book = await bytesOf(workbookOf(await evaluateReadings(Buffer.from(ROWS), { name: 'fleet.csv' })));
  where = await readingsOf(book);
});

describe('a workbook as it was written', () => {
  it.each([
    ['the invented fleet', WHOLE, 'common-practice'],
    ['the invented fleet in its messy form', readFileSync('samples/invented-fleet-messy.csv', 'utf8'), 'us-nevada'],
  ])('verifies clean: %s', async (_what, csv, limits) => {
    const fleet = await evaluateReadings(Buffer.from(csv), { name: 'fleet.csv', limits });
    const workbook = await bytesOf(workbookOf(fleet));
    const verification = await verifyWorkbook(workbook, { name: 'fleet.xlsx' });
    expect(verification.findings).toStrictEqual([]);
    expect(verification.formulas_compared).toBe(await countFormulas(workbook));
    expect(verification.cells_compared).toBeGreaterThan(verification.formulas_compared);
    expect(verification.limit_set).toStrictEqual({ id: limits, title: fleet.plan.set.title, sha256: fleet.plan.sha256 });
  });

  it('verifies clean when it was evaluated anew', async () => {
    expect(await found(await bytesOf(workbookOf(await evaluateReadings(book))))).toStrictEqual([]);
  });

  it('verifies clean with a limit set and columns of the user, given the file', async () => {
    const limits = 'samples/our-own-limits.json';
    const own = await bytesOf(workbookOf(await evaluateReadings(Buffer.from(ROWS.replace(/\n/g, ',x\n').replace(',x', ',Weather')), { limits })));
    expect((await verifyWorkbook(own, { limits })).findings).toStrictEqual([]);
    await expect(verifyWorkbook(own, { name: 'own.xlsx' })).rejects.toMatchObject({ code: 'limit_set_unknown', message: expect.stringMatching(/^own\.xlsx: .*"our-own".*--limits$/) as string });
  });

  it('verifies clean when it is blank', async () => {
    expect(await found(await bytesOf(blankWorkbook({ rows: 30, limits: 'us-new-hampshire' })))).toStrictEqual([]);
  });

  it('verifies clean above the number of inspections that live formulas can bear', async () => {
    const [header, ...lines] = WHOLE.trim().split('\n');
    const many = Array.from({ length: 5001 }, (_, index) => lines[index % lines.length]!.replace(/^IN-\d+/, `IN-${index}`));
    const large = await bytesOf(workbookOf(await evaluateReadings(Buffer.from([header, ...many].join('\n')))));
    const verification = await verifyWorkbook(large);
    expect(verification.findings).toStrictEqual([]);
    expect(verification.formulas_compared).toBeGreaterThan(300_000);
  }, 120_000);

  /** Every formula of the workbook, on whatever sheet. */
  async function countFormulas(workbook: Uint8Array): Promise<number> {
    let count = 0;
    for (const sheet of (await openXlsx(workbook)).sheets) for await (const { formulas } of sheet.stored().rows) count += formulas.filter((formula) => formula !== null).length;
    return count;
  }
});

describe('what was changed inside the file', () => {
  const failed = (): number => where.row((cell) => cell('computed.verdict') === 'fail');

  it('names a stored value', async () => {
    const cell = `A${failed()}`;
    const changed = await withSheetChanged(book, 'Readings', (xml) => xml.replace(new RegExp(`(<c r="${cell}"[^>]*>(?:<f[^>]*/>|<f.*?</f>)<v>)fail`), '$1pass'));
    expect(await findings(changed)).toStrictEqual([{ code: 'stored_value_differs', sheet: 'Readings', cell, column: 'computed.verdict', found: 'pass', expected: 'fail', citation: null }]);
  });

  it('names a formula that a verdict was typed over', async () => {
    const cell = `A${failed()}`;
    const changed = await withSheetChanged(book, 'Readings', (xml) => xml.replace(new RegExp(`(<c r="${cell}"[^>]*>)(?:<f[^>]*/>|<f.*?</f>)<v>fail`), '$1<v>pass'));
    const [finding, ...others] = await findings(changed);
    expect(others).toStrictEqual([]);
    expect(finding).toMatchObject({ code: 'formula_replaced', sheet: 'Readings', cell, column: 'computed.verdict', found: 'pass' });
    expect(finding!.expected).toMatch(new RegExp(`^=IF\\(.*\\$[A-Z]+${failed()}`));
  });

  it('names a formula that was edited, even to no effect', async () => {
    const cell = `${where.letters('computed.released_loss_primary')}9`;
    const changed = await withSheetChanged(book, 'Readings', (xml) => xml.replace(new RegExp(`(<c r="${cell}"[^>]*>)<f[^>]*/>`), '$1<f>1.5+0</f>'));
    expect(await findings(changed)).toMatchObject([{ code: 'formula_changed', sheet: 'Readings', cell, column: 'computed.released_loss_primary', found: '=1.5+0', expected: expect.stringContaining('$M9') as string }]);
  });

  it('names the formula that all rows of a column share once', async () => {
    const letters = where.letters('computed.released_loss_primary');
    const changed = await withSheetChanged(book, 'Readings', (xml) => xml.replace(new RegExp(`(<c r="${letters}4"[^>]*><f [^>]*>)`), '$10.5*'));
    expect(await found(changed)).toStrictEqual([`formula_changed Readings!${letters}4:${letters}43 computed.released_loss_primary`]);
  });

  it('names a row whose formulas were taken out', async () => {
    const computed = new RegExp(`<c r="(?:${where.computed.join('|')})9"[^>]*>.*?</c>`, 'g');
    const changed = await withSheetChanged(book, 'Readings', (xml) => xml.replace(/<row r="9".*?<\/row>/, (row) => row.replace(computed, '')));
    expect(await found(changed)).toContain('row_without_formulas Readings!A9');
  });

  it('names a caution that was taken out', async () => {
    const parts = await workbookParts(book);
    const path = [...parts.keys()].find((name) => name.endsWith('sharedStrings.xml'))!;
    parts.set(path, parts.get(path)!.replace('>Chock the wheels before the parking brakes are released.<', '>Release the parking brakes.<'));
    expect(await found(new Uint8Array(await makeZip(Object.fromEntries(parts))))).toContain('text_changed Start here Cautions');
  });

  it('names a limit that a formula took the place of', async () => {
    const changed = await withSheetChanged(book, 'Limits', (xml) => xml.replace(/(<c r="E5"[^>]*>)<v>3<\/v>/, '$1<f>1+2</f><v>3</v>'));
    expect(await findings(changed)).toMatchObject([{ code: 'limit_changed', cell: 'E5', found: '=1+2, which gives 3', expected: '3 psi/min' }]);
  });

  it.each([
    ['a name that points elsewhere', /(<definedName name="computed_verdict">)[^<]*/, '$1Readings!$A$4:$A$40', 'name_changed Readings computed_verdict'],
    ['a name that was taken out', /<definedName name="readings_site">[^<]*<\/definedName>/, '', 'name_changed Readings readings_site'],
    ['a name of one sheet that hides a limit', /<\/definedNames>/, '<definedName name="limit_released_loss_1" localSheetId="6">99</definedName></definedNames>', 'name_changed Readings limit_released_loss_1'],
    ['a sheet that only a macro could show', /(<sheet [^>]*name="Limits")( state="[a-z]+")?/, '$1 state="veryHidden"', 'hidden_sheet Limits'],
  ])('names %s', async (_what, pattern, replacement, expected) => {
    const parts = await workbookParts(book);
    const before = parts.get('xl/workbook.xml')!;
    const after = before.replace(/ state="visible"/g, '').replace(pattern, replacement);
    parts.set('xl/workbook.xml', after);
    expect(await found(new Uint8Array(await makeZip(Object.fromEntries(parts))))).toStrictEqual([expected]);
  });

  it.each([
    ['the hash of the limit set', /[0-9a-f]{64}/, '0'.repeat(64), 'limit_set_changed Provenance!B6 Limit set, SHA-256 of its canonical JSON'],
    ['the version of the program', /Treadlebook \d[^<]*/, 'Treadlebook 0.0.1', 'program_differs Provenance!B4 Program'],
  ])('names %s', async (_what, pattern, replacement, expected) => {
    const parts = await workbookParts(book);
    const path = [...parts.keys()].find((name) => name.endsWith('sharedStrings.xml'))!;
    parts.set(path, parts.get(path)!.replace(pattern, replacement));
    expect(await found(new Uint8Array(await makeZip(Object.fromEntries(parts))))).toStrictEqual([expected]);
  });

  it('names a row of no height and a column of no width as hidden', async () => {
    const low = await withSheetChanged(book, 'Readings', (xml) => xml.replace(/<row r="9" ht="[^"]*"/, '<row r="9" ht="0"'));
    expect(await found(low)).toStrictEqual(['hidden_rows Readings!9:9']);
    const narrow = await withSheetChanged(book, 'Limits', (xml) => xml.replace(/<col min="2" max="2" width="[^"]*"/, '<col min="2" max="2" width="0"'));
    expect(await found(narrow)).toStrictEqual(['hidden_columns Limits!B:B']);
  });
});

// The outside program here is LibreOffice: it is the one that recalculates after each change, and that writes the workbook anew.
describe('what LibreOffice saved', { timeout: 300_000 }, () => {
  beforeEach(async (context) => {
    await requireEditing(context);
  });

  it('without a change verifies clean: the whole fleet, a messy table, a blank workbook', async () => {
    const messy = await bytesOf(workbookOf(await evaluateReadings('samples/invented-fleet-messy.csv', { limits: 'us-nevada' })));
    const whole = await bytesOf(workbookOf(await evaluateReadings(Buffer.from(WHOLE))));
    for (const workbook of await savedByLibreOffice([whole, messy, await bytesOf(blankWorkbook({ rows: 15 }))])) expect(await found(workbook)).toStrictEqual([]);
  });

  it('is told change by change, and nothing else is', async () => {
    const at = where.letters;
    const failed = where.row((cell) => cell('computed.verdict') === 'fail');
    // What is set in or taken out is tried on a workbook that LibreOffice saved before: LibreOffice 7.4 spoils shared formulas that hold an array constant when rows or columns move.
    const edited = await editInLibreOffice(book, {
      nothing: '',
      limit: 'cell("Limits", "E5").Value = 5',
      fact: 'cell("Limits", [name.Content for name in book.NamedRanges if name.Name == "fact_psi_per_kPa"][0].split(".")[1].replace("$", "")).Value = 0.2',
      constant: `c = cell("Readings", "${at('computed.not_understood')}9"); c.String = c.String`,
      column: `r = cell("Readings", "${at('computed.released_loss_check_verdict')}4:${at('computed.released_loss_check_verdict')}43"); r.DataArray = r.DataArray`,
      formula: `c = cell("Readings", "${at('computed.released_loss_check_reason')}${failed}"); c.Formula = c.Formula + '&""'`,
      rowDeleted: 'rows("Readings").removeByIndex(8, 1)',
      rowAdded: `rows("Readings").insertByIndex(8, 1); cell("Readings", "${at('notes')}9").String = "set in"`,
      rowBelow: `cell("Readings", "${at('unit')}44").String = cell("Readings", "${at('unit')}43").String`,
      rowHidden: 'rows("Readings").getByIndex(8).IsVisible = False; rows("Readings").getByIndex(9).IsVisible = False',
      columnHidden: 'columns("Readings").getByIndex(3).IsVisible = False',
      sheetHidden: 'book.Sheets.getByName("Provenance").IsVisible = False',
      sheetRemoved: 'book.Sheets.removeByName("Units")',
      entry: `cell("Readings", "${at('released_primary_end')}9").Value = 90`,
      sorted: `sort("Readings", "A4:${columnLetters(200)}43", 3)`,
      unitsSorted: 'sort("Units", "A7:BZ60", 11, False)',
      ownColumn: 'columns("Readings").insertByIndex(5, 1); cell("Readings", "F3").String = "Weather"',
      ownColumnFarRight: 'columns("Readings").insertByIndex(60, 1); cell("Readings", "BI3").String = "Weather"',
      rowsAbove: 'rows("Readings").insertByIndex(0, 1); rows("Limits").insertByIndex(5, 1); rows("Units").insertByIndex(0, 2); rows("Fail rates").insertByIndex(0, 1)',
      name: 'book.NamedRanges.getByName("limit_released_loss_1").Content = "$Limits.$E$6"',
      citation: 'cell("Limits", "I5").String = "by law"',
      title: 'cell("Readings", "A2").String = "Result"',
      unit: 'cell("Units", "A7").String = "None such"',
      count: 'cell("Provenance", "B13").Value = 99',
      ownNote: 'cell("Units", "CZ60").String = "a note of ours"; book.Sheets.insertNewByName("Ours", 9)',
    }, { resaved: true });
    const told = Object.fromEntries(await Promise.all(Object.entries(edited).map(async ([name, bytes]) => [name, await found(bytes)] as const)));
    const [verdicts, reasons] = [at('computed.released_loss_check_verdict'), at('computed.released_loss_check_reason')];
    const firstUnit = (await firstCell(book, 'Units', 7)) as string;
    expect(told).toStrictEqual({
      nothing: [],
      limit: ['limit_changed Limits!E5 limit_released_loss_1'],
      fact: [expect.stringMatching(/^fact_changed Limits!E\d+ fact_psi_per_kPa$/)],
      constant: [`formula_replaced Readings!${at('computed.not_understood')}9 computed.not_understood`],
      column: [`formula_replaced Readings!${verdicts}4:${verdicts}43 computed.released_loss_check_verdict`],
      formula: [`formula_changed Readings!${reasons}${failed} computed.released_loss_check_reason`],
      rowDeleted: ['rows_deleted Provenance!B16 Inspections'],
      rowAdded: ['row_without_formulas Readings!A9', 'rows_added Provenance!B16 Inspections'],
      rowBelow: ['row_without_formulas Readings!A44', 'row_not_counted Readings!A44', 'rows_added Provenance!B16 Inspections'],
      rowHidden: ['hidden_rows Readings!9:10'],
      columnHidden: ['hidden_columns Readings!D:D'],
      sheetHidden: ['hidden_sheet Provenance'],
      sheetRemoved: ['sheet_missing Units'],
      entry: ['entries_changed Provenance!B11 Entries, SHA-256'],
      sorted: [],
      unitsSorted: [],
      ownColumn: ['columns_changed Provenance!B34 Columns not of the program'],
      ownColumnFarRight: ['columns_changed Provenance!B34 Columns not of the program'],
      rowsAbove: [],
      // The number that the name gives now is another one, too.
      name: ['limit_changed Limits!E6 limit_released_loss_1', 'name_changed Limits limit_released_loss_1'],
      citation: ['text_changed Limits!I5'],
      title: ['text_changed Readings!A2 computed.verdict'],
      unit: [`line_missing Units ${firstUnit}`, 'line_added Units!A7 None such'],
      count: ['counts_changed Provenance!B13 Rows read below the header'],
      ownNote: [],
    });
  });

  it('is clean when a blank workbook was filled by hand, in words that its formulas do not understand as well', async () => {
    const blank = await bytesOf(blankWorkbook({ rows: 12 }));
    const { letters } = await readingsOf(blank);
    const rows: readonly Readonly<Record<string, string | number>>[] = [
      { unit: 'T-1', site: 'North', inspector: 'Ann', inspected_on: 46000, vehicle_kind: 'bus', released_primary_start: 104, released_primary_end: 102, released_time: '1:00' },
      { unit: 't-1', site: 'north', inspector: 'Bob', inspected_on: 46030, vehicle_kind: 'Truck', pressure_unit: 'PSI', released_primary_start: '104 psi', released_primary_end: 102, released_time: '60 s', light_on_at: 60 },
      { unit: 'T-2', site: 'South', inspected_on: '2026-03-14', vehicle_kind: 'lorry', released_primary_start: 104, released_primary_end: 98, released_time: '1 minute' },
      { unit: 'T-3', inspected_on: 46001, pressure_unit: 'kpa', released_primary_start: 800, released_primary_end: 780, released_time: '1 min', buzzer_on_at: 'NEVER', light_on_at: 'never' },
      { unit: 'T-4', inspected_on: 46001, pressure_unit: 'psig', released_primary_start: 120, released_primary_end: 119, released_time: '0:60', audible_leak: 'x' },
      { unit: 'T-5', inspected_on: 46001, released_primary_start: 5000, released_primary_end: 119.5, released_time: '1:30', audible_leak: 'Yes' },
    ];
    const typing = rows.flatMap((row, index) => Object.entries(row).map(([name, value]) => `cell("Readings", "${letters(name)}${index + 4}").${typeof value === 'number' ? 'Value' : 'String'} = ${JSON.stringify(value)}`));
    const edited = await editInLibreOffice(blank, { filled: typing.join('\n'), tampered: [...typing, 'cell("Readings", "A4").String = "fail"'].join('\n') });
    expect(await found(edited.filled)).toStrictEqual([]);
    expect((await evaluateReadings(edited.filled)).evaluations).toHaveLength(rows.length);
    const told = await found(edited.tampered);
    expect(told).toContain('formula_replaced Readings!A4 computed.verdict');
    expect(told.filter((place) => !/^stored_value_differs (?:Units|Open work|One unit|Trend|Fail rates|Readings![A-Z]+4 computed.reason)|^formula_replaced/.test(place))).toStrictEqual([]);
  });
});

describe('what openpyxl saved', () => {
  it('is one finding, for it keeps no stored values', async (context) => {
    const saved = withFolder((folder) => {
      const [before, after] = [join(folder, 'before.xlsx'), join(folder, 'after.xlsx')];
      writeFileSync(before, book);
      runOpenpyxl(context, 'import sys, openpyxl\nopenpyxl.load_workbook(sys.argv[1]).save(sys.argv[2])', before, after);
      return new Uint8Array(readFileSync(after));
    });
    const told = await findings(saved);
    expect(places(told)).toStrictEqual([expect.stringMatching(/^not_recalculated /)]);
    expect(told[0]!.expected).toContain('open the workbook in a spreadsheet program and save it');
  });

  it('is still compared: a limit, a formula and an entry that were changed', async (context) => {
    const cell = `${where.letters('computed.released_loss')}9`;
    const saved = withFolder((folder) => {
      const [before, after] = [join(folder, 'before.xlsx'), join(folder, 'after.xlsx')];
      writeFileSync(before, book);
      runOpenpyxl(context, `import sys, openpyxl
b = openpyxl.load_workbook(sys.argv[1])
b['Limits']['E5'] = 5
b['Readings']['${cell}'] = '=0'
b['Readings']['${where.letters('released_primary_end')}9'] = 1
b.save(sys.argv[2])`, before, after);
      return new Uint8Array(readFileSync(after));
    });
    expect((await found(saved)).slice(1)).toStrictEqual([`formula_changed Readings!${cell} computed.released_loss`, 'limit_changed Limits!E5 limit_released_loss_1', 'entries_changed Provenance!B11 Entries, SHA-256']);
  });
});

describe('what is no workbook of ours', () => {
  const stranger = async (fill: (file: ExcelJS.Workbook) => void): Promise<Uint8Array> => {
    const file = new ExcelJS.Workbook();
    fill(file);
    return new Uint8Array(await file.xlsx.writeBuffer());
  };

  it.each([
    ['a workbook of readings', (file: ExcelJS.Workbook) => void file.addWorksheet('Sheet1').addRows([['unit', 'inspected_on'], ['T-1', '2026-03-14']])],
    ['one whose sheet is named Readings', (file: ExcelJS.Workbook) => void file.addWorksheet('Readings').addRows([['unit', 'inspected_on'], ['T-1', '2026-03-14']])],
    ['one whose sheet Readings is empty', (file: ExcelJS.Workbook) => void file.addWorksheet('Readings')],
    ['one with a sheet Provenance of its own', (file: ExcelJS.Workbook) => void file.addWorksheet('Provenance').addRows([['Limit set', 'of gold']])],
  ])('is refused in one line: %s', async (_what, fill) => {
    await expect(verifyWorkbook(await stranger(fill), { name: 'theirs.xlsx' })).rejects.toMatchObject({ code: 'input_unreadable', message: expect.stringMatching(/^theirs\.xlsx: this is no evaluated workbook/) as string });
  });

  it('is not a file that the workbook names', async () => {
    const parts = await workbookParts(book);
    const path = [...parts.keys()].find((name) => name.endsWith('sharedStrings.xml'))!;
    parts.set(path, parts.get(path)!.replace('common-practice: ', '../../secret.json: '));
    await expect(verifyWorkbook(new Uint8Array(await makeZip(Object.fromEntries(parts))))).rejects.toMatchObject({ code: 'limit_set_unknown' });
  });

  it('is told when only Provenance is left of it', async () => {
    const left = await stranger((file) => void file.addWorksheet('Provenance').addRows([['Limit set', 'common-practice: Common practice']]));
    expect(await found(left)).toContain('sheet_missing Readings');
  });

  it('needs the limit set named where Provenance is gone', async () => {
    const file = new ExcelJS.Workbook();
    await file.xlsx.load((await bytesOf(blankWorkbook({ rows: 2 }))) as unknown as ArrayBuffer);
    file.removeWorksheet('Provenance');
    const bytes = new Uint8Array(await file.xlsx.writeBuffer());
    await expect(verifyWorkbook(bytes)).rejects.toMatchObject({ code: 'input_unreadable', mend: 'name it with --limits' });
    expect(places((await verifyWorkbook(bytes, { limits: 'common-practice' })).findings)).toContain('sheet_missing Provenance');
  });

  it('is a file that is not there, or a folder', async () => {
    await expect(verifyWorkbook('samples/none.xlsx')).rejects.toMatchObject({ code: 'input_missing' });
    await expect(verifyWorkbook('samples')).rejects.toMatchObject({ code: 'input_unreadable' });
    await expect(verifyWorkbook(await readFile('samples/invented-fleet.csv'))).rejects.toMatchObject({ code: 'input_unreadable' });
  });
});

async function firstCell(workbook: Uint8Array, sheet: string, row: number): Promise<unknown> {
  for await (const { number, cells } of (await openXlsx(workbook)).sheets.find(({ name }) => name === sheet)!.table().rows) if (number === row) return cells[0];
  return null;
}
