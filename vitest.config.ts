import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';
import { quickTests } from './tests/support/quick-tests.js';

const quick = quickTests(import.meta.dirname);

export default defineConfig({
  test: {
    // Left to itself vitest keeps one core free, which on two cores doubles the time.
    maxWorkers: availableParallelism(),
    testTimeout: 30_000,
    hookTimeout: 120_000,
    projects: [
      { extends: true, test: { name: 'quick', include: quick, isolate: false } },
      { extends: true, test: { name: 'whole', include: ['tests/**/*.test.ts'], exclude: ['tests/tmp/**', ...quick] } },
    ],
  },
});
