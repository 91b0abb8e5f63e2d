import { createHash, type Hash } from 'node:crypto';
import { basename, extname } from 'node:path';
import { decodeText } from '../formats/decode-text.js';
import { capsOf, raiseCap, type InputCaps } from '../formats/input-caps.js';
import { otherFormat } from '../formats/other-format.js';
import { readCsv } from '../formats/read-csv.js';
import { readJson } from '../formats/read-json.js';
import type { XlsxBook } from '../formats/read-xlsx.js';
import { openXlsxInWorker } from '../formats/xlsx-worker/open-xlsx-in-worker.js';
import { shareBytes } from '../formats/xlsx-worker/share-bytes.js';
import { fieldDictionary, type Dictionary } from '../readings/dictionary.js';
import type { ColumnMap } from '../readings/find-header.js';
import { readInspections, type InspectionReader, type ReadOptions } from '../readings/read-inspections.js';
import { fileChunks } from '../util/file-chunks.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { chooseSheet, readTable } from './choose-sheet.js';
import { foundInParquet } from './found-in-parquet.js';
import type { SourceInfo } from './source-info.js';

/** The formats that readings come in. */
export type InputFormat = 'csv' | 'tsv' | 'xlsx' | 'json' | 'parquet';

/** How to open readings. */
export interface OpenOptions {
  /** Columns to look for; those of the shipped table when left out. */
  readonly dictionary?: Dictionary;
  /** The name for messages and Provenance; a path's own name when left out. */
  readonly name?: string;
  /** The format; told by the name's ending, else by the first bytes, when left out. */
  readonly format?: InputFormat;
  /** The sheet of a workbook; when left out `Readings`, else the first sheet in sight that has a header. */
  readonly sheet?: string;
  readonly dateOrder?: 'dmy' | 'mdy' | null;
  /** Which column holds which field, as a person says. */
  readonly map?: ColumnMap;
  /** Bounds within which files are read that are set otherwise; {@link INPUT_CAPS} lists them. */
  readonly caps?: InputCaps;
  /** How units are matched: `exact` (the default), or `folded`, so that `T-7`, `T07` and `t 7` are one. */
  readonly units?: 'exact' | 'folded';
  /** Called as a file is read: how many bytes have been read, and how many it has (0 for a pipe). */
  readonly onRead?: (bytes: number, size: number) => void;
  /** Whether other tables belong to it: a retest may then be of an inspection in one of them. */
  readonly isPart?: boolean;
  /** The spelling that each unit had first, by its key; shared between tables that belong together. */
  readonly spellings?: Map<string, string>;
}

/** Readings that were opened: walk `reader.inspections`, ask for the `source`, and close them. */
export interface OpenedReadings {
  readonly reader: InspectionReader;
  /** Other sheets, hidden ones too, that hold a table of readings and were not read. */
  readonly otherSheets: readonly string[];
  /** The workbook that they stand in; left out for a file that is one table. */
  readonly book?: XlsxBook;
  /** What was read; complete once the inspections have been walked. */
  source(): SourceInfo;
  /** Lets go of the workbook, which a thread of its own reads. What is forgotten without it is let go of some time later. */
  close(): void;
}

/**
 * Opens readings from a file, from bytes or from a stream: CSV, TSV, XLSX, JSON or Parquet.
 *
 * @throws TreadlebookError `input_missing`, `input_unreadable`, `input_empty`, `header_missing`
 * @example
 * const { reader, close } = await openReadings('fleet.csv');
 * for await (const inspection of reader.inspections) console.log(inspection.row);
 * close();
 */
export async function openReadings(input: string | Uint8Array | AsyncIterable<Uint8Array>, options: OpenOptions = {}): Promise<OpenedReadings> {
  const name = options.name ?? (typeof input === 'string' ? basename(input) : 'the input');
  const chunks = chunksOf(input, options.onRead);
  const { head, all } = await peek(chunks);
  const format = options.format ?? formatOf(name, head);
  const hash = createHash('sha256');
  const dictionary = options.dictionary ?? fieldDictionary();
  const readOptions: ReadOptions = { dictionary, name, dateOrder: options.dateOrder ?? null, map: options.map, units: options.units, isPart: options.isPart, spellings: options.spellings };
  if (format === 'xlsx') {
    const caps = capsOf('xlsx', options.caps?.xlsx);
    const book = await openXlsxInWorker(await collect(hashed(all, hash), { name, cap: 'xlsx.fileBytes', most: caps.fileBytes }), { ...caps, name });
    try {
      const { reader, otherSheets } = await chooseSheet(book, options.sheet, readOptions);
      return { ...opened(reader, name, hash, otherSheets), book, close: () => book.close() };
    } catch (error) {
      book.close();
      throw error;
    }
  }
  if (options.sheet !== undefined) throw new TreadlebookError({ code: 'input_unreadable', where: name, what: `there is no sheet ${JSON.stringify(options.sheet)}: the file is one table`, mend: 'leave the sheet out' });
  const other = otherFormat(head);
  if (other) throw new TreadlebookError({ code: 'input_unreadable', where: name, ...other });
  if (format === 'json') {
    const caps = capsOf('json', options.caps?.json);
    const text = decodeText(await collect(hashed(all, hash), { name, cap: 'json.fileBytes', most: caps.fileBytes }));
    return opened(await readInspections(readJson(text, name, caps), readOptions), name, hash);
  }
  if (format === 'parquet') {
    const { readParquet } = await import('../formats/read-parquet.js');
    const parquet = await readParquet(hashed(all, hash), name);
    try {
      return opened(await readTable(foundInParquet(parquet), readOptions), name, hash);
    } catch (error) {
      await parquet.close();
      throw error;
    }
  }
  const table = await readCsv(hashed(all, hash), { name, delimiter: format === 'tsv' ? '\t' : undefined, caps: options.caps?.csv });
  return opened(await readTable(table, readOptions), name, hash);
}

function opened(reader: InspectionReader, name: string, hash: Hash, otherSheets: readonly string[] = []): OpenedReadings {
  let sha256 = '';
  return {
    reader,
    otherSheets,
    source: () => {
      sha256 ||= hash.digest('hex');
      const { rowsRead, rowsBlank, rowsSetAside, inspections } = reader.counts;
      return { name, sheet: reader.sheet, sha256, rows_read: rowsRead, rows_blank: rowsBlank, rows_set_aside: rowsSetAside, inspections };
    },
    close: () => undefined,
  };
}

/** The chunks of a file, of bytes or of a stream. */
export function chunksOf(input: string | Uint8Array | AsyncIterable<Uint8Array>, onRead?: OpenOptions['onRead']): AsyncIterable<Uint8Array> {
  if (input instanceof Uint8Array) return inChunks(input);
  return typeof input === 'string' ? fileChunks(input, onRead) : input;
}

/** So many bytes are taken from a file, or from bytes at hand, at a time. */
const CHUNK = 1 << 18;

/** In pieces, so that of a long table only as much is decoded as is asked for. */
async function* inChunks(bytes: Uint8Array): AsyncGenerator<Uint8Array> {
  for (let at = 0; at < bytes.length; at += CHUNK) yield bytes.subarray(at, at + CHUNK);
}

/** So many bytes tell the format. */
const TELLING_BYTES = 64;

/** The first bytes of every Parquet file, `PAR1`. */
const PARQUET_MARK = [0x50, 0x41, 0x52, 0x31] as const;

/** The first bytes, without losing them. */
async function peek(chunks: AsyncIterable<Uint8Array>): Promise<{ readonly head: Uint8Array; readonly all: AsyncIterable<Uint8Array> }> {
  const iterator = chunks[Symbol.asyncIterator]();
  let head = new Uint8Array();
  while (head.length < TELLING_BYTES) {
    const next = await iterator.next();
    if (next.done) break;
    head = head.length === 0 ? new Uint8Array(next.value) : new Uint8Array(Buffer.concat([head, next.value]));
  }
  const all = (async function* (): AsyncGenerator<Uint8Array> {
    try {
      if (head.length > 0) yield head;
      for (let next = await iterator.next(); !next.done; next = await iterator.next()) yield next.value;
    } finally {
      await iterator.return?.();
    }
  })();
  return { head, all };
}

/** The format that a name's ending or the first bytes tell. */
export function formatOf(name: string, head: Uint8Array): InputFormat {
  const ending = extname(name).toLowerCase();
  const isZip = head[0] === 0x50 && head[1] === 0x4b;
  const isOle = head[0] === 0xd0 && head[1] === 0xcf;
  if (isZip || isOle || ['.xlsx', '.xlsm', '.xls', '.ods'].includes(ending)) return 'xlsx';
  if (ending === '.parquet' || PARQUET_MARK.every((byte, index) => head[index] === byte)) return 'parquet';
  if (ending === '.tsv' || ending === '.tab') return 'tsv';
  if (ending === '.json') return 'json';
  if (ending === '.csv' || ending === '.txt') return 'csv';
  const text = new TextDecoder().decode(head.slice(0, TELLING_BYTES)).trimStart();
  return text.startsWith('[') || text.startsWith('{') ? 'json' : 'csv';
}

async function* hashed(chunks: AsyncIterable<Uint8Array>, hash: Hash): AsyncGenerator<Uint8Array> {
  for await (const chunk of chunks) {
    hash.update(chunk);
    yield chunk;
  }
}

/** How many bytes of a file are gathered at most, and which cap says so. */
interface GatherCap {
  readonly name: string;
  readonly cap: string;
  readonly most: number;
}

/**
 * All chunks as one, in memory that threads share.
 *
 * @throws TreadlebookError `input_unreadable` as soon as there are too many bytes
 */
export async function collect(chunks: AsyncIterable<Uint8Array>, { name, cap, most }: GatherCap): Promise<Uint8Array> {
  const pieces: Uint8Array[] = [];
  let length = 0;
  for await (const chunk of chunks) {
    length += chunk.length;
    if (length > most) throw new TreadlebookError({ code: 'input_unreadable', where: name, what: `the file holds more than ${most} bytes`, mend: raiseCap(cap, most) });
    pieces.push(chunk);
  }
  return shareBytes(pieces);
}
