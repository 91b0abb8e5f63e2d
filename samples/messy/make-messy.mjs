/**
 * Makes those of the messy samples that cannot be typed: `node samples/messy/make-messy.mjs [folder]` writes the workbooks and
 * the texts in other encodings. The same script gives the same cells.
 *
 * Invented: the carrier, its units, the people, every reading. No row describes a real test.
 */
import { writeFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import ExcelJS from 'exceljs';
import yazl from 'yazl';

const STAMP = new Date('2026-04-01T00:00:00Z');
const LOSS = ['P start', 'P end', 'S start', 'S end', 'min'];

/** Days as spreadsheets count them; 2006-02-01 is day 38749 (ECMA-376 Part 1, 18.17.4), and 1904 is 1462 days behind. */
const day = (iso) => 38749 + (Date.parse(`${iso}T00:00:00Z`) - Date.parse('2006-02-01T00:00:00Z')) / 86_400_000;
const day1904 = (iso) => day(iso) - 1462;
/** A number with the number format that its cell has. */
const as = (format, value) => ({ format, value });
const date = (iso, format = 'dd/mm/yyyy') => as(format, day(iso));
/** Hours, minutes and seconds as the part of a day that a spreadsheet keeps. */
const clock = (format, hours, minutes, seconds = 0) => as(format, (hours * 3600 + minutes * 60 + seconds) / 86_400);

function newBook() {
  const book = new ExcelJS.Workbook();
  book.creator = 'Nowhere Isle Carriers (invented)';
  book.created = STAMP;
  book.modified = STAMP;
  return book;
}

function addSheet(book, name, rows, state = 'visible') {
  const sheet = book.addWorksheet(name, { state });
  for (const [index, cells] of rows.entries()) {
    for (const [column, cell] of cells.entries()) {
      if (cell === null) continue;
      const target = sheet.getCell(index + 1, column + 1);
      const formatted = typeof cell === 'object' && 'format' in cell;
      target.value = formatted ? cell.value : cell;
      if (formatted) target.numFmt = cell.format;
    }
  }
  return sheet;
}

async function oneSheet(name, rows) {
  const book = newBook();
  addSheet(book, name, rows);
  return bytesOf(book);
}

async function bytesOf(book) {
  return new Uint8Array(await book.xlsx.writeBuffer());
}

async function mergedHeader() {
  const book = newBook();
  const sheet = addSheet(book, 'Spring', [
    ['Nowhere Isle Carriers (invented): spring round'],
    [],
    ['Truck no.', 'Date', 'Brakes released', null, null, null, null, 'Brakes applied', null, null, null, null, 'Low-air warning', null, 'Remarks'],
    [null, null, ...LOSS, ...LOSS, 'Light', 'Buzzer', null],
    ['N-401', date('2026-03-02'), 112, 110, 111, 110, 1, 105, 102, 104, 102, 1, 66, 64, 'invented'],
    ['N-402', date('2026-03-02'), 118, 116, 117, 116, 2, 110, 108, 109, 106, 2, 70, 'never', null],
    ['N-403', date('2026-03-03'), 108, 104, 110, 109, 1, 100, 95, 101, 99, 1.5, 62, 62, 'hose rubbing'],
  ]);
  for (const range of ['A1:O1', 'A3:A4', 'B3:B4', 'C3:G3', 'H3:L3', 'M3:N3', 'O3:O4']) sheet.mergeCells(range);
  return bytesOf(book);
}

async function severalSheets() {
  const book = newBook();
  addSheet(book, 'Cover', [['Nowhere Isle Carriers (invented)'], ['Readings of March 2026'], [], ['Made by', 'A. Example-Ward']]);
  addSheet(book, 'Lists', [['Kinds'], ['truck'], ['tractor'], ['bus']]);
  addSheet(book, 'March', [
    ['Unit', 'Date', 'Cut-in', 'Cut-out', 'Remarks'],
    ['N-411', date('2026-03-02'), 98, 124, 'invented'],
    ['N-412', date('2026-03-02'), 101, 126],
    ['N-413', date('2026-03-03'), 95, 119],
  ]);
  addSheet(book, 'Empty', []);
  return bytesOf(book);
}

async function twoTables() {
  const header = ['Unit', 'Date', 'Cut-in', 'Cut-out'];
  const book = newBook();
  addSheet(book, 'Notes', [['invented']]);
  addSheet(book, 'North yard', [header, ['N-421', date('2026-03-02'), 98, 124], ['N-422', date('2026-03-02'), 101, 126], ['N-423', date('2026-03-03'), 95, 119]]);
  addSheet(book, 'South yard', [header, ['N-424', date('2026-03-02'), 97, 120], ['N-425', date('2026-03-02'), 99, 121], ['N-426', date('2026-03-03'), 96, 122]]);
  addSheet(book, 'Last year', [header, ['N-421', date('2025-03-02'), 98, 124]], 'hidden');
  return bytesOf(book);
}

async function hidden() {
  const book = newBook();
  const sheet = addSheet(book, 'Round', [
    ['Unit', 'Date', 'Cut-in', 'Cut-out', 'Light on at', 'Remarks'],
    ['N-431', date('2026-03-02'), 98, 124, 66, 'invented'],
    ['N-432', date('2026-03-02'), 101, 126, 70, 'in a hidden row'],
    ['N-433', date('2026-03-03'), 95, 119, 68, null],
    ['N-434', date('2026-03-04'), 97, 120, 64, 'filtered out'],
  ]);
  sheet.getColumn(5).hidden = true;
  sheet.getRow(3).hidden = true;
  sheet.getRow(5).hidden = true;
  sheet.autoFilter = 'A1:F5';
  return bytesOf(book);
}

const textNumbers = () =>
  oneSheet('Sheet1', [
    ['Unit', 'Date', 'Released primary start', 'Released primary end', 'Released time', 'Odometer', 'Audible leak', 'Remarks'],
    [101, '2026-03-02', '112', ' 110 ', '1:00', '210443', 'no', 'invented'],
    ['0102', '03 Mar 2026', '108.0', '107,5', '60', '99 120', 'FALSE', 'the zero belongs to the number'],
    [103, '46085', '115', 114, 60, 340006, false, 'a day as a bare number in a text cell'],
    ['104', date('2026-03-05'), 'abt 104', '103', '1:00', '12,345', true, null],
  ]);

const timesOfDay = () =>
  oneSheet('Sheet1', [
    ['Unit', 'Date', 'Released time', 'Build-up time', 'Applied settle time', 'Remarks'],
    ['N-441', date('2026-03-02'), clock('h:mm', 1, 0), clock('h:mm', 4, 10), clock('h:mm', 1, 30), 'invented: minutes and seconds, taken for hours and minutes'],
    ['N-442', date('2026-03-02'), clock('h:mm:ss', 0, 1, 0), clock('h:mm:ss', 0, 4, 10), clock('mm:ss', 0, 1, 30), 'as a spreadsheet wants it typed'],
    ['N-443', date('2026-03-03'), clock('[h]:mm:ss', 1, 0, 0), clock('[h]:mm:ss', 4, 10, 0), clock('[h]:mm', 2, 0), 'a colon too few for the format'],
    ['N-444', date('2026-03-03'), clock('h:mm AM/PM', 1, 0), clock('h:mm AM/PM', 4, 10), '0:01:30', 'a clock of twelve hours'],
    ['N-445', date('2026-03-04'), 60, 250, 90, 'plain seconds'],
    ['N-446', date('2026-03-04'), clock('General', 1, 0), clock('0.00', 4, 10), null, 'the format was taken off'],
    ['N-447', date('2026-03-05'), as('dd/mm/yyyy h:mm', 1 / 24 + 1), clock('h:mm:ss', 0, 20, 0), '4:10 PM', 'a date, 20 minutes or 20 seconds, and a time of day'],
  ]);

async function date1904() {
  const book = newBook();
  book.properties.date1904 = true;
  addSheet(book, 'Sheet1', [
    ['Unit', 'Date', 'Repaired on', 'Cut-in', 'Cut-out', 'Build-up time', 'Seen', 'Remarks'],
    ['N-451', as('dd/mm/yyyy', day1904('2026-03-02')), null, 98, 124, clock('h:mm', 4, 10), as('yyyy-mm-dd', day1904('2026-03-20')), 'invented'],
    ['N-452', as('d-mmm-yy', day1904('2026-03-02')), as('d-mmm-yy', day1904('2026-03-04')), 101, 126, clock('h:mm', 0, 55), null, null],
    ['N-453', '2026-03-03', null, 95, 119, '1:05', clock('h:mm', 7, 45), 'a day as text'],
  ]);
  return bytesOf(book);
}

const formulas = () =>
  oneSheet('Sheet1', [
    ['Unit', 'Date', 'Released primary start', 'Released primary end', 'Released time', 'Audible leak', 'Loss (office)', 'Remarks'],
    [{ text: 'N-461', hyperlink: 'http://nowhere.invalid/N-461' }, date('2026-03-02'), { formula: 'D2+2', result: 112 }, 110, '1:00', false, { formula: 'C2-D2', result: 2 }, 'invented'],
    [{ formula: '"N-"&462', result: 'N-462' }, as('dd/mm/yyyy', { formula: 'B2+1', result: day('2026-03-03') }), 108, 107, '1:00', true, { formula: 'C3/0', result: { error: '#DIV/0!' } }, null],
    ['N-463', date('2026-03-04'), { richText: [{ text: '11' }, { font: { bold: true }, text: '5 psi' }] }, { error: '#N/A' }, '1:00', { formula: '1=1', result: true }, null, { richText: [{ text: 'red ' }, { font: { color: { argb: 'FFC00000' } }, text: 'words' }] }],
  ]);

/** An evaluated workbook as it looks after someone typed over three of its cells. */
const changedWorkbook = () =>
  oneSheet('Readings', [
    ['unit', 'inspected_on', 'pressure_unit', 'released_primary_start', 'released_primary_end', 'released_time', 'notes', 'as_found', 'computed.verdict'],
    ['N-471', day('2026-03-02'), 'psi', 104, 102, '1:00', 'invented', 'released_primary_start "~104"; released_time "60 s"', 'pass'],
    ['N-472', day('2026-03-02'), 'psi', 110, 102, '1:00', 'the start was typed over', 'released_primary_start "~104"; released_time "60 s"', 'pass'],
    ['N-473', day('2026-03-03'), 'psi', 106, 105, '2:00', 'the time was typed over', 'released_primary_start "~106"; released_time "1 min"', 'pass'],
    ['N-474', day('2026-03-04'), 'psi', null, 105, '1:00', 'the start was taken out', 'released_primary_start "~104"; inspected_on "4 Mar 2026"', 'pass'],
  ].map((row, index) => (index === 0 ? row : row.map((cell, column) => (column === 1 ? as('yyyy-mm-dd', cell) : cell)))));

/** A workbook whose every element has a prefix, with places left out where the format lets them be. */
async function prefixedNamespaces() {
  const main = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
  const office = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
  const links = 'http://schemas.openxmlformats.org/package/2006/relationships';
  const types = 'http://schemas.openxmlformats.org/package/2006/content-types';
  const kind = 'application/vnd.openxmlformats-officedocument.spreadsheetml';
  const cell = (value) => {
    if (value === null) return '<x:c/>';
    if (typeof value === 'object') return `<x:c s="1"><x:v>${value.value}</x:v></x:c>`;
    if (typeof value === 'number') return `<x:c><x:v>${value}</x:v></x:c>`;
    return `<x:c t="inlineStr"><x:is><x:t xml:space="preserve">${value}</x:t></x:is></x:c>`;
  };
  const rows = [
    ['Unit', 'Date', 'Cut-in', 'Cut-out', 'Remarks'],
    ['N-481', date('2026-03-02'), 98, 124, 'invented &amp; prefixed'],
    ['N-482', date('2026-03-02'), 101, null, ' kept space '],
    ['N-483', date('2026-03-03'), 95, 119, null],
  ];
  const head = '<?xml version="1.0" encoding="utf-8"?>';
  return zipOf({
    '[Content_Types].xml': `${head}<ct:Types xmlns:ct="${types}"><ct:Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><ct:Default Extension="xml" ContentType="application/xml"/><ct:Override PartName="/xl/workbook.xml" ContentType="${kind}.sheet.main+xml"/><ct:Override PartName="/xl/styles.xml" ContentType="${kind}.styles+xml"/><ct:Override PartName="/xl/worksheets/sheet1.xml" ContentType="${kind}.worksheet+xml"/></ct:Types>`,
    '_rels/.rels': `${head}<p:Relationships xmlns:p="${links}"><p:Relationship Id="rId1" Type="${office}/officeDocument" Target="/xl/workbook.xml"/></p:Relationships>`,
    'xl/workbook.xml': `${head}<x:workbook xmlns:x="${main}" xmlns:q="${office}"><x:sheets><x:sheet name="Export" sheetId="7" q:id="rId5"/></x:sheets></x:workbook>`,
    'xl/_rels/workbook.xml.rels': `${head}<p:Relationships xmlns:p="${links}"><p:Relationship Id="rId5" Type="${office}/worksheet" Target="worksheets/sheet1.xml"/><p:Relationship Id="rId6" Type="${office}/styles" Target="/xl/styles.xml"/></p:Relationships>`,
    'xl/styles.xml': `${head}<x:styleSheet xmlns:x="${main}"><x:fonts count="1"><x:font/></x:fonts><x:fills count="1"><x:fill/></x:fills><x:borders count="1"><x:border/></x:borders><x:cellStyleXfs count="1"><x:xf/></x:cellStyleXfs><x:cellXfs count="2"><x:xf/><x:xf numFmtId="14" applyNumberFormat="1"/></x:cellXfs></x:styleSheet>`,
    'xl/worksheets/sheet1.xml': `${head}<x:worksheet xmlns:x="${main}"><x:sheetData>${rows.map((cells) => `<x:row>${cells.map(cell).join('')}</x:row>`).join('')}</x:sheetData></x:worksheet>`,
  });
}

async function zipOf(entries) {
  const zip = new yazl.ZipFile();
  for (const [name, text] of Object.entries(entries)) zip.addBuffer(Buffer.from(text), name, { mtime: STAMP });
  zip.end();
  const chunks = [];
  for await (const chunk of zip.outputStream) chunks.push(chunk);
  return new Uint8Array(Buffer.concat(chunks));
}

const UTF_16 = [
  'Unit\tDate\tSite\tCut-in\tCut-out\tRemarks',
  'N-111\t2026-03-02\tŁódź-Nord (invented)\t98\t124\t≈ 4 °C, “dry”',
  'N-112\t2026-03-02\tΝησί\t101\t126\t',
  'N-113\t2026-03-03\t雪の島\t95\t119\t🚚',
];

const WINDOWS_1252 = [
  'Unit;Date;Site;Cut-in;Cut-out;Temp (°C);Remarks',
  'N-121;2026-03-02;Kestrel-Süd;98;124;7°;invented – “Straße”',
  'N-122;2026-03-02;Möwenbucht;101;126;-2,5°;café, 10 €',
  'N-123;2026-03-03;Ångö;104–108;119 ± 1;½;naïve…',
];

/** Latin-1 but for the four marks that Windows-1252 puts where Latin-1 has none (WHATWG Encoding, index windows-1252). */
function windows1252(text) {
  const own = new Map([['–', 0x96], ['“', 0x93], ['”', 0x94], ['€', 0x80], ['…', 0x85]]);
  return Uint8Array.from(text, (character) => own.get(character) ?? character.charCodeAt(0));
}

const MIXED_LINES =
  '\uFEFFUnit,Date,Cut-in,Cut-out,Defects,Remarks\r\n' +
  'N-131,2026-03-02,98,124,"hose\r\nline two",invented\n' +
  'N-132,2026-03-02,101,126,"first\nsecond\n\nfourth","said ""stop"""\r' +
  '\n' +
  'N-133,2026-03-03,95,119,,end of a line by a carriage return alone\r' +
  'N-134,2026-03-04,97,120,"",no line end at the end';

/** Every file that this script makes, by name. */
export async function makeMessy() {
  return new Map([
    ['merged-header.xlsx', await mergedHeader()],
    ['several-sheets.xlsx', await severalSheets()],
    ['two-tables.xlsx', await twoTables()],
    ['hidden.xlsx', await hidden()],
    ['text-numbers.xlsx', await textNumbers()],
    ['times-of-day.xlsx', await timesOfDay()],
    ['date-1904.xlsx', await date1904()],
    ['formulas.xlsx', await formulas()],
    ['changed-workbook.xlsx', await changedWorkbook()],
    ['prefixed-namespaces.xlsx', await prefixedNamespaces()],
    ['utf-16le.csv', new Uint8Array(Buffer.from(`\uFEFF${UTF_16.join('\r\n')}\r\n`, 'utf16le'))],
    ['windows-1252.csv', windows1252(`${WINDOWS_1252.join('\r\n')}\r\n`)],
    ['utf-8-mixed-lines.csv', new Uint8Array(Buffer.from(MIXED_LINES))],
  ]);
}

if (process.argv[1] !== undefined && resolve(process.argv[1]) === fileURLToPath(import.meta.url)) {
  const folder = process.argv[2] ?? dirname(fileURLToPath(import.meta.url));
  for (const [name, bytes] of await makeMessy()) writeFileSync(join(folder, name), bytes);
}
