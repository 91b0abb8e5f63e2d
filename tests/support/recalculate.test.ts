import ExcelJS from 'exceljs';
import { describe, expect, it, vi } from 'vitest';
import { recalculate, requireOutside } from './recalculate.js';

async function bookOf(fill: (sheet: ExcelJS.Worksheet) => void): Promise<Uint8Array> {
  const book = new ExcelJS.Workbook();
  fill(book.addWorksheet('One'));
  book.addWorksheet('Two').getCell('B2').value = { formula: 'One!A1&"!"' };
  return new Uint8Array(await book.xlsx.writeBuffer());
}

describe('recalculate', () => {
  it('computes every sheet', { timeout: 120_000 }, async (context) => {
    requireOutside(context, 'soffice');
    const sheets = await recalculate(
      await bookOf((sheet) => {
        sheet.getCell('A1').value = { formula: '1/3' };
        sheet.getCell('B1').value = { formula: '1/0' };
        sheet.getCell('C1').value = { formula: 'IF(1=1,"","x")' };
        sheet.getCell('D1').value = 'a "b", c';
      }),
    );
    expect(sheets.get('One')).toStrictEqual([['0.333333333333333', '#DIV/0!', '', 'a "b", c'], ['']]);
    expect(sheets.get('Two')![1]).toStrictEqual(['', '0.333333333333333!']);
  });

  it('refuses a workbook that holds stored results', async () => {
    const bytes = await bookOf((sheet) => {
      sheet.getCell('A1').value = { formula: '1+1', result: 999 };
    });
    await expect(recalculate(bytes)).rejects.toThrow('sheet1.xml holds stored results');
  });
});

describe('requireOutside', () => {
  const missing = 'no-such-program-here';

  it('skips with the reason where the program is missing, and fails where it is required', () => {
    const skip = vi.fn();
    vi.stubEnv('REQUIRE_OUTSIDE', '');
    requireOutside({ skip }, missing);
    expect(skip).toHaveBeenCalledExactlyOnceWith(`${missing} is not installed`);
    vi.stubEnv('REQUIRE_OUTSIDE', '1');
    expect(() => requireOutside({ skip }, missing)).toThrow(`${missing} is required and is not installed`);
    vi.unstubAllEnvs();
  });

  it('does nothing where it is there', () => {
    const skip = vi.fn();
    requireOutside({ skip }, 'node');
    expect(skip).not.toHaveBeenCalled();
  });
});
