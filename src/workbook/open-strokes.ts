import { basename } from 'node:path';
import { decodeText } from '../formats/decode-text.js';
import { capsOf, type InputCaps } from '../formats/input-caps.js';
import { readCsv } from '../formats/read-csv.js';
import { readJson } from '../formats/read-json.js';
import type { XlsxBook, XlsxSheet } from '../formats/read-xlsx.js';
import { openXlsxInWorker } from '../formats/xlsx-worker/open-xlsx-in-worker.js';
import { joinColumns } from '../readings/join-columns.js';
import type { Problem } from '../readings/problem.js';
import { evaluateStrokes } from '../strokes/evaluate-strokes.js';
import { isStrokeTable, readStrokes, type ReadStrokes } from '../strokes/read-strokes.js';
import type { Stroke } from '../strokes/stroke.js';
import type { RawTable } from '../util/raw-table.js';
import { sha256 } from '../util/sha256.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import type { EvaluatedStrokes, StrokesSource } from './evaluated-strokes.js';
import { chunksOf, collect, formatOf } from './open-readings.js';
import { joinSources } from './source-info.js';
import { STROKES_SHEET } from './strokes-layout.js';

/** How to open strokes. */
export interface OpenStrokesOptions {
  /** The name for messages and Provenance; a path's own name when left out. */
  readonly name?: string;
  readonly dateOrder?: 'dmy' | 'mdy' | null;
  /** Bounds within which files are read that are set otherwise. */
  readonly caps?: InputCaps;
}

/** Strokes that were found, if any, and what could not be taken as it stood. */
export interface OpenedStrokes {
  readonly strokes: EvaluatedStrokes | null;
  readonly problems: readonly Problem[];
}

/**
 * Opens and evaluates a table of strokes of its own: CSV, TSV, XLSX or JSON. Of a workbook it takes the sheet Strokes, else the first in
 * sight that has the columns of strokes.
 *
 * @throws TreadlebookError `input_missing`, `input_unreadable`, `header_missing`, `input_empty`
 * @example (await openStrokes('strokes.csv')).strokes.evaluation.vehicles[0].defective_share
 */
export async function openStrokes(input: string | Uint8Array | AsyncIterable<Uint8Array>, options: OpenStrokesOptions = {}): Promise<OpenedStrokes & { readonly strokes: EvaluatedStrokes }> {
  const name = options.name ?? (typeof input === 'string' ? basename(input) : 'the strokes');
  const caps = capsOf('xlsx', options.caps?.xlsx);
  const bytes = await collect(chunksOf(input), { name, cap: 'xlsx.fileBytes', most: caps.fileBytes });
  const format = formatOf(name, bytes.subarray(0, 64));
  const hash = sha256(bytes);
  if (format === 'parquet') throw new TreadlebookError({ code: 'input_unreadable', where: name, what: 'strokes are not read from Parquet', mend: 'give them as .csv, .tsv, .xlsx or .json' });
  if (format === 'xlsx') {
    const book = await openXlsxInWorker(bytes, { ...caps, name });
    const { strokes, problems } = await strokesOfBook(book, { ...options, name }, hash).finally(() => book.close());
    if (strokes !== null) return { strokes, problems };
    throw new TreadlebookError({ code: 'header_missing', where: name, what: 'no sheet has the columns unit, position and stroke', mend: `name the sheet ${STROKES_SHEET} and put the column names above the rows` });
  }
  const table = format === 'json' ? readJson(decodeText(bytes), name, options.caps?.json) : await readCsv(once(bytes), { name, delimiter: format === 'tsv' ? '\t' : undefined, caps: options.caps?.csv });
  const read = await readStrokes(table, { name, dateOrder: options.dateOrder, sheet: name });
  if (read.strokes.length === 0) throw new TreadlebookError({ code: 'input_empty', where: name, what: 'there is no brake chamber below the header', mend: 'type or paste at least one row' });
  return { strokes: evaluated(read, name, hash), problems: read.problems };
}

/**
 * The strokes of a workbook: the sheet Strokes, else the first in sight with the columns of strokes. Other such sheets are named, not read.
 *
 * @param hash SHA-256 of the workbook's bytes
 */
export async function strokesOfBook(book: XlsxBook, options: OpenStrokesOptions & { readonly name: string }, hash: string): Promise<OpenedStrokes> {
  const sheets = await strokeSheets(book);
  const own = book.sheets.find((sheet) => isNamedStrokes(sheet));
  const chosen = own ?? sheets.find(({ state }) => state === 'visible');
  const problems: Problem[] = sheets.filter((sheet) => sheet !== chosen).map(({ name }) => notRead(name, 'another sheet of strokes', `one sheet of strokes; put its rows below those of ${chosen?.name ?? STROKES_SHEET}, or unhide it`));
  if (!chosen) return { strokes: null, problems };
  if (!sheets.includes(chosen)) {
    if (await isEmpty(chosen.table())) return { strokes: null, problems };
    return { strokes: null, problems: [...problems, notRead(chosen.name, 'no header with the columns unit, position and stroke', 'the column names above the rows, at least unit, position, chamber_size and stroke')] };
  }
  const read = await readStrokes(chosen.table(), { name: options.name, dateOrder: options.dateOrder });
  return { strokes: read.strokes.length === 0 ? null : evaluated(read, options.name, hash), problems: [...problems, ...read.problems] };
}

/** The strokes of several workbooks as one table, in their order; brakes that stand in two of them, the same in every entry, once. */
export function joinStrokes(opened: readonly OpenedStrokes[]): OpenedStrokes {
  const problems = opened.flatMap((one) => one.problems);
  const tables = opened.flatMap(({ strokes }) => strokes ?? []);
  const [first, ...others] = tables;
  if (first === undefined || others.length === 0) return { strokes: first ?? null, problems };
  const { columns, places } = joinColumns(tables.map((table) => table.columns));
  const held = new Set<string>();
  const strokes: Stroke[] = [];
  let before = 0;
  for (const [index, table] of tables.entries()) {
    let last = before;
    for (const stroke of table.strokes) {
      const row = before + stroke.row;
      last = Math.max(last, row);
      const entries = JSON.stringify(stroke.entries);
      if (index > 0 && held.has(entries)) continue;
      held.add(entries);
      strokes.push({ ...stroke, row, extra: places[index]!(stroke.extra) });
    }
    before = last;
  }
  const sources: [StrokesSource, ...StrokesSource[]] = [first.source, ...others.map(({ source }) => source)];
  const passedOver = sources.reduce((sum, source) => sum + source.strokes, 0) - strokes.length;
  const source: StrokesSource = { ...joinSources(sources, passedOver), strokes: strokes.length };
  return { strokes: { strokes, columns, evaluation: evaluateStrokes(strokes.map(({ entries }) => entries)), source }, problems };
}

/** The sheets of a workbook that hold a table of strokes, hidden ones too. */
export async function strokeSheets(book: XlsxBook): Promise<readonly XlsxSheet[]> {
  const found: XlsxSheet[] = [];
  for (const sheet of book.sheets) if (!isReadings(sheet) && (await isStrokeTable(sheet.table()))) found.push(sheet);
  return found;
}

function isNamedStrokes({ name }: XlsxSheet): boolean {
  return name.toLowerCase() === STROKES_SHEET.toLowerCase();
}

function isReadings({ name }: XlsxSheet): boolean {
  return name.toLowerCase() === 'readings';
}

function evaluated({ strokes, columns, sheet, counts }: ReadStrokes, name: string, hash: string): EvaluatedStrokes {
  const source: StrokesSource = { name, sheet: sheet === name ? '' : sheet, sha256: hash, rows_read: counts.rowsRead, rows_blank: counts.rowsBlank, rows_set_aside: counts.rowsSetAside, strokes: counts.strokes };
  return { strokes, columns, evaluation: evaluateStrokes(strokes.map(({ entries }) => entries)), source };
}

function notRead(sheet: string, found: string, expected: string): Problem {
  return { code: 'sheet_not_read', sheet, row: null, column: '', cell: '', found, expected };
}

async function isEmpty(table: RawTable): Promise<boolean> {
  for await (const { cells } of table.rows) if (cells.some((cell) => cell !== null && cell !== '')) return false;
  return true;
}

async function* once(bytes: Uint8Array): AsyncGenerator<Uint8Array> {
  yield bytes;
}
