import type { DuckDBAppender, DuckDBDateValue } from '@duckdb/node-api';
import { createReadStream } from 'node:fs';
import { join } from 'node:path';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { duckdbName, duckdbText, openDuckdb } from './open-duckdb.js';

/** A column of a Parquet file. A date is given as `yyyy-mm-dd`. */
export interface ParquetColumn {
  readonly name: string;
  readonly type: 'VARCHAR' | 'DOUBLE' | 'BIGINT' | 'BOOLEAN' | 'DATE';
}

/** A cell of a Parquet file; null is a blank. */
export type ParquetCell = string | number | boolean | null;

const MS_PER_DAY = 86_400_000;

/**
 * The bytes of a Parquet file, made by the embedded DuckDB. The same rows give the same bytes.
 *
 * @param columns with names that differ, in small and capital letters alike
 * @throws TreadlebookError `output_unwritable`
 */
export async function* writeParquet(columns: readonly ParquetColumn[], rows: Iterable<readonly ParquetCell[]>, name: string): AsyncGenerator<Uint8Array> {
  const duckdb = await openDuckdb({ code: 'output_unwritable', where: name });
  try {
    const { connection, folder } = duckdb;
    const path = join(folder, 'output.parquet');
    try {
      await connection.run(`CREATE TABLE cells (${columns.map((column) => `${duckdbName(column.name)} ${column.type}`).join(', ')})`);
      const { DuckDBDateValue: DateValue } = await import('@duckdb/node-api');
      const appender = await connection.createAppender('cells');
      for (const row of rows) {
        for (const [index, cell] of row.entries()) append(appender, columns[index]!.type, cell, DateValue);
        appender.endRow();
      }
      appender.closeSync();
      await connection.run(`COPY cells TO ${duckdbText(path)} (FORMAT parquet, COMPRESSION zstd)`);
    } catch (cause) {
      const [reason] = (cause instanceof Error ? cause.message : 'unknown fault').split('\n');
      throw new TreadlebookError({ code: 'output_unwritable', where: name, what: `the Parquet file cannot be made (${reason!.slice(0, 160)})`, mend: 'check that the folder for temporary files has room, or write CSV', cause });
    }
    yield* createReadStream(path, { highWaterMark: 1 << 20 }) as AsyncIterable<Uint8Array>;
  } finally {
    await duckdb.close();
  }
}

function append(appender: DuckDBAppender, type: ParquetColumn['type'], cell: ParquetCell, DateValue: typeof DuckDBDateValue): void {
  if (cell === null) return appender.appendNull();
  switch (type) {
    case 'VARCHAR':
      return appender.appendVarchar(String(cell));
    case 'DOUBLE':
      return appender.appendDouble(Number(cell));
    case 'BIGINT':
      return appender.appendBigInt(BigInt(cell));
    case 'BOOLEAN':
      return appender.appendBoolean(cell === true);
    case 'DATE':
      return appender.appendDate(new DateValue(Date.parse(`${String(cell)}T00:00:00Z`) / MS_PER_DAY));
  }
}
