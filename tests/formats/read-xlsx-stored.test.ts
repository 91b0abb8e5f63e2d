import { describe, expect, it } from 'vitest';
import { openXlsx, type StoredRow } from '../../src/formats/read-xlsx.js';
import { makeXlsx, sheetXml } from './make-xlsx.js';

async function stored(rows: string, around = ''): Promise<{ readonly rows: StoredRow[]; readonly hiddenColumns: readonly unknown[] }> {
  const book = await openXlsx(await makeXlsx('', { 'xl/worksheets/sheet1.xml': sheetXml(rows).replace('<sheetData>', `${around}<sheetData>`) }));
  const sheet = book.sheets[0]!.stored();
  const found: StoredRow[] = [];
  for await (const row of sheet.rows) found.push(row);
  return { rows: found, hiddenColumns: sheet.hiddenColumns };
}

describe('a sheet as it is stored', () => {
  it('gives cells that share a formula the same one, and the cell that it is written for (ECMA-376 Part 1, 18.3.1.40)', async () => {
    const { rows } = await stored('<row r="2"><c r="B2"><f t="shared" ref="B2:B3" si="0">A2*2</f><v>4</v></c></row><row r="3"><c r="A3"><v>1</v></c><c r="B3"><f t="shared" si="0"/><v>6</v></c><c r="C3"><f>A3</f></c></row>');
    expect(rows.map(({ number, cells, formulas }) => ({ number, cells, formulas }))).toStrictEqual([
      { number: 2, cells: [null, 4], formulas: [null, { row: 2, column: 2, text: 'A2*2' }] },
      { number: 3, cells: [1, 6], formulas: [null, { row: 2, column: 2, text: 'A2*2' }, { row: 3, column: 3, text: 'A3' }] },
    ]);
    expect(rows[1]!.formulas[1]).toBe(rows[0]!.formulas[1]);
  });

  it('tells rows and columns that do not show', async () => {
    const columns = '<cols><col min="1" max="1" width="9"/><col min="2" max="3" width="9" hidden="1"/><col min="5" max="5" width="0" customWidth="1"/><col min="6" max="6" hidden="false" width="9"/></cols>';
    const { rows, hiddenColumns } = await stored('<row r="1"/><row r="2" hidden="1"/><row r="3" hidden="true"/><row r="4" ht="0" customHeight="1"/><row r="5" hidden="0" ht="12"/><row r="6" hidden="false"/>', columns);
    expect(rows.map(({ hidden }) => hidden)).toStrictEqual([false, true, true, true, false, false]);
    expect(hiddenColumns).toStrictEqual([{ first: 2, last: 3 }, { first: 5, last: 5 }]);
  });

  it('refuses a formula that no earlier cell holds', async () => {
    await expect(stored('<row r="1"><c r="A1"><f t="shared" si="7"/></c></row>')).rejects.toMatchObject({ code: 'input_unreadable' });
  });
});
