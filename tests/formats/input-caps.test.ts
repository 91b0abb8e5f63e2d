import { describe, expect, it } from 'vitest';
import { capsOf, INPUT_CAPS } from '../../src/formats/input-caps.js';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { readCsv } from '../../src/formats/read-csv.js';
import { readJson } from '../../src/formats/read-json.js';
import { all } from './csv-text.js';
import { makeXlsx, sheetXml, stringsXml, workbookXml, xlsxParts } from './make-xlsx.js';

const usage = (where: string, what: string): unknown => expect.objectContaining({ code: 'usage', where, what });

describe('the caps', () => {
  it('say of what each is the most, in numbers above zero', () => {
    for (const caps of Object.values(INPUT_CAPS)) {
      for (const { most, of } of Object.values(caps) as { most: number; of: string }[]) {
        expect(most).toBeGreaterThan(0);
        expect(of).toMatch(/^[a-z].*[a-z]$/);
      }
    }
  });

  it('hold a spreadsheet\'s own limits (Microsoft, "Excel specifications and limits")', () => {
    const { rows, columns, stringLength } = capsOf('xlsx');
    expect([rows, columns, stringLength]).toStrictEqual([1_048_576, 16_384, 32_767]);
  });

  it('let a million rows of ours be read back', () => {
    // Measured on an evaluated workbook of 50,000 inspections: 8,519 bytes and 127 cells a row in its longest sheet, 9,758 bytes a row in all parts.
    const { rows, partBytes, totalBytes, cells, inflation } = capsOf('xlsx');
    expect(partBytes).toBeGreaterThan(1.5 * 8_519 * rows);
    expect(totalBytes).toBeGreaterThan(1.5 * 9_758 * rows);
    expect(cells).toBeGreaterThan(1.4 * 127 * rows);
    // The same workbook is inflated to 9.8 times its size.
    expect(inflation).toBeGreaterThan(5 * 9.8);
  });

  it('are set otherwise one by one, and refuse what is none', () => {
    expect(capsOf('csv', { columns: 50, records: undefined })).toStrictEqual({ fieldLength: 1_000_000, recordLength: 16_777_216, columns: 50, records: 10_000_000 });
    for (const value of [0, -1, Number.NaN, '5']) expect(() => capsOf('csv', { columns: value as number })).toThrow(usage('cap csv.columns', `${value} is no number above zero`) as Error);
    expect(() => capsOf('csv', { colums: 5 } as object)).toThrow(expect.objectContaining({ code: 'usage', mend: 'did you mean csv.columns?' }) as Error);
  });
});

const ROWS = '<row r="1"><c r="A1" t="s"><v>0</v></c><c r="C1" t="inlineStr"><is><t>abc</t></is></c></row><row r="2"><c r="A2"><f>1+1</f><v>2</v></c><c r="B2"><f t="shared" ref="B2:B3" si="0">A2*2</f><v>4</v></c></row><row r="3"><c r="B3"><f t="shared" si="0"/><v>6</v></c></row>';
const AROUND = '<mergeCells><mergeCell ref="A1:B1"/><mergeCell ref="A2:B2"/></mergeCells><dataValidations><dataValidation sqref="A1"/><dataValidation sqref="A2"/></dataValidations>';

async function readEverything(caps: Partial<Record<keyof (typeof INPUT_CAPS)['xlsx'], number>>): Promise<number> {
  const names = '<definedNames><definedName name="a">S!$A$1</definedName><definedName name="b">S!$A$1</definedName></definedNames>';
  const bytes = await makeXlsx('', {
    'xl/workbook.xml': workbookXml(`<sheets><sheet name="S" sheetId="1" r:id="rId1"/></sheets>${names}`),
    'xl/sharedStrings.xml': stringsXml('<si><t>ab</t></si><si><t>c</t></si>'),
    'xl/worksheets/sheet1.xml': sheetXml(ROWS).replace('</sheetData>', `</sheetData>${AROUND}<x/><x/>`),
  });
  const book = await openXlsx(bytes, { name: 'fleet.xlsx', ...caps });
  return (await all(book.sheets[0]!.rowsWithFormulas())).length;
}

describe('a workbook', () => {
  // Beside each cap: the most that this workbook needs, and what is said one below it.
  it.each([
    ['entries', Object.keys(xlsxParts('')).length + 1, /^the zip holds more than \d+ entries$/],
    ['rows', 3, 'the row number 3 is beyond the 2 rows of a sheet'],
    ['columns', 3, 'the next cell, C1, is beyond the 2 columns of a sheet'],
    ['cells', 5, 'there are more than 4 cells in the sheet'],
    ['blanks', 2, 'there are more than 1 cells left out before later ones'],
    ['rowLength', 7, 'there are more than 6 characters in the row'],
    ['stringLength', 4, 'the text is longer than 3 characters'],
    ['sharedStrings', 2, 'there are more than 1 shared strings'],
    ['expandedFormulas', 4, 'the shared formulas come to more than 3 characters'],
    ['names', 2, 'there are more than 1 defined names'],
    ['merges', 2, 'there are more than 1 merged ranges'],
    ['validations', 2, 'there are more than 1 data validations'],
  ] as const)('is held to the cap on %s', async (cap, needed, what) => {
    expect(await readEverything({ [cap]: needed })).toBe(3);
    await expect(readEverything({ [cap]: needed - 1 })).rejects.toMatchObject({ code: 'input_unreadable', what: typeof what === 'string' ? what : (expect.stringMatching(what) as string), mend: expect.any(String) as string });
  });

  it.each([['fileBytes', 500, /^the file holds more than 500 bytes$/], ['partBytes', 300, /^the part holds more than 300 bytes$/], ['smallPartBytes', 200, /^the part holds more than 200 bytes$/], ['totalBytes', 900, /^its parts hold more than 900 bytes$/], ['elements', 3, /^(?:the XML holds|there are) more than 3 elements/], ['xmlDepth', 3, /^the XML is nested more than 3 deep$/]] as const)('is held to the cap on %s', async (cap, most, what) => {
    await expect(readEverything({ [cap]: most })).rejects.toMatchObject({ code: 'input_unreadable', what: expect.stringMatching(what) as string, mend: `if you trust the file, raise the cap xlsx.${cap} above ${most}` });
  });
});

describe('CSV and JSON', () => {
  const csv = async (caps: Record<string, number>): Promise<number> => {
    const chunks = (async function* () {
      yield Buffer.from('unit,cut_in\nK-1,99\nK-2,98\n');
    })();
    return (await all((await readCsv(chunks, { name: 'fleet.csv', delimiter: ',', caps })).rows)).length;
  };
  it.each([['fieldLength', 6, 'the field is longer than 5 characters'], ['columns', 2, 'the record has more than 1 columns'], ['records', 3, 'there are more than 2 records'] ] as const)('hold CSV to the cap on %s', async (cap, needed, what) => {
    expect(await csv({ [cap]: needed })).toBe(3);
    await expect(csv({ [cap]: needed - 1 })).rejects.toMatchObject({ code: 'input_unreadable', what, mend: expect.any(String) as string });
  });

  it('hold a CSV record to its cap where it does not end', async () => {
    const chunks = (async function* () {
      yield Buffer.from('a,'.repeat(40_000));
    })();
    await expect(all((await readCsv(chunks, { delimiter: ',', caps: { recordLength: 1000, columns: 1e9 } })).rows)).rejects.toMatchObject({ code: 'input_unreadable', what: 'the record is longer than 1000 characters' });
  });

  const json = (caps: Record<string, number>): string => readJson('{"inspections":[{"unit":"K-1","notes":"a \\"[[[[ b"},{"unit":"K-2","cut_in":98}]}', 'fleet.json', caps).sheet;
  it.each([
    ['fileBytes', 80, 'there are more than 79 bytes'],
    ['depth', 3, 'there are more than 2 lists and objects inside one another'],
    ['records', 2, 'there are more than 1 inspections'],
    ['columns', 3, 'there are more than 2 different keys'],
    ['cells', 6, 'there are more than 5 inspections times different keys'],
    ['fieldLength', 9, 'there are more than 8 characters in one value'],
  ] as const)('hold JSON to the cap on %s', (cap, needed, what) => {
    expect(json({ [cap]: needed })).toBe('');
    expect(() => json({ [cap]: needed - 1 })).toThrow(expect.objectContaining({ code: 'input_unreadable', what, mend: `if you trust the file, raise the cap json.${cap} above ${needed - 1}` }) as Error);
  });

  it('refuse lists a million deep before they are parsed', () => {
    expect(() => readJson('['.repeat(1_000_000), 'fleet.json')).toThrow(expect.objectContaining({ code: 'input_unreadable', what: 'there are more than 32 lists and objects inside one another' }) as Error);
  });
});
