import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import type { OpenXlsxOptions } from '../../src/formats/read-xlsx.js';
import { TreadlebookError } from '../../src/util/treadlebook-error.js';
import { makeXlsx, makeZip, relationshipsXml, sheetXml, stringsXml, withRepeated, workbookXml, xlsxParts } from './make-xlsx.js';
import { readBook, readFormulas, readSheet } from './read-book.js';

const ONE = '<row r="1"><c r="A1"><v>1</v></c></row>';
const ONE_ROW = [{ number: 1, cells: [1] }];

/** What reading ends in, which must be rows or a typed error, in less than five seconds. */
async function outcome(bytes: Uint8Array, options: OpenXlsxOptions = {}): Promise<unknown> {
  const start = performance.now();
  const result = await readBook(bytes, { name: 'fleet.xlsx', ...options }).catch((error: unknown) => error);
  expect(performance.now() - start).toBeLessThan(5000);
  if (!(result instanceof Error)) return result;
  expect(result).toBeInstanceOf(TreadlebookError);
  expect(result.message).not.toMatch(/[\r\n]/);
  return result;
}

const refusal = (where: string, what: string | RegExp): unknown =>
  expect.objectContaining({ code: 'input_unreadable', where, what: typeof what === 'string' ? what : expect.stringMatching(what), mend: expect.any(String) });

/** A worksheet with something before its cells and after them. */
const around = (before: string, after: string): Promise<Buffer> =>
  makeXlsx('', { 'xl/worksheets/sheet1.xml': sheetXml(ONE).replace('<sheetData>', `${before}<sheetData>`).replace('</sheetData>', `</sheetData>${after}`) });

describe('harmless here, ruinous elsewhere', () => {
  it.each([
    ['two thousand million columns', '<cols><col min="1" max="2000000000"/></cols>', ''],
    ['a merge over the whole sheet', '', '<mergeCells><mergeCell ref="A1:XFD1048576"/></mergeCells>'],
    ['validation over the whole sheet', '', '<dataValidations><dataValidation sqref="A1:XFD1048576"/></dataValidations>'],
    ['a dimension of the whole sheet', '<dimension ref="A1:XFD1048576"/>', ''],
  ])('%s', async (_case, before, after) => {
    expect(await outcome(await around(before, after))).toStrictEqual({ S: ONE_ROW });
  });

  it('a defined name over the whole sheet', async () => {
    const workbook = workbookXml('<sheets><sheet name="S" sheetId="1" r:id="rId1"/></sheets><definedNames><definedName name="all">S!$A$1:$XFD$1048576</definedName></definedNames>');
    expect(await outcome(await makeXlsx(ONE, { 'xl/workbook.xml': workbook }))).toStrictEqual({ S: ONE_ROW });
  });

  it('800 MB of zeros as a picture', async () => {
    const bytes = withRepeated(ONE, 'xl/media/image1.png', '', '\0', 800_000_000, '');
    expect(await outcome(bytes)).toStrictEqual({ S: ONE_ROW });
  }, 30_000);

  it('a list of shared strings that no cell of an unread sheet asks for', async () => {
    const book = await openXlsx(await makeXlsx(ONE, { 'xl/sharedStrings.xml': '<broken' }));
    expect(book.sheets).toHaveLength(1);
  });
});

describe('places that are none', () => {
  const sheet = 'fleet.xlsx, sheet S';
  it.each([
    ['a row number of 999999999', '<row r="999999999"><c r="A999999999"><v>1</v></c></row>', `${sheet}, after row 0`, 'the row number 999999999 is beyond the 1048576 rows of a sheet'],
    ['a row number that is a word', '<row r="1"/><row r="x"/>', `${sheet}, after row 1`, '"x" is no row number'],
    ['an empty row number', '<row r=""/>', `${sheet}, after row 0`, '"" is no row number'],
    ['a row number of 0', '<row r="0"/>', `${sheet}, after row 0`, '"0" is no row number'],
    ['a negative row number', '<row r="-1"/>', `${sheet}, after row 0`, '"-1" is no row number'],
    ['a row twice', '<row r="2"/><row r="2"/>', sheet, 'row 2 comes after row 2'],
    ['a row backwards', '<row r="2"/><row r="1"/>', sheet, 'row 1 comes after row 2'],
    ['one row too many without numbers', '<row r="1048576"/><row/>', `${sheet}, after row 1048576`, 'the row number 1048577 is beyond the 1048576 rows of a sheet'],
    ['column ZZZZZZ', '<row r="1"><c r="ZZZZZZ1"><v>1</v></c></row>', `${sheet}, row 1`, 'the next cell, ZZZZZZ1, is beyond the 16384 columns of a sheet'],
    ['one column too many', '<row r="1"><c r="XFE1"/></row>', `${sheet}, row 1`, 'the next cell, XFE1, is beyond the 16384 columns of a sheet'],
    ['one column too many without letters', '<row r="1"><c r="XFD1"/><c/></row>', `${sheet}, cell XFD1`, 'the next cell is beyond the 16384 columns of a sheet'],
    ['a cell twice', '<row r="1"><c r="B1"/><c r="B1"/></row>', `${sheet}, cell B1`, 'the cell in column B comes after it'],
    ['a cell of another row', '<row r="1"><c r="A2"/></row>', `${sheet}, row 1`, 'the cell A2 stands in row 1'],
    ['a cell reference that is none', '<row r="1"><c r="A1"/><c r="?"/></row>', `${sheet}, cell A1`, '"?", next to it, is no cell reference'],
    ['an endless cell reference', `<row r="1"><c r="${'A'.repeat(70_000)}1"/></row>`, `${sheet}, row 1`, /beyond the 16384 columns/],
  ])('%s', async (_case, rows, where, what) => {
    expect(await outcome(await makeXlsx(rows))).toStrictEqual(refusal(where, what));
  });

  it('a few far cells that would make a huge table', async () => {
    const far = Array.from({ length: 4000 }, (_, row) => `<row r="${row + 1}"><c r="XFD${row + 1}"><v>1</v></c></row>`).join('');
    expect(await outcome(await makeXlsx(far))).toStrictEqual(refusal(`${sheet}, cell XFD3052`, 'there are more than 50000000 cells left out before later ones'));
  });
});

describe('shared strings', () => {
  it.each(['7', '1', '-1', '0.5', '', ' ', 'length', '__proto__', '1e999'])('number %j of one', async (index) => {
    const bytes = await makeXlsx(`<row r="3"><c r="B3" t="s"><v>${index}</v></c></row>`, { 'xl/sharedStrings.xml': stringsXml('<si><t>a</t></si>') });
    expect(await outcome(bytes)).toStrictEqual(refusal('fleet.xlsx, sheet S, cell B3', /it asks for shared string .*, and the workbook has 1 of them/));
  });

  it('asked for where there are none', async () => {
    expect(await outcome(await makeXlsx('<row><c t="s"><v>0</v></c></row>'))).toStrictEqual(refusal('fleet.xlsx, sheet S, cell A1', /the workbook has 0 of them/));
  });

  it('too many, and too long', async () => {
    const parts = { 'xl/sharedStrings.xml': stringsXml('<si><t>abc</t></si><si><t>d</t></si>') };
    expect(await outcome(await makeXlsx(ONE, parts), { sharedStrings: 1 })).toStrictEqual(refusal('fleet.xlsx, part xl/sharedStrings.xml, string 2', 'there are more than 1 shared strings'));
    expect(await outcome(await makeXlsx(ONE, parts), { stringLength: 2 })).toStrictEqual(refusal('fleet.xlsx, part xl/sharedStrings.xml, string 0', 'the text is longer than 2 characters'));
  });

  it('of 32,767 characters, the longest there may be', async () => {
    const cell = (length: number): Promise<Buffer> => makeXlsx(`<row><c t="inlineStr"><is><t>${'_x000D_'.repeat(length)}</t></is></c></row>`);
    expect(await readSheet(await cell(32_767))).toStrictEqual([{ number: 1, cells: ['\r'.repeat(32_767)] }]);
    expect(await outcome(await cell(32_768))).toStrictEqual(refusal('fleet.xlsx, sheet S, cell A1', 'the text is longer than 32767 characters'));
  });
});

describe('XML', () => {
  const broken = (xml: string | Uint8Array): Promise<Buffer> => makeXlsx('', { 'xl/worksheets/sheet1.xml': xml });
  const bomb = '<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>';

  it.each([
    ['an entity bomb', sheetXml('<row r="1"><c r="A1" t="str"><v>&b;</v></c></row>').replace('?>', `?>${bomb}`), /DOCTYPE/],
    ['an external entity', sheetXml('').replace('?>', '?><!DOCTYPE x SYSTEM "file:///etc/passwd">'), /DOCTYPE/],
    ['an unknown entity', sheetXml('<row r="1"><c r="A1" t="str"><v>&b;</v></c></row>'), /the XML is damaged/],
    ['an end too early', sheetXml(ONE).slice(0, -20), /the XML is damaged/],
    ['tags that cross', sheetXml('<row><c></row></c>'), /the XML is damaged/],
    ['a character that XML has not', sheetXml('<row><c t="str"><v>\ufffe</v></c></row>'), /the XML is damaged/],
    ['an attribute twice', sheetXml('<row r="1" r="2"/>'), /the XML is damaged/],
    ['nothing', '', /the XML is damaged/],
    ['another root', '<html/>', 'the part is not a sheet but <html>'],
    ['bytes that are not UTF-8', Buffer.concat([Buffer.from(sheetXml(ONE)), Buffer.from([0xff])]), 'the XML is not valid UTF-8'],
    ['300 levels', sheetXml('<x>'.repeat(300) + '</x>'.repeat(300)), 'the XML is nested more than 256 deep'],
  ])('with %s', async (_case, xml, what) => {
    expect(await outcome(await broken(xml))).toStrictEqual(refusal(expect.stringMatching(/^fleet\.xlsx, sheet S(?:, .*)?$/) as string, what));
  });

  it('with a DOCTYPE in the workbook part', async () => {
    const workbook = `<!DOCTYPE workbook>${workbookXml('<sheets/>')}`;
    expect(await outcome(await makeXlsx(ONE, { 'xl/workbook.xml': workbook }))).toStrictEqual(refusal('fleet.xlsx, part xl/workbook.xml', /DOCTYPE/));
  });

  it('with a million elements that are neither rows nor cells', async () => {
    expect(await outcome(await broken(sheetXml('<x/>'.repeat(1_000_001))))).toStrictEqual(refusal('fleet.xlsx, sheet S', 'there are more than 1000000 elements here that are neither rows nor cells'));
  });

  it.each([
    ['comments', '<!---->'],
    ['comments and text', '<!-- --> '],
    ['processing instructions', '<?x y?>'],
    ['CDATA', '<![CDATA[ ]]>'],
  ])('with a million %s', async (_case, piece) => {
    expect(await outcome(await broken(sheetXml(piece.repeat(1_000_000))))).toStrictEqual(refusal('fleet.xlsx, sheet S', 'the XML holds an endless run of characters without a tag'));
  });
});

describe('inflation', () => {
  it('400 MB of spaces in a sheet', async () => {
    const bytes = withRepeated(ONE, 'xl/worksheets/sheet1.xml', sheetXml('').replace(/<\/sheetData>.*/, ''), ' ', 400_000_000, '</sheetData></worksheet>');
    expect(bytes.length).toBeLessThan(4_000_000);
    expect(await outcome(bytes)).toStrictEqual(refusal('fleet.xlsx, sheet S', 'the XML holds an endless run of characters without a tag'));
  }, 30_000);

  it('70 MB of elements in the workbook part', async () => {
    const bytes = withRepeated(ONE, 'xl/workbook.xml', '<workbook>', '<x></x>', 10_000_000, '</workbook>');
    expect(await outcome(bytes)).toStrictEqual(refusal('fleet.xlsx, part xl/workbook.xml', 'the XML holds more than 1000000 elements'));
  }, 30_000);

  it('counts what is inflated, part by part and in all', async () => {
    const bytes = await makeXlsx(ONE.replace('</row>', `${'<c/>'.repeat(5000)}</row>`));
    expect(await outcome(bytes, { partBytes: 10_000 })).toStrictEqual(refusal('fleet.xlsx, part xl/worksheets/sheet1.xml', 'the part holds more than 10000 bytes'));
    expect(await outcome(bytes, { totalBytes: 10_000 })).toStrictEqual(refusal('fleet.xlsx', 'its parts hold more than 10000 bytes'));
    expect(await outcome(bytes, { totalBytes: 25_000 })).toStrictEqual({ S: ONE_ROW });
  });

  it('counts a part once, however often it is read', async () => {
    const [sheet] = (await openXlsx(await makeXlsx(ONE.replace('</row>', `${'<c/>'.repeat(5000)}</row>`)), { totalBytes: 25_000 })).sheets;
    let rows = 0;
    for (let walk = 0; walk < 4; walk += 1) for await (const row of sheet!.table().rows) rows += row.cells.length;
    expect(rows).toBe(4);
  });

  it('shared formulas that would be written out without end', async () => {
    const rows = `<row><c><f t="shared" si="0">A1+${'1'.repeat(1000)}</f></c>${'<c><f t="shared" si="0"/></c>'.repeat(100)}</row>`;
    await expect(readFormulas(await makeXlsx(rows), { expandedFormulas: 50_000 })).rejects.toMatchObject({ code: 'input_unreadable', what: 'the shared formulas come to more than 50000 characters' });
  });
});

describe('zips', () => {
  it('with an entry twice', async () => {
    const bytes = Buffer.from((await makeXlsx(ONE, { 'xl/worksheets/sheetX.xml': sheetXml('') })).toString('latin1').replaceAll('sheetX.xml', 'sheet1.xml'), 'latin1');
    expect(await outcome(bytes)).toStrictEqual(refusal('fleet.xlsx', 'the zip holds the entry xl/worksheets/sheet1.xml twice'));
  });

  it('with an entry that climbs out', async () => {
    const bytes = Buffer.from((await makeXlsx(ONE, { 'xx/evil.xml': '' })).toString('latin1').replaceAll('xx/evil', '../evil'), 'latin1');
    expect(await outcome(bytes)).toStrictEqual(refusal('fleet.xlsx', /the zip is damaged \(invalid relative path/));
  });

  it('with too many entries', async () => {
    const many = Object.fromEntries(Array.from({ length: 10_001 }, (_, index) => [`x/${index}`, '']));
    expect(await outcome(await makeZip(xlsxParts(ONE, many), false))).toStrictEqual(refusal('fleet.xlsx', 'the zip holds more than 10000 entries'));
  });

  it('whose sizes lie', async () => {
    const part = 'xl/worksheets/sheet1.xml';
    const bytes = await makeXlsx(ONE);
    const directory = bytes.lastIndexOf(Buffer.from(part)) - 46;
    bytes.writeUInt32LE(10, directory + 24);
    expect(await outcome(bytes)).toStrictEqual(refusal(`fleet.xlsx, part ${part}`, 'the part is not as long as the zip says'));
  });

  it('whose data is damaged', async () => {
    const stored = await makeZip(xlsxParts(ONE), false);
    stored[stored.indexOf('<v>1</v>') + 3] = 0x39;
    expect(await outcome(stored)).toStrictEqual(refusal('fleet.xlsx, part xl/worksheets/sheet1.xml', 'the part does not match its checksum'));
    const packed = await makeXlsx(ONE);
    packed.fill(0xff, packed.indexOf('xl/worksheets/sheet1.xml') + 24, packed.indexOf('xl/worksheets/sheet1.xml') + 40);
    expect(await outcome(packed)).toStrictEqual(refusal('fleet.xlsx, part xl/worksheets/sheet1.xml', 'the compressed data is damaged'));
  });

  it('cut short anywhere, or with bytes changed, end in rows or a typed error', async () => {
    const bytes = await makeXlsx(ONE.repeat(1), { 'xl/sharedStrings.xml': stringsXml('<si><t>a</t></si>') });
    await fc.assert(
      fc.asyncProperty(fc.nat(bytes.length), fc.array(fc.tuple(fc.nat(bytes.length - 1), fc.nat(255)), { maxLength: 6 }), async (length, changes) => {
        const damaged = Buffer.from(bytes);
        for (const [at, value] of changes) damaged[at] = value;
        const cut = changes.length === 0 ? damaged.subarray(0, length) : damaged;
        const result = await outcome(cut);
        expect(result instanceof TreadlebookError || typeof result === 'object').toBe(true);
      }),
      { numRuns: 500 },
    );
  }, 30_000);

  it('with a part missing', async () => {
    expect(await outcome(await makeXlsx(ONE, { 'xl/worksheets/sheet1.xml': null }))).toStrictEqual(refusal('fleet.xlsx, part xl/worksheets/sheet1.xml', 'the part is missing'));
    expect(await outcome(await makeXlsx(ONE, { 'xl/_rels/workbook.xml.rels': relationshipsXml([]) }))).toStrictEqual(refusal('fleet.xlsx, sheet S', 'the workbook does not say where the sheet is stored'));
    expect(await outcome(await makeXlsx(ONE, { 'xl/workbook.xml': null }))).toStrictEqual(refusal('fleet.xlsx', 'the zip holds no workbook'));
  });
});

describe('files that are no workbook', () => {
  const text = (content: string): Uint8Array => Buffer.from(content);
  it.each([
    ['an old .xls', Buffer.concat([Buffer.from('d0cf11e0a1b11ae1', 'hex'), Buffer.from('Workbook', 'utf16le')]), 'the file is an old binary workbook (.xls) or an encrypted one'],
    ['an encrypted one', Buffer.concat([Buffer.from('d0cf11e0a1b11ae1', 'hex'), Buffer.from('EncryptedPackage', 'utf16le')]), 'the workbook is encrypted with a password'],
    ['a PDF', text('%PDF-1.7'), 'the file is a PDF'],
    ['a web page', text('\ufeff\r\n<html xmlns:x="urn:schemas-microsoft-com:office:excel"><table>'), "the file is a web page saved under another format's name"],
    ['a web page in UTF-16', Buffer.from('\ufeff<!DOCTYPE html>', 'utf16le'), "the file is a web page saved under another format's name"],
    ['an XML spreadsheet of 2003', text('<?xml version="1.0"?><?mso-application progid="Excel.Sheet"?>'), 'the file is an XML spreadsheet of 2003'],
    ['CSV text', text('unit,loss\n'), 'the file is not a workbook'],
    ['half a zip', text('PK\u0003\u0004'), /the zip is damaged/],
  ])('%s', async (_case, bytes, what) => {
    expect(await outcome(bytes)).toStrictEqual(refusal('fleet.xlsx', what));
  });

  it('an empty file', async () => {
    expect(await outcome(new Uint8Array())).toStrictEqual(expect.objectContaining({ code: 'input_empty', where: 'fleet.xlsx', what: 'the file is empty' }));
  });

  it.each([
    ['OpenDocument', { mimetype: 'application/vnd.oasis.opendocument.spreadsheet', 'content.xml': '<x/>' }, 'the file is an OpenDocument spreadsheet (.ods)'],
    ['.xlsb', { 'xl/workbook.bin': 'x' }, 'the file is a binary workbook (.xlsb)'],
    ['.docx', { 'word/document.xml': '<x/>' }, 'the file is a text document'],
    ['any zip', { 'readme.txt': 'x' }, 'the zip holds no workbook'],
  ])('a zip that is %s', async (_case, entries: Record<string, string>, what) => {
    expect(await outcome(await makeZip(entries))).toStrictEqual(refusal('fleet.xlsx', what));
  });
});
