import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/tmp/**'],
    // Left to itself vitest keeps one core free, which on two cores doubles the time.
    maxWorkers: availableParallelism(),
    testTimeout: 30_000,
    hookTimeout: 120_000,
  },
});
