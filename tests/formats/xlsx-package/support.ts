import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import ExcelJS from 'exceljs';
import Papa from 'papaparse';
import { SaxesParser } from 'saxes';
import { fromBufferPromise } from 'yauzl';
import type { FillValue } from '../../../src/formats/xlsx-package/assemble-xlsx.js';

export const DATA_ROWS = 1000;
export const FIRST_ROW = 4;

const PIXEL = 'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==';

/** A workbook with every kind of thing the assembler has to keep or to move. */
export async function makeTemplate(): Promise<Uint8Array> {
  const book = new ExcelJS.Workbook();
  book.calcProperties.fullCalcOnLoad = true;
  const start = book.addWorksheet('Start here');
  start.getCell('A1').value = 'Start';
  start.getCell('A2').value = { formula: "COUNT('Driver''s test'!A4:A1003)", result: DATA_ROWS };
  start.getCell('A3').value = { formula: 'SUM(B1:B2*2)', shareType: 'array', ref: 'A3', result: 14 } as ExcelJS.CellFormulaValue;
  start.getCell('B1').value = 3;
  start.getCell('B2').value = 4;

  const readings = book.addWorksheet("Driver's test", { views: [{ state: 'frozen', ySplit: 3 }] });
  readings.getCell('A1').value = 'Readings';
  readings.getRow(3).values = ['loss', 'site', 'lamp', 'note', 'double', 'verdict', 'beside', 'both', 'sum', 'tag', 'before'];
  readings.getCell('A4').numFmt = '0.00';
  readings.getCell('B4').font = { bold: true };
  readings.getCell('C4').protection = { locked: false };
  readings.getRow(4).height = 18;
  const formulas = [
    'IF(ISNUMBER(A4),A4*2,"")',
    'IF(A4>Limits!$B$2,"fail","pass")',
    'A4>Limits!B2',
    'AND(C4,A4>0)',
    'IF(B4="","",LOG10(100)&B4)',
    'IF(ROW()=4,0,A3)',
  ];
  const places = ['E4', 'F4', 'G4', 'H4', 'J4', 'K4'];
  places.forEach((place, index) => {
    readings.getCell(place).value = { formula: formulas[index] ?? '', result: 0 };
  });
  readings.getCell('I4').value = { formula: 'SUM(A$4:A4*2)', shareType: 'array', ref: 'I4', result: 0 } as ExcelJS.CellFormulaValue;
  readings.getCell('E4').numFmt = '0.0';
  readings.addConditionalFormatting({
    ref: 'F4:F1003',
    rules: [{ type: 'expression', priority: 1, formulae: ['F4="fail"'], style: { font: { bold: true } } }],
  });
  (readings as unknown as { dataValidations: { add(range: string, rule: object): void } }).dataValidations.add('A4:A1003', {
    type: 'decimal', operator: 'between', formulae: [0, 999], allowBlank: true,
  });
  readings.autoFilter = 'A3:K3';
  readings.headerFooter.oddFooter = '&CPage &P';

  const limits = book.addWorksheet('Limits');
  limits.addTable({ name: 'LimitTable', ref: 'A1', columns: [{ name: 'check' }, { name: 'at most' }], rows: [['loss', 100]] });
  const picture = book.addImage({ base64: PIXEL, extension: 'png' });
  limits.addImage(picture, 'D1:E3');
  limits.getCell('A2').note = 'from the standard';
  limits.getCell('A5').value = { text: 'source', hyperlink: 'https://example.org/' };
  return new Uint8Array(await book.xlsx.writeBuffer());
}

/** The readings of the test workbook and the results of its formulas, worked out here apart from the assembler. */
export function* makeRows(count = DATA_ROWS): Generator<FillValue[]> {
  let sum = 0;
  let before = 0;
  for (let index = 0; index < count; index += 1) {
    const loss = ((index * 37) % 800) / 4;
    const site = index % 7 === 0 ? null : `Yard "${index % 5}", <north> & 'south'`;
    const lamp = index % 2 === 0;
    sum += loss * 2;
    yield [
      loss, site, lamp, `row ${index}`, loss * 2, loss > 100 ? 'fail' : 'pass', loss > (index === 0 ? 100 : 0),
      lamp && loss > 0, sum, site === null ? '' : `2${site}`, before,
    ];
    before = loss;
  }
}

export async function collect(chunks: AsyncIterable<Uint8Array>): Promise<Buffer> {
  const all: Uint8Array[] = [];
  for await (const chunk of chunks) all.push(chunk);
  return Buffer.concat(all);
}

export async function unzip(bytes: Uint8Array): Promise<Map<string, string>> {
  const files = new Map<string, string>();
  const zip = await fromBufferPromise(Buffer.from(bytes), { lazyEntries: true });
  for await (const entry of zip.eachEntry()) {
    const chunks: Buffer[] = [];
    for await (const chunk of await zip.openReadStreamPromise(entry)) chunks.push(chunk as Buffer);
    files.set(entry.fileName, Buffer.concat(chunks).toString('utf8'));
  }
  return files;
}

/** The names of the elements just below the root, repeated ones once; throws when the text is not well-formed. */
export function childNames(xml: string): string[] {
  const names: string[] = [];
  let depth = 0;
  const parser = new SaxesParser({ xmlns: true });
  parser.on('opentag', ({ name }) => {
    if (depth === 1 && names.at(-1) !== name) names.push(name);
    depth += 1;
  });
  parser.on('closetag', () => {
    depth -= 1;
  });
  parser.write(xml).close();
  return names;
}

/** Undoes `_xHHHH_`, as ECMA-376 Part 1, 22.9.2.19 describes it. */
export function decodeXstring(text: string): string {
  return text.replace(/_x([0-9A-Fa-f]{4})_/g, (_, code: string) => String.fromCharCode(parseInt(code, 16)));
}

interface Skips {
  skip(note?: string): void;
}

/** Says that an outside program is missing: a failure where REQUIRE_OUTSIDE=1, elsewhere a skip with its reason. */
function missing(program: string, context: Skips): undefined {
  if (process.env['REQUIRE_OUTSIDE'] === '1') throw new Error(`${program} is required and missing`);
  context.skip(`${program} is not installed`);
  return undefined;
}

/** Runs a Python script that uses openpyxl over files; gives what it prints. */
export function runOpenpyxl(context: Skips, script: string, ...args: string[]): string | undefined {
  for (const python of ['python3', '/usr/bin/python3']) {
    try {
      execFileSync(python, ['-c', 'import openpyxl'], { stdio: 'ignore' });
    } catch {
      continue;
    }
    return execFileSync(python, ['-c', script, ...args], { encoding: 'utf8', maxBuffer: 1 << 28 });
  }
  return missing('python3-openpyxl', context);
}

/** Converts a workbook with LibreOffice and gives the files made, by name. */
export function runLibreOffice(context: Skips, bytes: Uint8Array, target: string): Map<string, Buffer> | undefined {
  try {
    execFileSync('soffice', ['--version'], { stdio: 'ignore', timeout: 60_000 });
  } catch {
    return missing('soffice', context);
  }
  return inFolder((folder) => {
    writeFileSync(join(folder, 'book.xlsx'), bytes);
    const profile = pathToFileURL(join(folder, 'profile')).href;
    execFileSync('soffice', ['--headless', `-env:UserInstallation=${profile}`, '--convert-to', target, '--outdir', join(folder, 'out'), join(folder, 'book.xlsx')], {
      stdio: 'ignore', timeout: 120_000,
    });
    return new Map(readdirSync(join(folder, 'out')).map((name) => [name, readFileSync(join(folder, 'out', name))]));
  });
}

/** The cells of each sheet as LibreOffice computes them, as text, by sheet name. */
export function computeWithLibreOffice(context: Skips, bytes: Uint8Array): Map<string, string[][]> | undefined {
  const files = runLibreOffice(context, bytes, 'csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,-1');
  if (files === undefined) return undefined;
  return new Map(
    [...files].map(([name, csv]) => [
      name.replace(/^book-|\.csv$/g, ''),
      Papa.parse<string[]>(csv.toString('utf8'), { delimiter: ',', skipEmptyLines: false }).data,
    ]),
  );
}

export function inFolder<T>(work: (folder: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), 'assemble-'));
  try {
    return work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
