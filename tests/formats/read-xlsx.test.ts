import { describe, expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { all } from './csv-text.js';
import { makeXlsx, makeZip, relationshipsXml, sheetXml, stringsXml, stylesXml, workbookXml, xlsxParts } from './make-xlsx.js';
import { readFormulas, readSheet } from './read-book.js';

const cells = async (row: string, parts = {}): Promise<unknown> => (await readSheet(await makeXlsx(`<row r="1">${row}</row>`, parts)))[0]?.cells;

// ECMA-376 Part 1, 18.18.11 (ST_CellType) and 18.3.1.4 (c).
describe('cell types', () => {
  it('reads numbers, booleans, errors, formula text and inline text', async () => {
    expect(
      await cells(
        '<c r="A1"><v>1.5</v></c><c r="B1" t="n"><v>-1E-3</v></c><c r="C1" t="b"><v>1</v></c><c r="D1" t="b"><v>0</v></c>' +
          '<c r="E1" t="e"><f>1/0</f><v>#DIV/0!</v></c><c r="F1" t="str"><f>"a"</f><v>a b</v></c><c r="G1" t="inlineStr"><is><t>in</t></is></c>',
      ),
    ).toStrictEqual([1.5, -0.001, true, false, '#DIV/0!', 'a b', 'in']);
  });

  it('reads shared strings, rich text joined and phonetic text left out (18.4.8, 18.4.6)', async () => {
    const strings = stringsXml('<si><t xml:space="preserve"> a </t></si><si><r><rPr><b/></rPr><t>bold</t></r><r><t> and not</t></r><rPh sb="0" eb="1"><t>no</t></rPh><phoneticPr fontId="1"/></si><si/>');
    expect(await cells('<c t="s"><v>1</v></c><c t="s"><v>0</v></c><c t="s"><v>2</v></c>', { 'xl/sharedStrings.xml': strings })).toStrictEqual(['bold and not', ' a ', '']);
    expect(await cells('<c t="inlineStr"><is><r><t>x</t></r><rPh sb="0" eb="1"><t>no</t></rPh><r><t>y</t></r></is></c>')).toStrictEqual(['xy']);
  });

  it('puts escaped characters back (22.9.2.19)', async () => {
    expect(await cells('<c t="inlineStr"><is><t>a_x000D_b</t></is></c><c t="str"><v>_x005F_x000D_</v></c>')).toStrictEqual(['a\rb', '_x000D_']);
  });

  it('gives an ISO date as text, without midnight', async () => {
    expect(await cells('<c t="d"><v>2024-03-01T00:00:00.000</v></c><c t="d"><v>2024-03-01T04:10:00</v></c><c t="d"><v>2024-03-01</v></c>')).toStrictEqual([
      '2024-03-01',
      '2024-03-01T04:10:00',
      '2024-03-01',
    ]);
  });

  it('keeps what claims to be a number and is none as text', async () => {
    expect(await cells('<c><v>NaN</v></c><c><v>0x10</v></c><c t="n"><v>1 psi</v></c><c><v> </v></c><c><v/></c><c><v>7</v></c>')).toStrictEqual(['NaN', '0x10', '1 psi', null, null, 7]);
  });

  it('keeps the format of a date or a time, and of nothing else (18.8.30)', async () => {
    const styles = stylesXml([0, 14, 20, 164, 165, 46, 2], { 164: 'yyyy\\-mm\\-dd', 165: '0.0" psi/min"' });
    expect(
      await cells([0, 1, 2, 3, 4, 5, 6, 99].map((style) => `<c s="${style}"><v>45352.5</v></c>`).join(''), { 'xl/styles.xml': styles }),
    ).toStrictEqual([
      45352.5,
      { value: 45352.5, format: 'mm-dd-yy' },
      { value: 45352.5, format: 'h:mm' },
      { value: 45352.5, format: 'yyyy\\-mm\\-dd' },
      45352.5,
      { value: 45352.5, format: '[h]:mm:ss' },
      45352.5,
      45352.5,
    ]);
  });

  it('lets the file give a built-in number a code of its own', async () => {
    expect(await cells('<c s="0"><v>1</v></c>', { 'xl/styles.xml': stylesXml([14], { 14: 'dd.mm.yyyy' }) })).toStrictEqual([{ value: 1, format: 'dd.mm.yyyy' }]);
  });
});

describe('rows', () => {
  it('keeps row numbers, fills blanks inside a row and leaves those at its end out', async () => {
    const rows = '<row r="2"><c r="B2"><v>1</v></c><c r="D2"><v>2</v></c><c r="E2" s="0"/><c r="XFD2"/></row><row r="5"/><row r="1048576"><c r="A1048576"><v>3</v></c></row>';
    expect(await readSheet(await makeXlsx(rows))).toStrictEqual([
      { number: 2, cells: [null, 1, null, 2] },
      { number: 5, cells: [] },
      { number: 1_048_576, cells: [3] },
    ]);
  });

  it('counts rows and cells without a place of their own (18.3.1.73, 18.3.1.4)', async () => {
    const rows = '<row><c><v>1</v></c><c r="D1"><v>2</v></c><c><v>3</v></c></row><row r="4"><c><v>4</v></c></row><row><c><v>5</v></c></row>';
    expect(await readSheet(await makeXlsx(rows))).toStrictEqual([
      { number: 1, cells: [1, null, null, 2, 3] },
      { number: 4, cells: [4] },
      { number: 5, cells: [5] },
    ]);
  });

  it('passes over elements it does not know, and text inside them', async () => {
    const sheet = sheetXml('<row r="1"><c r="A1"><v>1</v><extLst><ext><v>9</v></ext></extLst></c><x><c r="B1"><v>9</v></c></x></row><y><row r="7"/></y>')
      .replace('<sheetData>', '<dimension ref="A1:XFD1048576"/><cols><col min="1" max="3"/></cols><sheetData>')
      .replace('</sheetData>', '</sheetData><extLst><ext><sheetData><row r="8"/></sheetData></ext></extLst>');
    expect(await readSheet(await makeXlsx('', { 'xl/worksheets/sheet1.xml': sheet }))).toStrictEqual([{ number: 1, cells: [1] }]);
  });

  it('has none for an empty sheet', async () => {
    expect(await readSheet(await makeXlsx(''))).toStrictEqual([]);
  });

  it('can be walked again, and both at once', async () => {
    const [sheet] = (await openXlsx(await makeXlsx('<row><c><v>1</v></c></row>'))).sheets;
    const walk = async (): Promise<unknown> => all(sheet!.table().rows);
    const expected = [{ number: 1, cells: [1] }];
    expect(await Promise.all([walk(), walk()])).toStrictEqual([expected, expected]);
    expect(await walk()).toStrictEqual(expected);
  });
});

describe('formulas', () => {
  it('stand beside the stored values, shared ones written out (18.3.1.40)', async () => {
    const rows =
      '<row r="1"><c r="A1"><f t="shared" ref="A1:B2" si="0">C1+$D$1</f><v>1</v></c><c r="B1"><f t="shared" si="0"/><v>2</v></c></row>' +
      '<row r="2"><c r="A2"><f t="shared" si="0"/><v>3</v></c><c r="B2"><v>9</v></c><c r="C2"><f t="array" ref="C2:C3">SUM(A1:A2*2)</f></c></row>' +
      '<row r="3"><c r="A3" t="str"><f>""</f><v></v></c><c r="B3"><v>1</v></c></row>';
    const bytes = await makeXlsx(rows);
    expect(await readFormulas(bytes)).toStrictEqual([
      { number: 1, cells: [1, 2], formulas: ['C1+$D$1', 'D1+$D$1'] },
      { number: 2, cells: [3, 9], formulas: ['C2+$D$1', null, 'SUM(A1:A2*2)'] },
      { number: 3, cells: ['', 1], formulas: ['""', null] },
    ]);
    expect((await readSheet(bytes))[1]).toStrictEqual({ number: 2, cells: [3, 9], unstored: [2] });
  });

  it('that share one which is not there are an error, and only where formulas are asked for', async () => {
    const bytes = await makeXlsx('<row><c><f t="shared" si="3"/><v>1</v></c></row>');
    await expect(readFormulas(bytes)).rejects.toMatchObject({ code: 'input_unreadable', where: 'the workbook, sheet S, cell A1' });
    expect(await readSheet(bytes)).toStrictEqual([{ number: 1, cells: [1] }]);
  });
});

describe('the workbook', () => {
  const parts = xlsxParts('<row><c><v>1</v></c></row>', {
    'docProps/app.xml': '<Properties xmlns="p"><Application>Some Program</Application><TitlesOfParts/></Properties>',
    'xl/workbook.xml': workbookXml(
      '<workbookPr date1904="1"/><sheets><sheet name="A&amp;B" sheetId="3" r:id="rId5"/><sheet name="Chart" sheetId="4" r:id="rId6"/>' +
        '<sheet name="Hid" sheetId="1" state="hidden" r:id="rId1"/><sheet name="Very" sheetId="2" state="veryHidden" r:id="rId1"/></sheets>' +
        '<definedNames><definedName name="limit">Hid!$A$1</definedName><definedName name="_xlnm.Print_Titles" localSheetId="2">Hid!$1:$1</definedName><definedName name="__proto__">1</definedName></definedNames>',
    ),
    'xl/_rels/workbook.xml.rels': relationshipsXml([
      ['rId5', 'worksheet', '/xl/worksheets/sheet1.xml'],
      ['rId6', 'chartsheet', 'chartsheets/sheet1.xml'],
      ['rId1', 'worksheet', '../xl/./worksheets/SHEET1.xml'],
    ]),
    'xl/vbaProject.bin': 'x',
    'xl/externalLinks/externalLink1.xml': '<externalLink/>',
  });

  it('says what it holds', async () => {
    const book = await openXlsx(await makeZip(parts));
    expect(book.date1904).toBe(true);
    expect(book.application).toBe('Some Program');
    expect(book.sheets.map(({ name, state }) => [name, state])).toStrictEqual([['A&B', 'visible'], ['Hid', 'hidden'], ['Very', 'veryHidden']]);
    expect([...book.definedNames]).toStrictEqual([['limit', 'Hid!$A$1'], ['Hid!_xlnm.Print_Titles', 'Hid!$1:$1'], ['__proto__', '1']]);
    expect(book.findings.map(({ kind, sheet, text }) => [kind, sheet, text])).toStrictEqual([
      ['outside', '', 'The workbook holds macros; they were not run.'],
      ['outside', '', 'The workbook has a link to other files; nothing was fetched.'],
      ['hidden sheet', 'Hid', 'The sheet Hid is hidden.'],
      ['hidden sheet', 'Very', 'The sheet Very is hidden so that only a program can show it.'],
    ]);
  });

  it('hands the sheet and its date system on to the table', async () => {
    const { sheets } = await openXlsx(await makeZip(parts));
    for (const sheet of sheets) {
      const { rows, ...rest } = sheet.table();
      expect(rest).toStrictEqual({ sheet: sheet.name, date1904: true });
      expect(await all(rows)).toStrictEqual([{ number: 1, cells: [1] }]);
    }
  });

  it('is read with the strict namespaces, with prefixes, and as UTF-16', async () => {
    const strict = (text: string): string =>
      text
        .replaceAll('http://schemas.openxmlformats.org/officeDocument/2006', 'http://purl.oclc.org/ooxml/officeDocument')
        .replaceAll('http://schemas.openxmlformats.org/spreadsheetml/2006/main', 'http://purl.oclc.org/ooxml/spreadsheetml/main');
    const prefixed = (text: string): string => text.replace(/<(\/?)(?=[a-z])/gi, '<$1x:').replace('xmlns=', 'xmlns:x=');
    const plain = xlsxParts('<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" s="0"><v>2</v></c></row>', {
      'xl/sharedStrings.xml': stringsXml('<si><r><t>a</t></r><r><t>b</t></r></si>'),
      'xl/styles.xml': stylesXml([14]),
    });
    const changed = (change: (text: string) => string | Buffer): Promise<Buffer> =>
      makeZip(Object.fromEntries(Object.entries(plain).map(([name, text]) => [name, change(String(text))])));
    const expected = [{ number: 1, cells: ['ab', { value: 2, format: 'mm-dd-yy' }] }];
    expect(await readSheet(await changed((text) => text))).toStrictEqual(expected);
    expect(await readSheet(await changed(strict))).toStrictEqual(expected);
    expect(await readSheet(await changed((text) => prefixed(strict(text))))).toStrictEqual(expected);
    expect(await readSheet(await changed((text) => Buffer.from(`\ufeff${text.replace(' encoding="UTF-8"', '')}`, 'utf16le')))).toStrictEqual(expected);
  });

  it('needs no styles, strings or package links', async () => {
    expect(await readSheet(await makeXlsx('<row><c s="4"><v>1</v></c></row>', { '_rels/.rels': null }))).toStrictEqual([{ number: 1, cells: [1] }]);
  });

  it('lets a walk break off', async () => {
    const rows = '<row><c><v>1</v></c></row>'.repeat(100_000);
    const [sheet] = (await openXlsx(await makeXlsx(rows))).sheets;
    let seen = 0;
    for await (const row of sheet!.table().rows) {
      seen = row.number;
      if (seen === 10) break;
    }
    expect(seen).toBe(10);
  });
});
