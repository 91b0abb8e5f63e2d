import Papa from 'papaparse';
import type { RawRow, RawTable } from '../util/raw-table.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { decodeTextStream } from './decode-text.js';
import { guessCsvDelimiter } from './guess-csv-delimiter.js';
import { capsOf, type CsvCaps } from './input-caps.js';
import { restoreCsvText } from './neutralise-csv-text.js';
import { CsvRecordSplitter } from './split-csv-records.js';
import type { CsvRecord } from './split-csv-records.js';

export interface ReadCsvOptions {
  /** One character. Left out, it is guessed among comma, semicolon, tab and bar, or taken from a first line `sep=;`. */
  readonly delimiter?: string;
  /** The file's name, for errors. */
  readonly name?: string;
  /** Bounds that are set otherwise. */
  readonly caps?: Partial<CsvCaps>;
  /** Whether the apostrophe that `writeCsv` puts before `=`, `+`, `-`, `@` and the like is taken away; yes if left out. */
  readonly restoreNeutralised?: boolean;
}

/** How much text is gathered before the delimiter is settled. */
const SAMPLE_LENGTH = 65_536;
const SEPARATOR_LINE = /^sep=([^"\r\n])(?:\r\n|\n|\r|$)/i;

/**
 * A table from CSV, as RFC 4180 has it, read piece by piece in bounded memory: the source is asked for more only as rows are taken.
 * Line ends may be mixed. Every cell is text; a blank line is a row without cells; nothing is trimmed or turned into a number.
 * Once called, walk `rows` (to its end or to a `break`) so that the source is closed.
 *
 * @param chunks the bytes of the file, in any encoding that `decodeTextStream` knows
 * @throws TreadlebookError `usage` for a delimiter that is not one character; from `rows`, `input_unreadable` for a quote that
 * never closes, text after a closing quote, what is beyond a cap, or a broken encoding
 * @example
 * const table = await readCsv(createReadStream('fleet.csv'), { name: 'fleet.csv' });
 * for await (const row of table.rows) console.log(row.number, row.cells); // 1 [ 'unit', 'inspected_on' ]
 */
export async function readCsv(chunks: AsyncIterable<Uint8Array>, options: ReadCsvOptions = {}): Promise<RawTable> {
  const { name = 'the CSV text' } = options;
  if (options.delimiter !== undefined && !/^[^"\r\n\ufeff]$/.test(options.delimiter)) {
    throw new TreadlebookError({ code: 'usage', where: name, what: 'the delimiter must be one character other than a quote', mend: 'give one of , ; | or a tab' });
  }
  const caps = capsOf('csv', options.caps);
  const texts = decodeTextStream(chunks, name);
  let head = '';
  let ended = false;
  while (!ended && head.length < SAMPLE_LENGTH) {
    const next = await texts.next();
    if (next.done) ended = true;
    else head += next.value;
  }
  const separator = SEPARATOR_LINE.exec(head);
  if (separator) head = head.slice(separator[0].length);
  const delimiter = options.delimiter ?? separator?.[1] ?? guessCsvDelimiter(head.slice(0, SAMPLE_LENGTH));
  const { restoreNeutralised = true } = options;
  const splitter = new CsvRecordSplitter({ delimiter, name, firstLine: separator ? 2 : 1, caps });
  return { sheet: '', date1904: false, rows: readRows(inPieces(head, texts), splitter, { delimiter, name, restore: restoreNeutralised }) };
}

interface RowOptions {
  readonly delimiter: string;
  readonly name: string;
  readonly restore: boolean;
}

async function* readRows(texts: AsyncGenerator<string>, splitter: CsvRecordSplitter, options: RowOptions): AsyncGenerator<RawRow> {
  const parser = new Papa.Parser({ delimiter: options.delimiter, newline: '\n' });
  const records: CsvRecord[] = [];
  for await (const piece of texts) {
    splitter.push(piece, records);
    yield* parseRecords(records.splice(0), parser, options);
  }
  splitter.end(records);
  yield* parseRecords(records, parser, options);
}

/** The head, then the rest, in pieces no longer than the sample, so that one huge chunk cannot outrun the caps. */
async function* inPieces(head: string, rest: AsyncGenerator<string>): AsyncGenerator<string> {
  try {
    yield* slices(head);
    for await (const text of rest) yield* slices(text);
  } finally {
    await rest.return(undefined);
  }
}

function* slices(text: string): Generator<string> {
  for (let at = 0; at < text.length; at += SAMPLE_LENGTH) yield text.slice(at, at + SAMPLE_LENGTH);
}

/** The splitter has settled the line ends, so that every record of the batch ends with one newline. */
function* parseRecords(records: readonly CsvRecord[], parser: Papa.Parser, options: RowOptions): Generator<RawRow> {
  if (records.length === 0) return;
  const batch = `${records.map((record) => record.text).join('\n')}\n`;
  const parsed: { data: string[][]; errors: readonly unknown[] } = parser.parse(batch, 0, true);
  if (parsed.data.length !== records.length || parsed.errors.length > 0) {
    const where = `${options.name}, lines ${records[0]?.line} to ${records.at(-1)?.line}`;
    throw new TreadlebookError({ code: 'defect', where, what: 'the records were cut in two ways that differ', mend: 'report it with the file' });
  }
  for (const [index, record] of records.entries()) {
    const cells = record.text === '' ? [] : (parsed.data[index] ?? []);
    yield { number: record.line, cells: options.restore ? cells.map(restoreCsvText) : cells };
  }
}
