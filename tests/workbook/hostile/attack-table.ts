import { makeXlsx, makeZip, relationshipsXml, sheetXml, stringsXml, withRepeated, workbookXml, xlsxParts } from '../../formats/make-xlsx.js';
import { rawZip } from './raw-zip.js';

/** A file made to do harm, and what has to come of it. */
export interface Attack {
  readonly name: string;
  /** The name that the file is given, for its ending. */
  readonly file: string;
  readonly bytes: Uint8Array;
  /** What the refusal says; null where the readings are read. */
  readonly refused: RegExp | null;
  /** What is told beside the readings: found texts of problems, or notes. */
  readonly told?: RegExp;
}

const HEADER = '<row r="1"><c r="A1" t="inlineStr"><is><t>unit</t></is></c><c r="B1" t="inlineStr"><is><t>inspected_on</t></is></c><c r="C1" t="inlineStr"><is><t>cut_in</t></is></c><c r="D1" t="inlineStr"><is><t>notes</t></is></c></row>';
const ROW = '<row r="2"><c r="A2" t="inlineStr"><is><t>K-1</t></is></c><c r="B2" t="inlineStr"><is><t>2026-03-01</t></is></c><c r="C2"><v>99</v></c></row>';
const READINGS = HEADER + ROW;
const BOMB = '<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;">]>';

/** The attacks that other readers of workbooks were seen to fall for. */
export async function attacks(): Promise<Attack[]> {
  const found: Attack[] = [];
  const add = (name: string, bytes: Uint8Array, refused: RegExp | null = null, told?: RegExp, file = 'fleet.xlsx'): void => void found.push({ name, file, bytes, refused, told });
  const sheet = (before: string, after: string, rows = READINGS): Promise<Buffer> => makeXlsx('', { 'xl/worksheets/sheet1.xml': sheetXml(rows).replace('<sheetData>', `${before}<sheetData>`).replace('</sheetData>', `</sheetData>${after}`) });
  const more = (cells: string): Promise<Buffer> => makeXlsx(`${READINGS}<row r="3"><c r="A3" t="inlineStr"><is><t>K-2</t></is></c>${cells}</row>`);
  const workbook = (inside: string, parts: Record<string, string> = {}): Promise<Buffer> => makeXlsx(READINGS, { 'xl/workbook.xml': workbookXml(`<sheets><sheet name="S" sheetId="1" r:id="rId1"/></sheets>${inside}`), ...parts });

  add('two thousand million columns', await sheet('<cols><col min="1" max="2000000000"/></cols>', ''));
  add('a merge over the whole sheet', await sheet('', '<mergeCells><mergeCell ref="A1:XFD1048576"/></mergeCells>'));
  add('validation over the whole sheet', await sheet('', '<dataValidations><dataValidation sqref="A1:Z1048576"/></dataValidations>'));
  add('a defined name over the whole sheet', await workbook('<definedNames><definedName name="all">S!$A$1:$XFD$1048576</definedName></definedNames>'));
  add('400 MB of spaces in a sheet', withRepeated(READINGS, 'xl/worksheets/sheet1.xml', sheetXml(READINGS).replace(/<\/sheetData>.*/, ''), ' ', 400_000_000, '</sheetData></worksheet>'), /endless run of characters/);
  add('800 MB of zeros as a picture', withRepeated(READINGS, 'xl/media/image1.png', '', '\0', 800_000_000, ''));
  add('row number 999999999', await makeXlsx(`${READINGS}<row r="999999999"><c r="A999999999"><v>1</v></c></row>`), /row number 999999999 is beyond/);
  add('column ZZZZZZ', await more('<c r="ZZZZZZ3"><v>1</v></c>'), /ZZZZZZ3, is beyond the 16384 columns/);
  add('a dimension of the whole sheet', await sheet('<dimension ref="A1:XFD1048576"/>', ''));
  add('an entity bomb', await makeXlsx('', { 'xl/worksheets/sheet1.xml': sheetXml(READINGS.replace('>K-1<', '>&c;<')).replace('?>', `?>${BOMB}`) }), /DOCTYPE/);
  add('an external entity', await makeXlsx('', { 'xl/worksheets/sheet1.xml': sheetXml(READINGS).replace('?>', '?><!DOCTYPE x SYSTEM "file:///etc/passwd">') }), /DOCTYPE/);
  const entries = Object.entries(xlsxParts(READINGS)).map(([name, content]) => ({ name, content: Buffer.from(content as string) }));
  add('an entry ../../evil', rawZip([...entries, { name: '../../evil', content: Buffer.from('x') }]), /invalid relative path/);
  add('an entry twice', rawZip([...entries, ...entries.slice(-1)]), /twice/);
  add('a cell twice', await more('<c r="B3"><v>1</v></c><c r="B3"><v>2</v></c>'), /comes after it/);
  add('a row twice', await makeXlsx(READINGS + ROW), /row 2 comes after row 2/);
  add('rows without numbers', await makeXlsx(READINGS.replaceAll(/ r="[A-Z]*\d+"/g, '')));
  add('a string that is not there', await more('<c r="B3" t="s"><v>7</v></c>'), /asks for shared string "7"/);
  add('a workbook with a password', Buffer.concat([Buffer.from('d0cf11e0a1b11ae1', 'hex'), Buffer.alloc(512), Buffer.from('EncryptedPackage', 'utf16le')]), /encrypted with a password/);
  add('an old workbook', Buffer.concat([Buffer.from('d0cf11e0a1b11ae1', 'hex'), Buffer.alloc(512), Buffer.from('Workbook', 'utf16le')]), /old binary workbook/, undefined, 'fleet.xls');
  add('a quote that never closes, 50 MB', Buffer.from(`unit,inspected_on,cut_in\nK-1,"${'x\n'.repeat(25_000_000)}`), /its quote never closes/, undefined, 'fleet.csv');

  // What is told of, and never followed.
  const reach = 'WEBSERVICE(&quot;https://example.org&quot;)';
  add('a formula that fetches', await more(`<c r="D3" t="str"><f>${reach}</f><v>x</v></c>`), null, /WEBSERVICE, first in cell D3; nothing was fetched/);
  add('a formula that starts a program', await more("<c r=\"D3\" t=\"str\"><f>cmd|'/c calc'!A0</f><v>x</v></c>"), null, /DDE, first in cell D3/);
  add('a link in a cell', await more('<c r="D3" t="str"><f>HYPERLINK(&quot;https://example.org&quot;,&quot;see&quot;)</f><v>see</v></c>'), null, /HYPERLINK, first in cell D3/);
  add('a link to another workbook', await workbook('', { 'xl/externalLinks/externalLink1.xml': '<externalLink><externalBook/></externalLink>' }), null, /a link to other files; nothing was fetched/);
  add('an exchange with a program', await workbook('', { 'xl/externalLinks/externalLink1.xml': '<externalLink><ddeLink ddeService="cmd" ddeTopic="/c calc"/></externalLink>' }), null, /exchanges data with the program "cmd" \(DDE\); nothing was started/);
  add('a data connection', await workbook('', { 'xl/connections.xml': '<connections/>' }), null, /data connections; nothing was fetched/);
  add('macros', await workbook('', { 'xl/vbaProject.bin': 'x' }), null, /macros; they were not run/);
  const sheets = '<sheets><sheet name="S" sheetId="1" r:id="rId1"/><sheet name="Hid" sheetId="2" state="hidden" r:id="rId4"/><sheet name="Very" sheetId="3" state="veryHidden" r:id="rId4"/></sheets>';
  const links = relationshipsXml([['rId1', 'worksheet', 'worksheets/sheet1.xml'], ['rId4', 'worksheet', 'worksheets/sheet2.xml']]);
  add('hidden sheets', await makeXlsx(READINGS, { 'xl/workbook.xml': workbookXml(sheets), 'xl/_rels/workbook.xml.rels': links, 'xl/worksheets/sheet2.xml': sheetXml('<row><c><v>1</v></c></row>') }), null, /The sheet Hid is hidden\..*The sheet Very is hidden so that only a program can show it\./s);

  // Names that mean something to a program, and few bytes that become many.
  const names = ['__proto__', 'constructor', 'toString', 'hasOwnProperty', 'Unit', 'UNIT'];
  add('columns named __proto__, constructor and toString', Buffer.from(`unit,inspected_on,cut_in,${names.join(',')}\nK-1,2026-03-01,99,${names.join(',')}\n`), null, /Unit/, 'fleet.csv');
  add('keys named __proto__, constructor and toString', Buffer.from(`[{"unit":"K-1","inspected_on":"2026-03-01","cut_in":99,"__proto__":1,"constructor":2,"toString":3}]`), null, undefined, 'fleet.json');
  const rows = Array.from({ length: 12_000 }, (_, index) => index + 2).map((row) => `<row r="${row}"><c r="A${row}" t="inlineStr"><is><t>K-1</t></is></c><c r="B${row}"><v>46000</v></c><c r="C${row}"><v>99</v></c><c r="D${row}" t="s"><v>0</v></c></row>`);
  add('one long text in 12,000 cells', await makeXlsx(HEADER + rows.join(''), { 'xl/sharedStrings.xml': stringsXml(`<si><t>${'x'.repeat(32_000)}</t></si>`) }));
  add('lists inside one another, a million deep', Buffer.from(`[${'['.repeat(1_000_000)}`), /more than 32 lists and objects/, undefined, 'fleet.json');
  add('50,000 objects of a key of their own', Buffer.from(`[${Array.from({ length: 50_000 }, (_, index) => `{"k${index}":1}`).join(',')}]`), /more than 16384 different keys/, undefined, 'fleet.json');
  add('a workbook inside a zip', await makeZip({ 'fleet.csv': 'unit,inspected_on\n' }), /a zip that holds fleet\.csv/);
  return found;
}
