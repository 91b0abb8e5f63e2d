import ExcelJS from 'exceljs';
import { expect, it } from 'vitest';
import { assembleXlsx } from '../../../src/formats/xlsx-package/assemble-xlsx.js';
import { bytesOf } from '../../workbook/bytes-of.js';
import { workbookParts } from '../../workbook/workbook-parts.js';

// ECMA-376 Part 1, 18.3.1.13: the width of a column counts digits of the font of the style Normal; that font is the first.
it('makes Arial 10 the font in whose digits columns are measured', async () => {
  const book = new ExcelJS.Workbook();
  book.addWorksheet('One').getCell('A1').value = 1;
  book.worksheets[0]!.getCell('A2').font = { name: 'Courier New', size: 12 };
  const styles = (await workbookParts(await bytesOf(assembleXlsx({ template: new Uint8Array(await book.xlsx.writeBuffer()), fills: [] })))).get('xl/styles.xml')!;
  const fonts = styles.match(/<font>.*?<\/font>/g)!;
  expect([fonts[0]!.includes('"Arial"'), fonts[0]!.includes('sz val="10"')]).toStrictEqual([true, true]);
  expect([styles.includes('Calibri'), fonts.some((font) => font.includes('Courier New'))]).toStrictEqual([false, true]);
});
