import { execFile, execFileSync } from 'node:child_process';
import { chmodSync, existsSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import type { SqlDialectName } from '../../src/expressions/sql-dialect.js';
import { requireOutside } from './recalculate.js';

const run = promisify(execFile);

/** A database of the test's own. */
export interface SqlEngine {
  readonly dialect: SqlDialectName;
  /** Runs statements. */
  run(script: string): Promise<void>;
  /** The rows of a query: numbers, texts, truths and null; dates as texts. */
  rows(query: string): Promise<Record<string, unknown>[]>;
  close(): Promise<void>;
}

interface CanSkip {
  skip(note?: string): void;
}

/** The database for a dialect. Without PostgreSQL, or a path to the programs that start it, the test is skipped, or fails where REQUIRE_OUTSIDE=1; DuckDB comes with the packages. */
export function openEngine(dialect: 'duckdb' | 'postgres', context: CanSkip): Promise<SqlEngine> {
  return dialect === 'duckdb' ? openDuckdb() : openPostgres(context);
}

/** A DuckDB in memory. */
export async function openDuckdb(): Promise<SqlEngine> {
  const { DuckDBInstance } = await import('@duckdb/node-api');
  const instance = await DuckDBInstance.create(':memory:', { threads: '1' });
  const connection = await instance.connect();
  return {
    dialect: 'duckdb',
    run: async (script) => void (await connection.run(script)),
    rows: async (query) => (await connection.runAndReadAll(query)).getRowObjectsJson().map((row) => ({ ...row })),
    close: async () => {
      connection.closeSync();
      instance.closeSync();
    },
  };
}

/** A PostgreSQL cluster in a folder of its own, on a Unix socket. */
async function openPostgres(context: CanSkip): Promise<SqlEngine> {
  const bin = postgresFolder();
  if (bin === null) requireOutside(context, 'the server of PostgreSQL');
  const isRoot = process.getuid?.() === 0;
  requireOutside(context, isRoot ? 'runuser' : 'id');
  const folder = mkdtempSync(join(tmpdir(), 'pg-'));
  const user = isRoot ? 'postgres' : execFileSync('id', ['-un'], { encoding: 'utf8' }).trim();
  chmodSync(folder, 0o700);
  // The server refuses to run as root.
  if (isRoot) execFileSync('chown', ['postgres', folder]);
  const as = (program: string, args: readonly string[]): Promise<unknown> => {
    const path = join(bin!, program);
    return isRoot ? run('runuser', ['-u', 'postgres', '--', path, ...args], { cwd: folder }) : run(path, [...args], { cwd: folder });
  };
  const data = join(folder, 'data');
  await as('initdb', ['-D', data, '-U', user, '-A', 'trust', '-E', 'UTF8', '--locale=C.UTF-8', '--no-sync']);
  await as('pg_ctl', ['-D', data, '-w', '-t', '60', '-l', join(folder, 'log'), '-o', `-k ${folder} -c listen_addresses='' -c fsync=off -c full_page_writes=off -c jit=off`, 'start']);
  const psql = async (text: string): Promise<string> => {
    const file = join(folder, 'script.sql');
    writeFileSync(file, text);
    const { stdout } = await run(join(bin!, 'psql'), ['-X', '-q', '-A', '-t', '-v', 'ON_ERROR_STOP=1', '-h', folder, '-U', user, '-d', 'postgres', '-f', file], { maxBuffer: 1 << 29 });
    return stdout;
  };
  return {
    dialect: 'postgres',
    run: async (script) => void (await psql(script)),
    rows: async (query) => (await psql(`SELECT row_to_json(row_of_query) FROM (${query}) AS row_of_query;`)).split('\n').filter((line) => line !== '').map((line) => JSON.parse(line) as Record<string, unknown>),
    close: async () => {
      await as('pg_ctl', ['-D', data, '-m', 'immediate', 'stop']);
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** Where Debian puts the programs of the server: a folder for each version. */
function postgresFolder(): string | null {
  const root = '/usr/lib/postgresql';
  const versions = existsSync(root) ? readdirSync(root).sort((a, b) => Number(b) - Number(a)) : [];
  const version = versions.find((one) => existsSync(join(root, one, 'bin', 'initdb')));
  return version === undefined ? null : join(root, version, 'bin');
}
