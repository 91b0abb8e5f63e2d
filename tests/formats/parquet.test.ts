import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { readParquet } from '../../src/formats/read-parquet.js';
import { writeParquet } from '../../src/formats/write-parquet.js';
import type { RawCell } from '../../src/util/raw-table.js';
import { TreadlebookError } from '../../src/util/treadlebook-error.js';
import { openEngine } from '../support/sql-engines.js';

const folder = mkdtempSync(join(tmpdir(), 'parquet-'));
afterAll(() => rmSync(folder, { recursive: true }));

async function* once(bytes: Uint8Array): AsyncGenerator<Uint8Array> {
  yield bytes;
}

/** A file that DuckDB itself makes of a query. */
async function fileOf(query: string, context: { skip(): void }): Promise<Uint8Array> {
  const engine = await openEngine('duckdb', context);
  const path = join(folder, 'made.parquet');
  await engine.run(`COPY (${query}) TO '${path}' (FORMAT parquet)`);
  await engine.close();
  return new Uint8Array(readFileSync(path));
}

async function cellsOf(bytes: Uint8Array): Promise<(readonly RawCell[])[]> {
  const rows: (readonly RawCell[])[] = [];
  for await (const { cells } of (await readParquet(once(bytes), 'fleet.parquet')).rows) rows.push(cells);
  return rows;
}

async function errorOf(work: () => Promise<unknown>): Promise<TreadlebookError> {
  const error: unknown = await work().then(() => null, (cause: unknown) => cause);
  expect(error).toBeInstanceOf(TreadlebookError);
  return error as TreadlebookError;
}

describe('reading Parquet', () => {
  it('gives names as a header and each type as what it says', async (context) => {
    const bytes = await fileOf(
      `SELECT 'K-101' AS unit, DATE '2026-03-14' AS day, TIMESTAMP '2026-03-14 00:00:00' AS midnight, TIMESTAMP '2026-03-14 08:30:00' AS moment, TIMESTAMPTZ '2026-03-14 08:30:00+02' AS zoned,
        CAST(104.1 AS FLOAT) AS single, CAST(104.1 AS DOUBLE) AS double, CAST(104.10 AS DECIMAL(9,2)) AS decimal, CAST(7 AS TINYINT) AS tiny, CAST(2147483647 AS INTEGER) AS whole,
        9007199254740993 AS big, TRUE AS yes, CAST('a' AS ENUM ('a', 'b')) AS choice, CAST('nan' AS DOUBLE) AS odd, TIME '04:10:00' AS clock, CAST(NULL AS DOUBLE) AS blank, '' AS "Empty text"`,
      context,
    );
    expect(await cellsOf(bytes)).toStrictEqual([
      ['unit', 'day', 'midnight', 'moment', 'zoned', 'single', 'double', 'decimal', 'tiny', 'whole', 'big', 'yes', 'choice', 'odd', 'clock', 'blank', 'Empty text'],
      ['K-101', '2026-03-14', '2026-03-14', '2026-03-14 08:30:00', '2026-03-14 06:30:00', 104.1, 104.1, '104.10', 7, 2147483647, '9007199254740993', true, 'a', 'NaN', '04:10:00', null, ''],
    ]);
  });

  it.for(['[1, 2]', '{ a: 1 }', 'MAP { 1: 2 }', "CAST('x' AS BLOB)", "INTERVAL '1 day'", '[[1]]'])('refuses a column that holds %s', async (value, context) => {
    const bytes = await fileOf(`SELECT 'K-1' AS unit, ${value} AS "Odd column"`, context);
    const error = await errorOf(() => cellsOf(bytes));
    expect([error.code, error.where]).toStrictEqual(['input_unreadable', 'fleet.parquet']);
    expect(error.what).toContain('"Odd column"');
  });

  it('refuses what is no whole Parquet file, and leaves nothing behind', async (context) => {
    const whole = await fileOf(`SELECT 'K-' || range AS unit, DATE '2026-03-14' AS inspected_on, random() AS cut_in FROM range(5000)`, context);
    const spoilt = whole.slice();
    spoilt.fill(0xff, 20, 4000);
    const temporary = join(folder, 'temporary');
    mkdirSync(temporary);
    vi.stubEnv('TMPDIR', temporary);
    for (const bytes of [new Uint8Array(), new TextEncoder().encode('unit,inspected_on\nK-1,2026-03-14\n'), new TextEncoder().encode('PAR1'), new TextEncoder().encode('PAR1....PAR1'), whole.slice(0, whole.length - 10), whole.slice(0, 40), whole.slice(5), spoilt]) {
      const error = await errorOf(() => cellsOf(bytes));
      expect(error.code).toBe('input_unreadable');
      expect(error.message).not.toContain(temporary);
      expect(error.message).toContain('no whole Parquet file');
    }
    expect(readdirSync(temporary)).toStrictEqual([]);
    vi.unstubAllEnvs();
  });

  it('refuses a small file that stands for more cells than can be held', async (context) => {
    const bytes = await fileOf('SELECT 1 AS unit, 2 AS a, 3 AS b FROM range(67000000)', context);
    const error = await errorOf(() => cellsOf(bytes));
    expect([error.code, error.what]).toStrictEqual(['input_unreadable', 'it says that it has 201000000 cells']);
  });
});

describe('writing Parquet', () => {
  const columns = [{ name: 'a"b', type: 'VARCHAR' }, { name: 'n', type: 'DOUBLE' }, { name: 'w', type: 'BIGINT' }, { name: 'y', type: 'BOOLEAN' }, { name: 'd', type: 'DATE' }] as const;
  const rows = [['x', 0.1, 3, true, '2026-03-14'], [null, null, null, null, null], ["'; --", -1e300, 0, false, '0001-01-01']];
  const bytesOf = async (): Promise<Uint8Array> => {
    const pieces: Uint8Array[] = [];
    for await (const piece of writeParquet(columns, rows, 'out.parquet')) pieces.push(piece);
    return new Uint8Array(Buffer.concat(pieces));
  };

  it('keeps every cell and its type, and gives the same bytes again', async (context) => {
    const bytes = await bytesOf();
    expect(await bytesOf()).toStrictEqual(bytes);
    writeFileSync(join(folder, 'own.parquet'), bytes);
    const engine = await openEngine('duckdb', context);
    expect(await engine.rows(`SELECT * FROM '${join(folder, 'own.parquet')}'`)).toStrictEqual([
      { 'a"b': 'x', n: 0.1, w: '3', y: true, d: '2026-03-14' },
      { 'a"b': null, n: null, w: null, y: null, d: null },
      { 'a"b': "'; --", n: -1e300, w: '0', y: false, d: '0001-01-01' },
    ]);
    expect((await engine.rows(`DESCRIBE SELECT * FROM '${join(folder, 'own.parquet')}'`)).map((column) => column['column_type'])).toStrictEqual(columns.map(({ type }) => type));
    await engine.close();
  });
});
