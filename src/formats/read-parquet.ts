import type { DuckDBConnection, DuckDBType } from '@duckdb/node-api';
import { createWriteStream } from 'node:fs';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type { RawCell, RawRow, RawTable } from '../util/raw-table.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { duckdbName, duckdbText, openDuckdb, type OpenedDuckdb } from './open-duckdb.js';

/** What a file may hold at most: a few bytes of Parquet can stand for any number of cells. */
const CAPS = { cells: 200_000_000, characters: 2 ** 30, columns: 16_384 } as const;

/** A table whose file is open until its rows were walked to their end, or it is closed. */
export interface ParquetTable extends RawTable {
  close(): Promise<void>;
}

/** The types that are read, each by an expression that gives a text, a number or a truth. */
const READ_AS: Readonly<Record<string, (column: string) => string>> = {
  BOOLEAN: (column) => column,
  TINYINT: asDouble,
  SMALLINT: asDouble,
  INTEGER: asDouble,
  UTINYINT: asDouble,
  USMALLINT: asDouble,
  UINTEGER: asDouble,
  DOUBLE: (column) => column,
  // By its own digits: 104.1, not 104.0999984741211.
  FLOAT: (column) => asDouble(asText(column)),
  BIGINT: asText,
  UBIGINT: asText,
  HUGEINT: asText,
  UHUGEINT: asText,
  DECIMAL: asText,
  VARCHAR: asText,
  ENUM: asText,
  UUID: asText,
  DATE: asText,
  TIME: asText,
  TIMESTAMP: withoutMidnight,
  TIMESTAMP_S: withoutMidnight,
  TIMESTAMP_MS: withoutMidnight,
  TIMESTAMP_NS: withoutMidnight,
  'TIMESTAMP WITH TIME ZONE': (column) => withoutMidnight(`CAST(${column} AS TIMESTAMP)`),
};

function asDouble(column: string): string {
  return `CAST(${column} AS DOUBLE)`;
}

function asText(column: string): string {
  return `CAST(${column} AS VARCHAR)`;
}

function withoutMidnight(column: string): string {
  return `regexp_replace(${asText(column)}, ' 00:00:00$', '')`;
}

/**
 * Reads a Parquet file as a table: its column names are the header. Dates are given as texts; a time of day at midnight is left out.
 * The file is copied to a folder for temporary files, where the embedded DuckDB reads it.
 *
 * @throws TreadlebookError `input_unreadable` for what is no whole Parquet file, for nested columns, and for more than this can hold
 */
export async function readParquet(chunks: AsyncIterable<Uint8Array>, name: string): Promise<ParquetTable> {
  const duckdb = await openDuckdb({ code: 'input_unreadable', where: name });
  try {
    const path = join(duckdb.folder, 'input.parquet');
    await pipeline(Readable.from(chunks), createWriteStream(path));
    const source = `read_parquet(${duckdbText(path)}, hive_partitioning = false)`;
    const columns = await columnsOf(duckdb.connection, source, name);
    await checkCells(duckdb.connection, path, columns.length, name);
    const selected = columns.map(({ name: column, type }, index) => `${readAs(column, type, name)} AS c${index}`);
    return { sheet: '', date1904: false, rows: rowsOf(duckdb, `SELECT ${selected.join(', ')} FROM ${source}`, columns.map((column) => column.name), name), close: duckdb.close };
  } catch (error) {
    await duckdb.close();
    throw error;
  }
}

interface ParquetColumn {
  readonly name: string;
  readonly type: DuckDBType;
}

async function columnsOf(connection: DuckDBConnection, source: string, name: string): Promise<ParquetColumn[]> {
  const result = await asked(() => connection.run(`SELECT * FROM ${source} LIMIT 0`), name);
  const types = result.columnTypes();
  if (types.length > CAPS.columns) throw unreadable(name, `it has ${types.length} columns`, `keep to ${CAPS.columns}`);
  return result.columnNames().map((column, index) => ({ name: column, type: types[index]! }));
}

async function checkCells(connection: DuckDBConnection, path: string, columns: number, name: string): Promise<void> {
  const result = await asked(() => connection.runAndReadAll(`SELECT CAST(sum(num_rows) AS DOUBLE) FROM parquet_file_metadata(${duckdbText(path)})`), name);
  const cells = Number(result.getRows()[0]?.[0] ?? 0) * columns;
  if (!(cells <= CAPS.cells)) throw unreadable(name, `it says that it has ${cells} cells`, `keep to ${CAPS.cells.toLocaleString('en')}; for more, load the file into a database and run what \`treadlebook sql\` prints`);
}

function readAs(column: string, type: DuckDBType, name: string): string {
  const written = type.toString().replace(/\(.*$/, '');
  const read = Object.hasOwn(READ_AS, written) && !type.toString().endsWith(']') ? READ_AS[written] : undefined;
  if (read === undefined) throw unreadable(name, `the column ${JSON.stringify(column.slice(0, 60))} holds ${type.toString().slice(0, 60)}, which is no single reading`, 'give each reading a column of its own, of a number, a text, a truth or a date');
  return read(duckdbName(column));
}

async function* rowsOf(duckdb: OpenedDuckdb, query: string, header: readonly string[], name: string): AsyncGenerator<RawRow> {
  try {
    yield { number: 1, cells: header };
    const result = await asked(() => duckdb.connection.stream(query), name);
    let number = 1;
    let characters = 0;
    for (let chunk = await asked(() => result.fetchChunk(), name); chunk !== null && chunk.rowCount > 0; chunk = await asked(() => result.fetchChunk(), name)) {
      for (const row of chunk.getRows()) {
        const cells = row.map((value): RawCell => (typeof value === 'number' && !Number.isFinite(value) ? String(value) : (value as RawCell)));
        for (const cell of cells) if (typeof cell === 'string') characters += cell.length;
        if (characters > CAPS.characters) throw unreadable(name, 'its texts are longer than 1 GiB together', 'leave out the columns that are no readings');
        number += 1;
        yield { number, cells };
      }
    }
  } finally {
    await duckdb.close();
  }
}

async function asked<T>(question: () => Promise<T>, name: string): Promise<T> {
  try {
    return await question();
  } catch (cause) {
    const [reason] = (cause instanceof Error ? cause.message : '').split('\n');
    throw new TreadlebookError({ code: 'input_unreadable', where: name, what: `it is no whole Parquet file that can be read (${withoutPaths(reason!)})`, mend: 'write it again, or give CSV', cause });
  }
}

/** DuckDB names the copy, which nobody knows. */
function withoutPaths(reason: string): string {
  return reason.replace(/\s*'[^']*input\.parquet'/g, '').replace(/\s*"[^"]*input\.parquet"/g, '').replace(/\s+/g, ' ').slice(0, 160).trim();
}

function unreadable(where: string, what: string, mend: string): TreadlebookError {
  return new TreadlebookError({ code: 'input_unreadable', where, what, mend });
}
