import { PassThrough } from 'node:stream';
import ExcelJS from 'exceljs';
import { describe, expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { all } from './csv-text.js';
import { exceljsRows, expectSameRows, plainRows } from './exceljs-rows.js';

// exceljs 4.4.0 writes the file and reads it back; its reading is what ours is held against.
function everyKind(date1904: boolean): ExcelJS.Workbook {
  const workbook = new ExcelJS.Workbook();
  workbook.properties.date1904 = date1904;
  const sheet = workbook.addWorksheet('Readings');
  sheet.addRow(['text', ' spaced ', '', 'a\nb', '<&>"\'', '😀 é', '_x0041', '=1+1', "'=1+1"]);
  sheet.addRow([0, -0.5, 1e-7, 1.5e300, 123456789012345, 0.1]);
  sheet.addRow([true, false, null, null, 'after blanks']);
  sheet.addRow([]);
  sheet.addRow([new Date(Date.UTC(2024, 1, 29)), new Date(Date.UTC(2024, 1, 29, 4, 10, 30)), new Date(Date.UTC(1999, 11, 31, 23, 59, 59))]);
  sheet.getCell('A6').value = { formula: 'A2+1', result: 1 };
  sheet.getCell('B6').value = { formula: 'A5', result: new Date(Date.UTC(2024, 1, 29)) };
  sheet.getCell('B6').numFmt = 'yyyy-mm-dd';
  sheet.getCell('C6').value = { formula: '1/0', result: { error: '#DIV/0!' } };
  sheet.getCell('D6').value = { formula: '"x"&"y"', result: 'xy' };
  sheet.getCell('E6').value = { formula: 'TRUE', result: true };
  sheet.getCell('F6').value = { formula: 'A1' };
  sheet.getCell('G6').value = { error: '#N/A' };
  sheet.getCell('A7').value = { richText: [{ font: { bold: true }, text: 'rich ' }, { text: 'text' }] };
  sheet.getCell('B7').value = { text: 'link', hyperlink: 'https://example.org' };
  const formats = ['h:mm', '[h]:mm:ss', '0.0" psi"', 'd/m/yy', 'mm:ss.0', '#,##0.00', '@', 'General', 'm/d/yy h:mm', '[Red]0.0', '[$-409]h:mm AM/PM', '0.00E+00', '"due "d" "mmm'];
  formats.forEach((format, index) => {
    const cell = sheet.getCell(8, index + 1);
    cell.value = 0.173611111111111 + index;
    cell.numFmt = format;
  });
  sheet.getCell('C12').value = 'far';
  sheet.getRow(14).height = 30;
  sheet.mergeCells('E9:F10');
  sheet.getCell('E9').value = 'merged';
  const other = workbook.addWorksheet('Other & more', { state: 'hidden' });
  for (let row = 1; row <= 3000; row += 1) other.addRow([`T-${row}`, row, row / 7, row % 2 === 0, new Date(Date.UTC(2024, 0, row))]);
  return workbook;
}

describe.each([false, true])('a workbook by exceljs, 1904 system: %s', (date1904) => {
  it('reads cell by cell as exceljs reads it', async () => {
    const bytes = Buffer.from(await everyKind(date1904).xlsx.writeBuffer());
    const book = await openXlsx(bytes);
    const expected = await exceljsRows(bytes);
    expect(book.date1904).toBe(date1904);
    expect(book.sheets.map((sheet) => sheet.name)).toStrictEqual(Object.keys(expected));
    for (const sheet of book.sheets) {
      const theirs = expected[sheet.name];
      // exceljs repeats the value of a merged range in each of its cells; the file, and we, hold it once.
      if (sheet.name === 'Readings' && theirs) {
        expect(theirs[9]).toStrictEqual([null, null, null, null, 'merged', 'merged']);
        expect(theirs[10]).toStrictEqual([null, null, null, null, 'merged', 'merged']);
        theirs[9] = [null, null, null, null, 'merged'];
        delete theirs[10];
      }
      expectSameRows(plainRows(await all(sheet.table().rows), date1904), theirs);
    }
  });
});

it('reads shared strings and streamed workbooks by exceljs', async () => {
  for (const useSharedStrings of [true, false]) {
    const chunks: Buffer[] = [];
    const stream = new PassThrough();
    stream.on('data', (chunk: Buffer) => chunks.push(chunk));
    const writer = new ExcelJS.stream.xlsx.WorkbookWriter({ stream, useSharedStrings, useStyles: true });
    const sheet = writer.addWorksheet('S');
    for (let row = 1; row <= 500; row += 1) sheet.addRow([`T-${row % 10}`, row, new Date(Date.UTC(2024, 0, row))]).commit();
    sheet.commit();
    await writer.commit();
    const bytes = Buffer.concat(chunks);
    const book = await openXlsx(bytes);
    expectSameRows(plainRows(await all(book.sheets[0]!.table().rows), false), (await exceljsRows(bytes))['S']);
  }
});

// Without text in quotes, whose letters exceljs would move too.
it('writes shared formulas out as exceljs does', async () => {
  const workbook = new ExcelJS.Workbook();
  const sheet = workbook.addWorksheet('S');
  sheet.fillFormula('B2:D40', 'A1*$A$1+SUM(A$1:A2)-IF($A3>0,B2,0)', (row: number, column: number) => row * column);
  const bytes = Buffer.from(await workbook.xlsx.writeBuffer());
  const again = new ExcelJS.Workbook();
  await again.xlsx.load(bytes as unknown as ExcelJS.Buffer);
  const rows = await all((await openXlsx(bytes)).sheets[0]!.rowsWithFormulas());
  expect(rows).toHaveLength(39);
  for (const { number, formulas, cells } of rows) {
    const read = again.getWorksheet('S')!.getRow(number);
    expect(formulas).toStrictEqual([null, ...[2, 3, 4].map((column) => read.getCell(column).formula)]);
    expect(cells).toStrictEqual([null, ...[2, 3, 4].map((column) => read.getCell(column).result)]);
  }
});
