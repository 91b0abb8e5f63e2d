import type { DuckDBConnection } from '@duckdb/node-api';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { TreadlebookError, type ErrorCode } from '../util/treadlebook-error.js';

/** A DuckDB of its own, and a folder for its files; both are gone once it is closed. */
export interface OpenedDuckdb {
  readonly connection: DuckDBConnection;
  readonly folder: string;
  /** Closes it; once it is closed, again does nothing. */
  readonly close: () => Promise<void>;
}

/** One thread, so that the same input gives the same bytes; little memory, and nothing that is fetched from a network. */
const SETTINGS = { threads: '1', memory_limit: '2GB', autoinstall_known_extensions: 'false', autoload_known_extensions: 'false' } as const;

/**
 * Opens a DuckDB, whose package is optional and loaded only here.
 *
 * @param failure the code of the error, and what it is about
 * @throws TreadlebookError with that code, where the package is not installed
 */
export async function openDuckdb(failure: { readonly code: ErrorCode; readonly where: string }): Promise<OpenedDuckdb> {
  const { DuckDBInstance } = await loadPackage(failure);
  const folder = await mkdtemp(join(tmpdir(), 'treadlebook-'));
  try {
    const instance = await DuckDBInstance.create(join(folder, 'work.duckdb'), SETTINGS);
    const connection = await instance.connect();
    // Else a moment would be read in the time of the place where it is read.
    await connection.run("SET TimeZone = 'UTC'");
    let closed = false;
    return {
      connection,
      folder,
      close: async () => {
        if (closed) return;
        closed = true;
        connection.closeSync();
        instance.closeSync();
        await rm(folder, { recursive: true, force: true });
      },
    };
  } catch (cause) {
    await rm(folder, { recursive: true, force: true });
    throw new TreadlebookError({ ...failure, what: 'DuckDB, which reads and writes Parquet, cannot be started', mend: 'check that the folder for temporary files has room, or use CSV', cause });
  }
}

async function loadPackage(failure: { readonly code: ErrorCode; readonly where: string }): Promise<typeof import('@duckdb/node-api')> {
  try {
    return await import('@duckdb/node-api');
  } catch (cause) {
    throw new TreadlebookError({ ...failure, what: 'Parquet needs the package @duckdb/node-api, which is not installed for this computer', mend: 'run npm install @duckdb/node-api, or use CSV', cause });
  }
}

/** A text in the quotes of DuckDB. */
export function duckdbText(text: string): string {
  return `'${text.replaceAll("'", "''")}'`;
}

/** A name in the quotes of DuckDB. */
export function duckdbName(name: string): string {
  return `"${name.replaceAll('"', '""')}"`;
}
