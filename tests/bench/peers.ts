import { createReadStream } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { createDeflateRaw, createInflateRaw } from 'node:zlib';
import ExcelJS from 'exceljs';
import Papa from 'papaparse';
import yauzl from 'yauzl';
import type { Clock, Measurement } from './measure.js';
import type { BenchFiles, Cell, RepeatedCells } from './bench-files.js';

/** The level at which the workbook is deflated, for the floor under writing it. */
const DEFLATE_LEVEL = 5;

async function repeatedCells({ cells, inspections }: BenchFiles): Promise<RepeatedCells> {
  const repeated = JSON.parse(await readFile(cells, 'utf8')) as RepeatedCells;
  if (repeated.rows.length === 0 || repeated.rows.length > inspections) throw new Error('no cells to write');
  return repeated;
}

function letters(column: number): string {
  return column < 26 ? String.fromCharCode(65 + column) : letters(Math.floor(column / 26) - 1) + letters(column % 26);
}

/** The XML of a row as short as a workbook takes it, with nothing checked and nothing escaped but the ampersand. */
function rowXml(cells: readonly Cell[], columns: readonly string[], row: number): string {
  let xml = `<row r="${row}">`;
  for (let column = 0; column < cells.length; column++) {
    const cell = cells[column]!;
    if (typeof cell === 'number') xml += `<c r="${columns[column]}${row}"><v>${cell}</v></c>`;
    else if (cell !== null) xml += `<c r="${columns[column]}${row}" t="str"><v>${cell}</v></c>`;
  }
  return `${xml}</row>`;
}

const floors: Record<string, Measurement> = {
  'papaparse alone': async ({ csv }, start) => {
    start();
    let count = 0;
    await new Promise<void>((done, fail) => {
      Papa.parse<string[]>(createReadStream(csv, 'utf8') as unknown as File, { chunk: ({ data }) => void (count += data.length), complete: () => done(), error: fail });
    });
    return count;
  },
  'sheet XML and deflate alone': async (files, start) => {
    const { rows } = await repeatedCells(files);
    const columns = Array.from({ length: 400 }, (_, column) => letters(column));
    start();
    const deflate = createDeflateRaw({ level: DEFLATE_LEVEL });
    let bytes = 0;
    deflate.on('data', (chunk: Buffer) => void (bytes += chunk.length));
    let text = '';
    for (let index = 0; index < files.inspections; index++) {
      text += rowXml(rows[index % rows.length]!, columns, index + 1);
      if (text.length < 65_536) continue;
      if (!deflate.write(text)) await new Promise((done) => deflate.once('drain', done));
      text = '';
    }
    await new Promise<void>((done) => deflate.end(text, done).on('end', done));
    return bytes;
  },
  'inflate alone': async ({ xlsx }, start) => {
    start();
    const bytes = await readFile(xlsx);
    const zip = await yauzl.fromBufferPromise(bytes, { lazyEntries: true });
    let largest: yauzl.Entry | null = null;
    for await (const entry of zip.eachEntry()) if (largest === null || entry.uncompressedSize > largest.uncompressedSize) largest = entry;
    const { fileDataStart } = await zip.readLocalFileHeaderPromise(largest!, { minimal: true });
    const inflate = createInflateRaw({ chunkSize: 65_536 });
    inflate.end(bytes.subarray(fileDataStart, fileDataStart + largest!.compressedSize));
    let length = 0;
    for await (const chunk of inflate) length += (chunk as Buffer).length;
    return length;
  },
};

/** With formulas: as ours has them, one text a column and the rows sharing it, with each stored result, and a style a column. */
async function writeWithExceljs(files: BenchFiles, start: Clock, withFormulas: boolean): Promise<number> {
  const { rows, formulas } = await repeatedCells(files);
  start();
  const book = new ExcelJS.stream.xlsx.WorkbookWriter({ filename: join(files.folder, 'exceljs.xlsx'), useStyles: withFormulas, useSharedStrings: false });
  const sheet = book.addWorksheet('Readings');
  if (withFormulas) sheet.columns = formulas.map((formula) => ({ style: { protection: { locked: formula !== null }, font: { name: 'Arial', size: 10 }, numFmt: formula === null ? '@' : '0.00' } }));
  for (let index = 0; index < files.inspections; index++) {
    const row = rows[index % rows.length]!;
    sheet.addRow(withFormulas ? formulas.map((formula, column) => (formula === null ? row[column] : excelFormula(formula, column, index + 1, files.inspections, row[column] ?? ''))) : row).commit();
  }
  await book.commit();
  return files.inspections;
}

function excelFormula(formula: string, column: number, row: number, last: number, result: Cell): object {
  const at = letters(column);
  return row === 1 ? { formula, result, shareType: 'shared', ref: `${at}1:${at}${last}` } : { sharedFormula: `${at}1`, result };
}

const exceljs: Record<string, Measurement> = {
  'exceljs streaming writer': (files, start) => writeWithExceljs(files, start, true),
  'exceljs streaming writer, values alone': (files, start) => writeWithExceljs(files, start, false),
  'exceljs streaming reader': async ({ xlsx }, start) => {
    start();
    const book = new ExcelJS.stream.xlsx.WorkbookReader(xlsx, { worksheets: 'emit', sharedStrings: 'cache', styles: 'cache', hyperlinks: 'ignore' });
    let count = 0;
    for await (const sheet of book) {
      if ((sheet as unknown as { readonly name: string }).name !== 'Readings') {
        for await (const _ of sheet) continue;
        continue;
      }
      for await (const row of sheet) count += row.cellCount;
      break;
    }
    return count;
  },
};

const byHand: Record<string, Measurement> = {
  'hand-written evaluator': async ({ csv }, start) => {
    const { compileLimitSet, loadLimitSet, openReadings } = await import('../../dist/index.js');
    const { handWrittenEvaluator } = await import('./hand-written-evaluator.js');
    const { dictionary } = compileLimitSet(loadLimitSet(), { optionalColumns: new Set() });
    const { reader } = await openReadings(csv, { dictionary });
    const inspections = [];
    for await (const inspection of reader.inspections) inspections.push(inspection);
    const evaluate = handWrittenEvaluator(dictionary);
    start();
    let weight = 0;
    for (const inspection of inspections) {
      const { reason, measures, checks } = evaluate(inspection);
      weight += reason.length + Object.keys(measures).length;
      for (const check of checks) weight += check.reason.length;
    }
    return weight;
  },
};

/** What ours is set beside, by name: floors that nothing can go below, and other programs at the same job. */
export const PEERS: Readonly<Record<string, Measurement>> = { ...floors, ...exceljs, ...byHand };
