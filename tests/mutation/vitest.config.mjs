import { resolve } from 'node:path';
import { defineConfig } from 'vitest/config';
import { AREAS, SLOW } from './areas.mjs';
import { inWarmThread } from './warm-thread.mjs';

const area = process.env['MUTATION_AREA'];
const tests = Object.entries(AREAS).find(([name]) => name === area)?.[1].tests ?? [];

export default defineConfig({
  plugins: [inWarmThread],
  test: {
    root: resolve(import.meta.dirname, '../..'),
    include: tests.map((path) => (path.endsWith('.ts') ? path : `${path}{/**/*,*}.test.ts`)),
    exclude: SLOW,
    // Where the programs from outside are not found, their tests skip themselves.
    env: { PATH: '/nonexistent', REQUIRE_OUTSIDE: '' },
    isolate: false,
    testTimeout: 30_000,
  },
});
