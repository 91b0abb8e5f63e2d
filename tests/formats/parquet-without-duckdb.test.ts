import { expect, it, vi } from 'vitest';
import { readParquet } from '../../src/formats/read-parquet.js';
import { writeParquet } from '../../src/formats/write-parquet.js';

vi.mock('@duckdb/node-api', () => {
  throw new Error("Cannot find package '@duckdb/node-api'");
});

async function* once(): AsyncGenerator<Uint8Array> {
  yield new TextEncoder().encode('PAR1');
}

it('without the package, reading Parquet says what to install', async () => {
  await expect(readParquet(once(), 'fleet.parquet')).rejects.toMatchObject({ code: 'input_unreadable', message: 'fleet.parquet: Parquet needs the package @duckdb/node-api, which is not installed for this computer; run npm install @duckdb/node-api, or use CSV' });
});

it('without the package, writing Parquet says what to install', async () => {
  await expect(writeParquet([], [], 'out.parquet').next()).rejects.toMatchObject({ code: 'output_unwritable', mend: 'run npm install @duckdb/node-api, or use CSV' });
});
