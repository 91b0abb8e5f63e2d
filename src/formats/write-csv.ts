import { neutraliseCsvText } from './neutralise-csv-text.js';

/** A cell that CSV can hold. A blank is null. */
export type CsvCell = string | number | boolean | null;

export interface WriteCsvOptions {
  /** A comma if left out. */
  readonly delimiter?: string;
  /** Whether text that a spreadsheet would take for a formula gets a leading apostrophe; yes if left out. */
  readonly neutralise?: boolean;
}

/**
 * One CSV record without its line end. A field is quoted where RFC 4180 asks for it, where it begins or ends with a
 * space, and where it would be read as something else: a lone empty field, or a first field that looks like `sep=;`.
 *
 * @example csvLine(['T-104', 7.25, null, 'hose, left']) // 'T-104,7.25,,"hose, left"'
 */
export function csvLine(cells: readonly CsvCell[], delimiter = ','): string {
  if (cells.length === 1 && (cells[0] === '' || cells[0] === null)) return '""';
  return cells.map((cell, index) => csvField(cell, delimiter, index === 0)).join(delimiter);
}

function csvField(cell: CsvCell, delimiter: string, first: boolean): string {
  if (cell === null) return '';
  const text = String(cell);
  const quote = text.includes(delimiter) || /["\r\n]|^ | $/.test(text) || (first && /^(?:sep=|\ufeff)/i.test(text));
  return quote ? `"${text.replaceAll('"', '""')}"` : text;
}

/**
 * CSV text as RFC 4180 has it, one record at a time, each with its CRLF. Numbers are written as JavaScript prints them.
 * Unless `neutralise` is false, text that a spreadsheet would take for a formula gets a leading apostrophe
 * (see `neutraliseCsvText`), which `readCsv` takes away again.
 *
 * @example
 * for await (const line of writeCsv([['unit', 'notes'], ['T-104', '=1+1']])) process.stdout.write(line);
 * // unit,notes
 * // T-104,'=1+1
 */
export async function* writeCsv(
  rows: AsyncIterable<readonly CsvCell[]> | Iterable<readonly CsvCell[]>,
  options: WriteCsvOptions = {},
): AsyncGenerator<string> {
  for await (const cells of rows) yield csvRecord(cells, options);
}

/** One record as {@link writeCsv} writes it, with its CRLF. */
export function csvRecord(cells: readonly CsvCell[], { delimiter = ',', neutralise = true }: WriteCsvOptions = {}): string {
  const safe = neutralise ? cells.map((cell) => (typeof cell === 'string' ? neutraliseCsvText(cell) : cell)) : cells;
  return `${csvLine(safe, delimiter)}\r\n`;
}
