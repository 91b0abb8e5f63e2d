import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { capsOf } from '../../../src/formats/input-caps.js';
import { SheetReader } from '../../../src/formats/xlsx-reader/sheet-reader.js';
import type { SheetContext } from '../../../src/formats/xlsx-reader/sheet-context.js';
import { SheetXmlReader } from '../../../src/formats/xlsx-reader/sheet-xml-reader.js';
import { XmlReader } from '../../../src/formats/xlsx-reader/xml-reader.js';

const caps = capsOf('xlsx', { rows: 60, columns: 40, cells: 120, blanks: 90, stringLength: 30, rowLength: 400 });
const FORMULAS = ['left out', 'written out', 'as stored'] as const;

function contextOf(formulas: SheetContext['formulas'], onFormula: SheetContext['onFormula']): SheetContext {
  return { caps, strings: ['nought', 'one', 'long '.repeat(40)], dateFormats: [null, 'yyyy-mm-dd', null], where: 'book.xlsx, sheet S', marksShared: true, onFormula, formulas };
}

type Outcome = { readonly rows: unknown } | { readonly rows: unknown; readonly error: string };

/** The rows of a sheet's XML given in pieces, and the error that ended them. */
function read(xml: string, pieces: readonly number[], formulas: SheetContext['formulas'], scanned: boolean): Outcome {
  const looked: (readonly [text: string, cell: string])[] = [];
  const context = contextOf(formulas, (text, cell) => void looked.push([text, cell]));
  const sheet = new SheetReader(context);
  const reader = scanned ? new SheetXmlReader(sheet, context) : new XmlReader(sheet, caps, sheet.where);
  const bytes = Buffer.from(xml);
  const told = (): { readonly rows: unknown } => ({ rows: [sheet.rows, sheet.storedRows, sheet.hiddenColumns, looked] });
  try {
    const cuts = [...new Set(pieces.map((share) => Math.floor(share * bytes.length)))].sort((a, b) => a - b);
    for (const [index, cut] of [0, ...cuts].entries()) reader.write(bytes.subarray(cut, cuts[index] ?? bytes.length));
    reader.end();
    return told();
  } catch (error) {
    return { ...told(), error: (error as Error).message };
  }
}

const text = fc.oneof(fc.constantFrom('', 'pass', ' a ', 'a &amp; b', '&lt;', '&#65;', '&no;', '_x000D_', 'näh', '\u{1f68c}', 'x'.repeat(31), ']]>', 'a\nb', 'a\r\nb', '\u0001', '<b/>', '<![CDATA[a]]>', '<!-- c -->'), fc.string({ maxLength: 5 }));
const number = fc.oneof(fc.constantFrom('0', '1', '2', '-0', '1.50', '-2.25', '007', '1e3', '1.', '.5', '', ' 4 ', 'NaN', '0x10', '12345678901234567', '46000', '0.1', '1.2.3', '--1'), fc.integer().map(String), fc.double({ noNaN: true, noDefaultInfinity: true }).map(String));
const letters = fc.constantFrom('A', 'B', 'C', 'Z', 'AA', 'AN', 'AO', 'a', 'XFD', 'AAAA', '');

function cellOf(row: string): fc.Arbitrary<string> {
  const attributes = fc.tuple(letters, fc.constantFrom('', ' s="1"', ' s="0"', ' s="9"', ' s="x"', ' s="1" s="1"', ' cm="1"'), fc.constantFrom('', ' t="n"', ' t="s"', ' t="str"', ' t="b"', ' t="e"', ' t="d"', ' t="inlineStr"', " t='str'", ' t="other"'), fc.constantFrom(row, row, row, row, '2', ''));
  const formula = fc.oneof(
    { weight: 6, arbitrary: fc.constant('') },
    { weight: 4, arbitrary: fc.constantFrom('<f>A1+1</f>', '<f t="shared" si="0" ref="A1:A9">A1&amp;"x"</f>', '<f t="shared" si="0"/>', '<f t="shared" si="00"/>', '<f t="shared" si="7"/>', '<f/>', '<f>WEBSERVICE(A1)</f>', '<f>HYPERLINK(&quot;a&quot;)</f>', '<f t="array" ref="A1">SUM(A1:A2)</f>', '<f t="shared" si="0" ca="1"/>', '<f><b/></f>') },
  );
  const value = fc.oneof(
    { weight: 3, arbitrary: number.map((one) => `<v>${one}</v>`) },
    { weight: 2, arbitrary: text.map((one) => `<v>${one}</v>`) },
    { weight: 2, arbitrary: text.map((one) => `<is><t xml:space="preserve">${one}</t></is>`) },
    { weight: 2, arbitrary: fc.constantFrom('', '<v/>', '<v />', '<v>1</v><v>2</v>', '<is><r><t>a</t></r><r><t>b</t></r></is>', '<is/>', '<extLst/>', '<v>1</v>\n') },
  );
  return fc.tuple(attributes, formula, value).map(([[letter, style, type, at], f, v]) => (f + v === '' ? `<c r="${letter}${at}"${style}${type}/>` : `<c r="${letter}${at}"${style}${type}>${f}${v}</c>`));
}

/** In any order, and in that of their columns, each once. */
function cells(row: string): fc.Arbitrary<string[]> {
  const any = fc.array(cellOf(row), { maxLength: 5 });
  const rank = (cell: string): string => (/r="([A-Za-z]*)/.exec(cell)?.[1] ?? '').padStart(4);
  return fc.oneof({ weight: 1, arbitrary: any }, { weight: 5, arbitrary: any.map((all) => [...new Map(all.map((cell) => [rank(cell), cell])).entries()].sort((a, b) => (a[0] < b[0] ? -1 : 1)).map(([, cell]) => cell)) });
}

const rowXml = fc.integer({ min: 1, max: 9 }).chain((number) =>
  fc.tuple(fc.constantFrom('', ' spans="1:3"', ' ht="0"', ' hidden="1"', ' ht="15" customHeight="1" x14ac:dyDescent="0.25"', ' ht="1" ht="2"', " ht='3'", ' a="<"'), cells(String(number)), fc.constantFrom('', '', '', ' ', '\n  ', '<!-- <row r="3"> -->', 'text', '<x/>')).map(([attributes, cells, between]) =>
    cells.length === 0 ? `<row r="${number}"${attributes}/>${between}` : `<row r="${number}"${attributes}>${cells.join('')}</row>${between}`,
  ),
);

const orderly = fc.array(rowXml, { maxLength: 8 }).map((rows) => [...rows].sort((a, b) => (/r="(\d)/.exec(a)![1]! < /r="(\d)/.exec(b)![1]! ? -1 : 1)));
const sheetXml = fc
  .tuple(fc.constantFrom('', '<?xml version="1.0" encoding="UTF-8"?>\n', '<?xml version="1.1"?>', '\ufeff'), fc.constantFrom('', '<cols><col min="2" max="3" hidden="1"/></cols>', '<sheetData/>'), fc.oneof(orderly, fc.array(rowXml, { maxLength: 4 })), fc.constantFrom('</sheetData></worksheet>', '</sheetData><mergeCells><row r="1"></row></mergeCells></worksheet>', '</sheetData>', '</worksheet>'))
  .map(([head, before, rows, tail]) => `${head}<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">${before}<sheetData>${rows.join('')}${tail}`);
/** One character put elsewhere, taken out or doubled, as where a file was damaged. */
const damaged = fc.tuple(sheetXml, fc.double({ min: 0, max: 0.999, noNaN: true }), fc.constantFrom('', '<', '>', '"', '&', ' ', '/', 'r', '1', '\u0000')).map(([xml, share, put]) => {
  const at = Math.floor(share * xml.length);
  return xml.slice(0, at) + put + xml.slice(at + 1);
});
const pieces = fc.array(fc.double({ min: 0, max: 0.999, noNaN: true }), { maxLength: 4 });

describe('rows that are scanned', () => {
  test.each([['orderly or odd', sheetXml, 3000], ['damaged', damaged, 3000]] as const)('come out as by the parser for any XML: %s', (_name, xml, numRuns) => {
    const told = { rows: 0, errors: 0 };
    fc.assert(
      fc.property(xml, pieces, fc.constantFrom(...FORMULAS), (sheet, cuts, formulas) => {
        const expected = read(sheet, cuts, formulas, false);
        expect(read(sheet, cuts, formulas, true)).toStrictEqual(expected);
        told['error' in expected ? 'errors' : 'rows'] += 1;
      }),
      { numRuns, seed: 20261125 },
    );
    expect(told.rows).toBeGreaterThan(30);
    expect(told.errors).toBeGreaterThan(100);
  });

  test('may be cut at any byte', () => {
    const sheet = '<worksheet><sheetData><row r="1" ht="0"><c r="A1" t="str"><f t="shared" ref="A1:A2" si="0">B1&amp;"é"</f><v>a &lt; é</v></c><c r="C1" s="1"><v>46000</v></c></row>\n<row r="2"><c r="A2"><f t="shared" si="0"/><v>-1.5</v></c></row></sheetData></worksheet>';
    const expected = read(sheet, [], 'as stored', false);
    const bytes = Buffer.byteLength(sheet);
    for (let cut = 1; cut < bytes; cut++) expect(read(sheet, [(cut + 0.5) / bytes], 'as stored', true)).toStrictEqual(expected);
  });
});
