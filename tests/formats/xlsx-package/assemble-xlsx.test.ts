import ExcelJS from 'exceljs';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { assembleXlsx, type FillValue, type SheetFill } from '../../../src/formats/xlsx-package/assemble-xlsx.js';
import { addContentType } from '../../../src/formats/xlsx-package/content-types.js';
import { readParts } from '../../../src/formats/xlsx-package/read-parts.js';
import { addRelationship } from '../../../src/formats/xlsx-package/relationships.js';
import { writeZip } from '../../../src/formats/xlsx-package/write-zip.js';
import { cutCellText } from '../../../src/util/cut-cell-text.js';
import { TreadlebookError } from '../../../src/util/treadlebook-error.js';
import { childNames, collect, decodeXstring, FIRST_ROW, makeRows, makeTemplate, unzip } from './support.js';

const SHEET = "Driver's test";

// The children of CT_Worksheet, typed off again from ECMA-376 Part 1, annex A.2.
const SCHEMA =
  'sheetPr dimension sheetViews sheetFormatPr cols sheetData sheetCalcPr sheetProtection protectedRanges scenarios autoFilter ' +
  'sortState dataConsolidate customSheetViews mergeCells phoneticPr conditionalFormatting dataValidations hyperlinks printOptions ' +
  'pageMargins pageSetup headerFooter rowBreaks colBreaks customProperties cellWatches ignoredErrors smartTags drawing legacyDrawing ' +
  'legacyDrawingHF drawingHF picture oleObjects controls webPublishItems tableParts extLst';

let template: Uint8Array;
beforeAll(async () => {
  template = await makeTemplate();
});

function fill(rows: SheetFill['rows'], count: number, more: Partial<SheetFill> = {}): SheetFill {
  return { sheet: SHEET, templateRow: FIRST_ROW, count, rows, ...more };
}

async function load(bytes: Uint8Array): Promise<ExcelJS.Workbook> {
  const book = new ExcelJS.Workbook();
  await book.xlsx.load(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer);
  return book;
}

async function failure(work: Promise<unknown>): Promise<TreadlebookError> {
  const error: unknown = await work.then(
    () => undefined,
    (reason: unknown) => reason,
  );
  expect(error).toBeInstanceOf(TreadlebookError);
  return error as TreadlebookError;
}

describe('assembleXlsx', () => {
  it('writes a thousand rows that exceljs reads back with values, results, styles and row height', async () => {
    const book = await load(await collect(assembleXlsx({ template, fills: [fill(makeRows(), 1000)] })));
    const sheet = book.getWorksheet(SHEET);
    const read: FillValue[][] = [];
    for (let row = FIRST_ROW; row < FIRST_ROW + 1000; row += 1) {
      const values: FillValue[] = [];
      for (let column = 1; column <= 11; column += 1) {
        const cell = sheet?.getRow(row).getCell(column);
        // exceljs gives no result for an empty text.
        values.push(cell?.type === ExcelJS.ValueType.Formula ? ((cell.result as FillValue | undefined) ?? '') : (cell?.value as FillValue));
      }
      read.push(values);
    }
    expect(read).toStrictEqual([...makeRows()]);
    expect(sheet?.getCell('A1003').numFmt).toBe('0.00');
    expect(sheet?.getCell('B1002').font.bold).toBe(true);
    expect(sheet?.getCell('C1003').protection.locked).toBe(false);
    expect(sheet?.getRow(1003).height).toBe(18);
    expect(sheet?.getCell('A1').value).toBe('Readings');
    expect(sheet?.rowCount).toBe(1003);
    expect(sheet?.getCell('E1003').formula).toBe('IF(ISNUMBER(A1003),A1003*2,"")');
  });

  it('writes well-formed parts, children of every worksheet in schema order, and the true dimension', async () => {
    const files = await unzip(await collect(assembleXlsx({ template, fills: [fill(makeRows(), 1000)] })));
    const order = SCHEMA.split(' ');
    let sheets = 0;
    for (const [path, xml] of files) {
      if (!/\.(xml|rels|vml)$/.test(path)) continue;
      const names = childNames(xml);
      if (!path.startsWith('xl/worksheets/sheet')) continue;
      sheets += 1;
      expect(names.map((name) => order.indexOf(name))).toStrictEqual(names.map((name) => order.indexOf(name)).sort((a, b) => a - b));
      expect(new Set(names).size).toBe(names.length);
    }
    expect(sheets).toBe(3);
    expect(childNames(files.get('xl/worksheets/sheet3.xml') ?? '').slice(-3)).toStrictEqual(['drawing', 'legacyDrawing', 'tableParts']);
    expect(files.get('xl/worksheets/sheet2.xml')).toContain('<dimension ref="A1:K1003"/>');
    expect([...files.keys()][0]).toBe('[Content_Types].xml');
  });

  it('shares a formula down the rows, but writes out array formulas and relative references to other sheets', async () => {
    const files = await unzip(await collect(assembleXlsx({ template, fills: [fill(makeRows(), 1000)] })));
    const xml = files.get('xl/worksheets/sheet2.xml') ?? '';
    expect(xml.match(/<f t="shared" ref="([A-Z0-9:]+)" si="[0-9]+">/g)).toStrictEqual([
      '<f t="shared" ref="E4:E1003" si="0">',
      '<f t="shared" ref="F4:F1003" si="1">',
      '<f t="shared" ref="H4:H1003" si="2">',
      '<f t="shared" ref="J4:J1003" si="3">',
      '<f t="shared" ref="K4:K1003" si="4">',
    ]);
    expect(xml).toContain('<c r="G1003" t="b"><f>A1003&gt;Limits!B1001</f><v>1</v></c>');
    expect(xml).toContain('<c r="I1003"><f t="array" ref="I1003">SUM(A$4:A1003*2)</f>');
    expect(xml).toContain('<c r="K5"><f t="shared" si="4"/><v>0</v></c>');
    const plain = await unzip(await collect(assembleXlsx({ template, fills: [fill(makeRows(), 1000, { sharedFormulas: false })] })));
    expect(plain.get('xl/worksheets/sheet2.xml')).not.toContain('t="shared"');
    expect(plain.get('xl/worksheets/sheet2.xml')).toContain('<f>IF(ROW()=4,0,A1002)</f>');
    const one = await unzip(await collect(assembleXlsx({ template, fills: [fill(makeRows(1), 1)] })));
    expect(one.get('xl/worksheets/sheet2.xml')).not.toContain('t="shared"');
  });

  it('keeps the style of blanks, stores empty results, and takes the template row out when there are no rows', async () => {
    const blanks = await unzip(await collect(assembleXlsx({ template, fills: [fill([[], [null, '', null, '']], 2)] })));
    const xml = blanks.get('xl/worksheets/sheet2.xml') ?? '';
    expect(xml).toMatch(/<row r="5" ht="18" customHeight="1"[^>]*><c r="A5" s="\d+"\/><c r="B5" s="\d+"\/><c r="C5" s="\d+"\/><c r="E5" s="\d+" t="str"><f [^>]*\/><v><\/v><\/c>/);
    const none = (await unzip(await collect(assembleXlsx({ template, fills: [fill([], 0)] })))).get('xl/worksheets/sheet2.xml');
    expect(none).toContain('<dimension ref="A1:K3"/>');
    expect(none).not.toContain('<row r="4"');
  });

  it('leaves every stored result out of a twin, and the values in', async () => {
    const files = await unzip(await collect(assembleXlsx({ template, fills: [fill(makeRows(), 1000)], withoutResults: true })));
    for (const path of ['xl/worksheets/sheet1.xml', 'xl/worksheets/sheet2.xml']) {
      expect(files.get(path)).not.toMatch(/<\/f><v>|<f [^>]*\/><v>/);
      expect(files.get(path)).toMatch(/<c r="[A-Z]+\d+"( s="\d+")?><f/);
    }
    expect(files.get('xl/worksheets/sheet1.xml')).toContain('<v>3</v>');
  });

  it('gives the same bytes each time, from rows that wait, and in another time zone', async () => {
    const again = async (): Promise<Buffer> => collect(assembleXlsx({ template, fills: [fill(makeRows(), 1000)] }));
    const first = await again();
    expect((await again()).equals(first)).toBe(true);
    async function* slow(): AsyncGenerator<FillValue[]> {
      for (const row of makeRows()) {
        if (row[3] === 'row 500') await new Promise((done) => setTimeout(done, 30));
        yield row;
      }
    }
    expect((await collect(assembleXlsx({ template, fills: [fill(slow(), 1000)] }))).equals(first)).toBe(true);
    const zone = process.env['TZ'];
    try {
      // Minutes behind UTC on 1980-01-01 by the IANA time zone database; they show that the zone took effect.
      const zones: [string, number][] = [['America/New_York', 300], ['Asia/Kolkata', -330], ['Pacific/Apia', 660]];
      for (const [other, offset] of zones) {
        process.env['TZ'] = other;
        expect(new Date(1980, 0, 1).getTimezoneOffset()).toBe(offset);
        expect((await again()).equals(first)).toBe(true);
      }
    } finally {
      if (zone === undefined) delete process.env['TZ'];
      else process.env['TZ'] = zone;
    }
  });

  it('stamps the dates of the workbook', async () => {
    const core = async (stamp?: Date): Promise<string | undefined> =>
      (await unzip(await collect(assembleXlsx({ template, fills: [fill([], 0)], stamp })))).get('docProps/core.xml')?.replace(/^[\s\S]*?(?=<dcterms)/, '');
    const dated = (date: string): string =>
      `<dcterms:created xsi:type="dcterms:W3CDTF">${date}</dcterms:created><dcterms:modified xsi:type="dcterms:W3CDTF">${date}</dcterms:modified></cp:coreProperties>`;
    expect(await core()).toBe(dated('1980-01-01T00:00:00Z'));
    expect(await core(new Date('2024-02-29T23:30:00Z'))).toBe(dated('2024-02-29T23:30:00Z'));
    expect((await failure(collect(assembleXlsx({ template, fills: [], stamp: new Date(NaN) })))).code).toBe('defect');
  });

  it('brings any text back, once the escapes are undone', { timeout: 60_000 }, async () => {
    const unit = fc.oneof(
      { weight: 4, arbitrary: fc.string({ unit: 'binary', maxLength: 12 }) },
      { weight: 2, arbitrary: fc.constantFrom('_x000D_', '_x', '_x00', '_x0041', '_xAbCd', '\u0001', '\u001f', '\r', '\r\n', '\t', ' ', '\ufffe', '\uffff', '<', '&', '"', "'", ']]>', '_', '\ud83d\ude9a', '\ud83d', '\ude9a') },
    );
    const text = fc.array(unit, { maxLength: 6 }).map((parts) => `a${parts.join('')}`);
    await fc.assert(
      fc.asyncProperty(fc.array(text, { minLength: 1, maxLength: 20 }), async (texts) => {
        const rows = texts.map((one) => [null, one, null, null, one]);
        const bytes = await collect(assembleXlsx({ template, fills: [fill(rows, rows.length)], compressionLevel: 0 }));
        const sheet = (await load(bytes)).getWorksheet(SHEET);
        texts.forEach((one, index) => {
          const expected = one.replace(/\p{Surrogate}/gu, '\ufffd');
          const row = sheet?.getRow(FIRST_ROW + index);
          // exceljs 4.4.0 undoes the escapes of shared strings only.
          expect(decodeXstring(row?.getCell(2).value as string)).toBe(expected);
          // It undoes XML entities twice in results.
          if (!one.includes('&')) expect(decodeXstring(row?.getCell(5).result as string)).toBe(expected);
        });
      }),
      { numRuns: 60 },
    );
  });

  it('keeps characters that the maker of the template writes although XML forbids them', async () => {
    const book = new ExcelJS.Workbook();
    book.addWorksheet('S').getCell('A1').value = 'odd \ufffe end';
    const odd = new Uint8Array(await book.xlsx.writeBuffer());
    const sheet = (await load(await collect(assembleXlsx({ template: odd, fills: [] })))).getWorksheet('S');
    expect(sheet?.getCell('A1').value).toBe('odd \ufffe end');
  });

  it('takes the order of calculation out, with its links', async () => {
    const parts = await readParts(template);
    const chain = 'xl/calcChain.xml';
    parts.set(chain, Buffer.from('<calcChain xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><c r="E4" i="2"/></calcChain>'));
    addContentType(parts, chain, 'application/vnd.openxmlformats-officedocument.spreadsheetml.calcChain+xml');
    addRelationship(parts, 'xl/workbook.xml', 'calcChain', chain);
    const chained = await collect(writeZip([...parts].map(([path, content]) => ({ path, content })), 6));
    expect((await unzip(chained)).get('xl/_rels/workbook.xml.rels')).toContain('calcChain.xml');
    const files = await unzip(await collect(assembleXlsx({ template: chained, fills: [] })));
    expect([...files].filter(([path, xml]) => path === chain || xml.includes('calcChain'))).toStrictEqual([]);
    expect(files.get('xl/_rels/workbook.xml.rels')).toContain('styles.xml');
  });

  it('refuses values that a cell cannot hold, naming the cell', async () => {
    const refuse = async (row: readonly FillValue[]): Promise<string> => {
      const error = await failure(collect(assembleXlsx({ template, fills: [fill([[1], row], 2)] })));
      expect(error.code).toBe('output_unwritable');
      expect(error.mend).not.toBe(undefined);
      return error.where ?? '';
    };
    expect(await refuse([NaN])).toBe("sheet Driver's test, cell A5");
    expect(await refuse([1, 'a', true, null, -Infinity])).toBe("sheet Driver's test, cell E5");
    expect(await refuse(['a'.repeat(32_767), ...Array<null>(16_383).fill(null), 1])).toBe("sheet Driver's test, cell XFE5");
    const most = await unzip(await collect(assembleXlsx({ template, fills: [fill([['a'.repeat(32_767)]], 1)] })));
    expect(most.get('xl/worksheets/sheet2.xml')).toContain('a'.repeat(32_767));
    const longer = await unzip(await collect(assembleXlsx({ template, fills: [fill([['b'.repeat(32_768)]], 1)] })));
    expect(/b{9,}[^<]*/.exec(longer.get('xl/worksheets/sheet2.xml')!)![0]).toBe(cutCellText('b'.repeat(32_768)));
    const rows = await failure(collect(assembleXlsx({ template, fills: [fill([], 1_048_574)] })));
    expect(rows.message).toMatch(/^sheet Driver's test, cell A1048576: 1048574 rows from row 4 on do not fit/);
  });

  it('refuses a formula that would grow too long or point outside the sheet', async () => {
    const grow = async (formula: string, templateRow: number, count: number): Promise<TreadlebookError> => {
      const book = new ExcelJS.Workbook();
      book.addWorksheet('S').getCell(`A${templateRow}`).value = { formula, result: 0 };
      const bytes = new Uint8Array(await book.xlsx.writeBuffer());
      const rows = Array.from({ length: count }, () => [0]);
      return failure(collect(assembleXlsx({ template: bytes, fills: [{ sheet: 'S', templateRow, count, rows }] })));
    };
    // 8,192 characters: Microsoft, "Excel specifications and limits".
    const long = `B9${'+1'.repeat(4095)}`;
    expect(long).toHaveLength(8192);
    expect((await grow(long, 9, 2)).message).toMatch(/^sheet S, cell A10: its formula has 8193 characters/);
    expect((await grow('B1048576', 1, 2)).message).toMatch(/^sheet S, cell A2: its formula points outside the sheet/);
  });

  it('calls it a defect when template, count and rows do not fit together', async () => {
    const refuse = async (fills: SheetFill[]): Promise<string> => {
      const error = await failure(collect(assembleXlsx({ template, fills })));
      expect(error.code).toBe('defect');
      return error.message;
    };
    expect(await refuse([fill([[1]], 2)])).toMatch(/1 rows came where 2 were announced/);
    expect(await refuse([fill([[1], [2]], 1)])).toMatch(/more rows came than the 1 announced/);
    expect(await refuse([fill([[1]], 1, { templateRow: 3 })])).toMatch(/row 4 of the template lies below/);
    expect(await refuse([fill([[1]], 1, { templateRow: 9 })])).toMatch(/no row 9/);
    expect(await refuse([fill([[1]], 1, { sheet: '__proto__' })])).toMatch(/no such sheet/);
    expect(await refuse([fill([[1]], 1), fill([[1]], 1)])).toMatch(/filled twice/);
    expect(await refuse([fill([[1], [...Array<null>(11).fill(null), 5]], 2)])).toMatch(/row 5: the row has more values/);
    expect(await refuse([fill([[{} as unknown as string]], 1)])).toMatch(/cannot hold a value of type object/);
    expect(await refuse([fill([[1]], 1.5)])).toMatch(/1.5 is no count/);
    expect((await failure(collect(assembleXlsx({ template: new Uint8Array(9), fills: [] })))).message).toMatch(/^the template: it cannot be opened/);
  });

  it('passes on the error of the source, and closes the source when the reader stops early', async () => {
    const broken = new Error('the disk is gone');
    async function* failing(): AsyncGenerator<FillValue[]> {
      yield* makeRows(10);
      throw broken;
    }
    await expect(collect(assembleXlsx({ template, fills: [fill(failing(), 1000)] }))).rejects.toBe(broken);

    let taken = 0;
    let closed = false;
    function* endless(): Generator<FillValue[]> {
      try {
        for (;;) {
          taken += 1;
          yield [Math.sin(taken), `text ${Math.cos(taken)}`];
        }
      } finally {
        closed = true;
      }
    }
    let size = 0;
    for await (const chunk of assembleXlsx({ template, fills: [fill(endless(), 1_000_000)] })) {
      size += chunk.length;
      if (size > 200_000) {
        // A slow reader: the source must wait, not run ahead.
        await new Promise((done) => setTimeout(done, 300));
        break;
      }
    }
    await new Promise((done) => setTimeout(done, 100));
    expect(closed).toBe(true);
    expect(taken).toBeLessThan(40_000);
  });
});
