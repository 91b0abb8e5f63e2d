import type { RawRow } from '../../src/util/raw-table.js';
import { readCsv } from '../../src/formats/read-csv.js';
import type { ReadCsvOptions } from '../../src/formats/read-csv.js';
import { writeCsv } from '../../src/formats/write-csv.js';
import type { CsvCell, WriteCsvOptions } from '../../src/formats/write-csv.js';

/** Bytes in pieces of the given lengths, over and over. */
export async function* inChunks(bytes: Uint8Array, lengths: readonly number[] = [bytes.length]): AsyncGenerator<Uint8Array> {
  for (let at = 0, turn = 0; at < bytes.length; turn += 1) {
    const length = Math.max(1, lengths[turn % lengths.length] ?? 1);
    yield bytes.subarray(at, at + length);
    at += length;
  }
}

export async function all<T>(items: AsyncIterable<T>): Promise<T[]> {
  const found: T[] = [];
  for await (const item of items) found.push(item);
  return found;
}

export async function readRows(csv: string | Uint8Array, options: ReadCsvOptions = {}, lengths?: readonly number[]): Promise<RawRow[]> {
  const bytes = typeof csv === 'string' ? new TextEncoder().encode(csv) : csv;
  return all((await readCsv(inChunks(bytes, lengths), options)).rows);
}

export async function readCells(csv: string | Uint8Array, options: ReadCsvOptions = {}, lengths?: readonly number[]): Promise<unknown[]> {
  return (await readRows(csv, options, lengths)).map((row) => row.cells);
}

export async function writeText(rows: Iterable<readonly CsvCell[]>, options: WriteCsvOptions = {}): Promise<string> {
  return (await all(writeCsv(rows, options))).join('');
}
