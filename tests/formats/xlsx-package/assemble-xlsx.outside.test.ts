import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { assembleXlsx } from '../../../src/formats/xlsx-package/assemble-xlsx.js';
import { collect, computeWithLibreOffice, DATA_ROWS, FIRST_ROW, inFolder, makeRows, makeTemplate, runOpenpyxl } from './support.js';

const SHEET = "Driver's test";
let template: Uint8Array;
beforeAll(async () => {
  template = await makeTemplate();
});

async function assemble(sharedFormulas: boolean, withoutResults: boolean): Promise<Buffer> {
  const fills = [{ sheet: SHEET, templateRow: FIRST_ROW, count: DATA_ROWS, rows: makeRows(), sharedFormulas }];
  return collect(assembleXlsx({ template, fills, withoutResults }));
}

function shown(value: string | number | boolean | null): string {
  return typeof value === 'boolean' ? String(value).toUpperCase() : String(value ?? '');
}

const DUMP = `
import json, sys, openpyxl
book = openpyxl.load_workbook(sys.argv[1], data_only=sys.argv[2] == 'values')
sheet = book["Driver's test"]
def plain(value):
    return value.text if hasattr(value, 'text') else value
print(json.dumps({'dimensions': sheet.dimensions, 'rows': [[plain(cell.value) for cell in row] for row in sheet.iter_rows(min_row=4)]}))
`;

describe('assembleXlsx, seen by other programs', () => {
  it('has formulas that LibreOffice computes to the stored results, shared or not', { timeout: 240_000 }, async (context) => {
    const expected = [...makeRows()].map((row) => row.map(shown));
    for (const shared of [true, false]) {
      const sheets = computeWithLibreOffice(context, await assemble(shared, true));
      if (sheets === undefined) return;
      const rows = [...sheets].find(([name]) => name.startsWith('Driver'))?.[1] ?? [];
      expect(rows.slice(FIRST_ROW - 1, FIRST_ROW - 1 + DATA_ROWS)).toStrictEqual(expected);
      expect(sheets.get('Start here')?.slice(0, 3).map((row) => row[0])).toStrictEqual(['Start', '1000', '14']);
    }
  });

  it('holds the values and results that openpyxl reads', { timeout: 60_000 }, async (context) => {
    const bytes = await assemble(true, false);
    const output = inFolder((folder) => {
      const path = join(folder, 'book.xlsx');
      writeFileSync(path, bytes);
      return runOpenpyxl(context, DUMP, path, 'values');
    });
    if (output === undefined) return;
    const { dimensions, rows } = JSON.parse(output) as { dimensions: string; rows: unknown[] };
    expect(dimensions).toBe('A1:K1003');
    // openpyxl gives None for an empty text.
    expect(rows).toStrictEqual([...makeRows()].map((row) => row.map((value) => (value === '' ? null : value))));
  });

  it('shifts formulas as openpyxl translates the shared ones', { timeout: 60_000 }, async (context) => {
    const books = [await assemble(true, false), await assemble(false, false)];
    const outputs = inFolder((folder) =>
      books.map((bytes, index) => {
        const path = join(folder, `book${index}.xlsx`);
        writeFileSync(path, bytes);
        return runOpenpyxl(context, DUMP, path, 'formulas');
      }),
    );
    if (outputs[0] === undefined || outputs[1] === undefined) return;
    const [shared, plain] = outputs.map((output) => (JSON.parse(output ?? '') as { rows: string[][] }).rows);
    expect(plain).toStrictEqual(shared);
    expect(plain?.at(-1)?.[10]).toBe('=IF(ROW()=4,0,A1002)');
  });
});
