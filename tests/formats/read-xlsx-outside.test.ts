import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import ExcelJS from 'exceljs';
import { describe, expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { shiftFormula } from '../../src/formats/xlsx-reader/shift-formula.js';
import { plainValue } from '../../src/util/raw-table.js';
import { all } from './csv-text.js';
import { exceljsRows, expectSameRows, plainRows } from './exceljs-rows.js';
import { convertWithLibreOffice, runOpenpyxl, withFolder } from './outside-program.js';

/** openpyxl writes a workbook, reads it back and prints the values it read, dates as serials. */
const OPENPYXL = `
import sys, json, datetime, openpyxl
from openpyxl.utils.datetime import to_excel, MAC_EPOCH, WINDOWS_EPOCH
path, mac = sys.argv[1], sys.argv[2] == '1904'
book = openpyxl.Workbook()
if mac: book.epoch = MAC_EPOCH
sheet = book.active
sheet.title = 'Readings'
sheet.append(['unit', 'date', 'time', 'loss', 'ok', 'notes'])
sheet.append(['T-104', datetime.date(2024, 2, 29), datetime.time(4, 10), 1.5, True, ' hose, "left" & <right> '])
sheet.append(['T-105', datetime.datetime(2024, 3, 1, 4, 10, 30), datetime.timedelta(hours=30, minutes=5), -0.25, False, 'a\\nb'])
sheet.append([None, None, None, 1e-9, None, '\\u00e9 \\U0001F600'])
sheet['B9'] = '=D2+D3'
sheet['C9'] = '#N/A'
sheet['H12'] = 12
sheet['H12'].number_format = '0.0" psi"'
hidden = book.create_sheet('Hid den'); hidden.sheet_state = 'hidden'; hidden['C3'] = 'x'
book.save(path)
again = openpyxl.load_workbook(path)
epoch = MAC_EPOCH if mac else WINDOWS_EPOCH
def value(cell):
    v = cell.value
    if isinstance(v, (datetime.date, datetime.time, datetime.timedelta)): return {'serial': to_excel(v, epoch), 'format': cell.number_format}
    return v
print(json.dumps({s.title: [[r[0].row, [value(c) for c in r]] for r in s.iter_rows()] for s in again.worksheets}))
`;

type Printed = Record<string, [number, ({ serial: number; format: string } | string | number | boolean | null)[]][]>;

describe.each(['1900', '1904'])('a workbook by openpyxl, %s system', (system) => {
  it('reads cell by cell as openpyxl reads it', async (context) => {
    const { bytes, printed } = withFolder((folder) => {
      const path = join(folder, 'book.xlsx');
      const output = runOpenpyxl(context, OPENPYXL, path, system);
      return { bytes: readFileSync(path), printed: JSON.parse(output) as Printed };
    });
    const book = await openXlsx(bytes);
    expect(book.date1904).toBe(system === '1904');
    expect(book.sheets.map(({ name, state }) => [name, state])).toStrictEqual([['Readings', 'visible'], ['Hid den', 'hidden']]);
    for (const sheet of book.sheets) {
      const rows = new Map((await all(sheet.rowsWithFormulas())).map((row) => [row.number, row]));
      for (const [number, expected] of printed[sheet.name] ?? []) {
        expected.forEach((wanted, column) => {
          const row = rows.get(number);
          const cell = row?.cells[column] ?? null;
          const formula = row?.formulas[column] ?? null;
          if (typeof wanted === 'object' && wanted !== null) {
            expect(plainValue(cell)).toBeCloseTo(wanted.serial, 9);
            expect(cell).toMatchObject({ format: wanted.format });
          } else {
            expect(formula === null ? cell : `=${formula}`).toStrictEqual(wanted);
          }
        });
      }
      expect(Math.max(...rows.keys())).toBe(printed[sheet.name]?.at(-1)?.[0]);
    }
  });
});

it('moves the references of a formula as openpyxl does', (context) => {
  const formulas = ['A5+$A5+A$5+$A$5', 'SUM(C3:D4,$C3:D$4)', 'IF(C3>="A1",LOG10(D4),ATAN2(E5,F6))', "'My A1'!C3+Sheet2!D4", 'SUM(D:D,$E:F,4:4,$5:6)', '1E5+C3*2.5E3', 'A5&"A5 ""B6"" "&B6'];
  const script = `
import sys, json
from openpyxl.formula.translate import Translator
print(json.dumps([[Translator('=' + f, origin='F10').translate_formula(to)[1:] for to in ('F11', 'H10', 'G14', 'F9')] for f in json.loads(sys.argv[1])]))`;
  const expected: unknown = JSON.parse(runOpenpyxl(context, script, JSON.stringify(formulas)));
  const ours = formulas.map((formula) => {
    const shift = shiftFormula(formula);
    return [shift(1, 0), shift(0, 2), shift(4, 1), shift(-1, 0)];
  });
  expect(ours).toStrictEqual(expected);
});

describe('a workbook by LibreOffice', () => {
  it('made from CSV, reads cell by cell as exceljs reads it', async (context) => {
    const bytes = withFolder((folder) => {
      const path = join(folder, 'fleet.csv');
      writeFileSync(path, '\ufeffunit,inspected_on,time,loss,notes,formula\r\nT-104,2024-02-29,04:10:00,1.5,"hose, ""left""",é😀\r\n\r\nT-105,2024-03-01,60 s,-0.25,"a\nb",00123\r\n');
      convertWithLibreOffice(context, path, 'xlsx', folder);
      return readFileSync(join(folder, 'fleet.xlsx'));
    });
    const book = await openXlsx(bytes);
    const expected = await exceljsRows(bytes);
    expect(book.application).toMatch(/^LibreOffice/);
    expect(book.sheets.map((sheet) => sheet.name)).toStrictEqual(['fleet']);
    const rows = await all(book.sheets[0]!.table().rows);
    expectSameRows(plainRows(rows, false), expected['fleet']);
    expect(rows.map((row) => row.number)).toStrictEqual([1, 2, 4]);
    // 29 February 2024 is day 45,351 of the 1900 system.
    expect(rows[1]?.cells[1]).toMatchObject({ value: 45_351 });
  }, 120_000);

  it('made from a workbook by exceljs, reads as exceljs reads it, formulas too', async (context) => {
    const workbook = new ExcelJS.Workbook();
    const sheet = workbook.addWorksheet('Read & write');
    sheet.addRow(['unit', new Date(Date.UTC(2024, 1, 29)), 1.5, true, null, 'x']);
    for (let row = 2; row <= 300; row += 1) sheet.addRow([`T-${row}`, { formula: `C${row}*2+$C$1` }, row / 4, row % 2 === 0, null, { formula: `IF(C${row}>5,"high","")` }]);
    sheet.getCell('A301').value = { formula: '1/0' };
    sheet.getCell('B301').value = { richText: [{ text: 'rich ' }, { font: { bold: true }, text: 'text' }] };
    sheet.getCell('C301').value = 0.25;
    sheet.getCell('C301').numFmt = '[h]:mm';
    workbook.addWorksheet('Hid', { state: 'hidden' }).getCell('B2').value = 'y';
    const bytes = await workbook.xlsx.writeBuffer();
    const converted = withFolder((folder) => {
      const path = join(folder, 'book.xlsx');
      writeFileSync(path, Buffer.from(bytes));
      convertWithLibreOffice(context, path, 'xlsx', join(folder, 'out'));
      return readFileSync(join(folder, 'out', 'book.xlsx'));
    });
    const book = await openXlsx(converted);
    const expected = await exceljsRows(converted);
    const again = new ExcelJS.Workbook();
    await again.xlsx.load(converted as unknown as ExcelJS.Buffer);
    expect(book.findings).toStrictEqual([{ kind: 'hidden sheet', sheet: 'Hid', cell: '', text: 'The sheet Hid is hidden.' }]);
    for (const { name, table, rowsWithFormulas } of book.sheets) {
      expectSameRows(plainRows(await all(table().rows), false), expected[name]);
      for (const { number, formulas } of await all(rowsWithFormulas())) {
        formulas.forEach((formula, column) => {
          expect(formula).toBe(again.getWorksheet(name)!.getRow(number).getCell(column + 1).formula ?? null);
        });
      }
    }
    // Computed by LibreOffice: 300 / 4 * 2 + 1.5, and the error of a division by zero.
    expect(expected['Read & write']?.[300]?.[1]).toBe(151.5);
    expect((await all(book.sheets[0]!.table().rows)).at(-1)?.cells).toStrictEqual(['#DIV/0!', 'rich text', { value: 0.25, format: '[h]:mm' }]);
  }, 120_000);
});
