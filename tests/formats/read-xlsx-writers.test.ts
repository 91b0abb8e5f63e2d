import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, type TestContext } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { plainValue } from '../../src/util/raw-table.js';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import { workbookParts } from '../workbook/workbook-parts.js';
import { all } from './csv-text.js';
import { makeZip } from './make-xlsx.js';
import { needGnumeric, runPython, withFolder } from './outside-program.js';

/** Readings as XlsxWriter writes them: dates, a time, numbers, truth values, rich and plain texts, formulas with their values, hidden sheets. */
const XLSXWRITER = `
import sys, datetime, xlsxwriter
path, system, strings = sys.argv[1:4]
book = xlsxwriter.Workbook(path, {'date_1904': system == '1904', 'constant_memory': strings == 'inline'})
date = book.add_format({'num_format': 'yyyy-mm-dd'}); time = book.add_format({'num_format': 'h:mm'}); bold = book.add_format({'bold': True})
sheet = book.add_worksheet('Readings')
sheet.write_row(0, 0, ['unit', 'inspected_on', 'cut_in', 'cut_out', 'released_time', 'audible_leak', 'notes'])
for row, (unit, day) in enumerate([('K-1', 1), ('K-2', 2), ('K-3', 29)], 1):
    sheet.write_string(row, 0, unit)
    sheet.write_datetime(row, 1, datetime.datetime(2024, 2, day), date)
    sheet.write_number(row, 2, 98 + row)
    sheet.write_formula(row, 3, '=C%d+20' % (row + 1), None, 118 + row)
    sheet.write_datetime(row, 4, datetime.time(2, row), time)
    sheet.write_boolean(row, 5, row == 2)
    if strings == 'shared' and row == 1: sheet.write_rich_string(row, 6, 'a ', bold, 'rich', ' note')
    else: sheet.write_string(row, 6, ' <&> \\u00e9 \\U0001F600\\nline "q" ')
sheet.write_string(5, 0, 'Total')
sheet.write_formula(5, 2, '=SUM(C2:C4)', None, 300)
hidden = book.add_worksheet('Lists'); hidden.write(0, 0, 'x'); hidden.hide()
book.close()
`;

/** What openpyxl reads: stored values, dates and times as serial numbers. */
const OPENPYXL = `
import sys, json, datetime, openpyxl
from openpyxl.utils.datetime import to_excel
book = openpyxl.load_workbook(sys.argv[1], data_only=True)
def value(cell):
    v = cell.value
    if isinstance(v, (datetime.date, datetime.time, datetime.timedelta)): return {'serial': to_excel(v, book.epoch)}
    return v
print(json.dumps([[s.title, s.sheet_state, [[r[0].row, [value(c) for c in r]] for r in s.iter_rows()]] for s in book.worksheets]))
`;

type Printed = readonly (readonly [sheet: string, state: string, rows: readonly (readonly [number: number, cells: readonly ({ readonly serial: number } | string | number | boolean | null)[]])[]])[];

function byOpenpyxl(context: TestContext, bytes: Uint8Array): Printed {
  return withFolder((folder) => {
    writeFileSync(join(folder, 'book.xlsx'), bytes);
    return JSON.parse(runPython(context, ['openpyxl'], OPENPYXL, join(folder, 'book.xlsx'))) as Printed;
  });
}

function byXlsxWriter(context: TestContext, system: string, strings: string): Uint8Array {
  return withFolder((folder) => {
    runPython(context, ['xlsxwriter'], XLSXWRITER, join(folder, 'book.xlsx'), system, strings);
    return new Uint8Array(readFileSync(join(folder, 'book.xlsx')));
  });
}

function byGnumeric(context: TestContext, bytes: Uint8Array, exporter: string): Uint8Array {
  needGnumeric(context);
  return withFolder((folder) => {
    writeFileSync(join(folder, 'book.xlsx'), bytes);
    execFileSync('ssconvert', [`--export-type=${exporter}`, join(folder, 'book.xlsx'), join(folder, 'out.xlsx')], { stdio: 'pipe', timeout: 60_000 });
    return new Uint8Array(readFileSync(join(folder, 'out.xlsx')));
  });
}

/** The workbook in the namespaces of ECMA-376 Part 1 (strict) in place of those of Part 4 (transitional). */
async function strict(bytes: Uint8Array): Promise<Uint8Array> {
  const parts = [...(await workbookParts(bytes))].map(([path, text]) => [path, text.replaceAll('http://schemas.openxmlformats.org/spreadsheetml/2006/main', 'http://purl.oclc.org/ooxml/spreadsheetml/main').replaceAll('http://schemas.openxmlformats.org/officeDocument/2006/relationships', 'http://purl.oclc.org/ooxml/officeDocument/relationships')]);
  return makeZip(Object.fromEntries(parts) as Record<string, string>);
}

/** The workbook with every element of its sheets, strings, styles and workbook part under a prefix. */
async function prefixed(bytes: Uint8Array): Promise<Uint8Array> {
  const parts = [...(await workbookParts(bytes))].map(([path, text]) => [path, /^xl\/(?:workbook|styles|sharedStrings|worksheets\/\w+)\.xml$/.test(path) ? text.replace(/<(\/?)([A-Za-z]\w*)(?=[\s/>])/g, '<$1x:$2').replace(' xmlns="', ' xmlns:x="') : text]);
  return makeZip(Object.fromEntries(parts) as Record<string, string>);
}

/** Every cell is what openpyxl reads there. */
async function expectSame(bytes: Uint8Array, printed: Printed): Promise<void> {
  const { sheets } = await openXlsx(bytes);
  expect(sheets.map(({ name, state }) => [name, state])).toStrictEqual(printed.map(([name, state]) => [name, state]));
  let cells = 0;
  for (const [index, [, , rows]] of printed.entries()) {
    const found = new Map((await all(sheets[index]!.table().rows)).map((row) => [row.number, row.cells]));
    for (const [number, expected] of rows) {
      for (const [column, wanted] of expected.entries()) {
        const cell = found.get(number)?.[column] ?? null;
        if (typeof wanted === 'object' && wanted !== null) {
          expect(cell).toMatchObject({ format: expect.any(String) as string });
          expect(plainValue(cell)).toBeCloseTo(wanted.serial, 9);
        } else expect([number, column, cell]).toStrictEqual([number, column, wanted]);
        if (cell !== null) cells += 1;
      }
    }
  }
  expect(cells).toBe(31);
}

/** What the readings come to; the workbook above says the same in every system and from every program. */
async function expectReadings(bytes: Uint8Array): Promise<void> {
  const { evaluations, problems } = await evaluateReadings(bytes, { name: 'book.xlsx' });
  expect(evaluations.map(({ unit, inspected_on, measures }) => [unit, inspected_on, measures['cut_in'], measures['governor_span']])).toStrictEqual([
    ['K-1', '2024-02-01', 99, 20],
    ['K-2', '2024-02-02', 100, 20],
    ['K-3', '2024-02-29', 101, 20],
  ]);
  expect(problems.filter(({ code }) => code === 'left_alone')).toStrictEqual([]);
}

describe.each([['1900', 'shared'], ['1904', 'shared'], ['1900', 'inline'], ['1904', 'inline']])('a workbook by XlsxWriter, %s system, %s strings', (system, strings) => {
  it('reads cell by cell as openpyxl reads it, in strict namespaces and under prefixes too, and evaluates', async (context) => {
    const bytes = byXlsxWriter(context, system, strings);
    expect((await openXlsx(bytes)).date1904).toBe(system === '1904');
    const printed = byOpenpyxl(context, bytes);
    for (const one of [bytes, await strict(bytes), await prefixed(bytes)]) {
      await expectSame(one, printed);
      await expectReadings(one);
    }
  }, 60_000);

  it('saved by Gnumeric, in either edition of the format, does so too', async (context) => {
    for (const exporter of ['Gnumeric_Excel:xlsx', 'Gnumeric_Excel:xlsx2']) {
      const bytes = byGnumeric(context, byXlsxWriter(context, system, strings), exporter);
      await expectSame(bytes, byOpenpyxl(context, bytes));
      await expectReadings(bytes);
    }
  }, 60_000);
});
