import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';
import { quickTests, sharingTests } from './tests/support/quick-tests.js';

const sharing = sharingTests(import.meta.dirname);
const quick = quickTests(import.meta.dirname);

export default defineConfig({
  test: {
    // Left to itself vitest keeps one core free, which on two cores doubles the time.
    maxWorkers: availableParallelism(),
    // Workbooks are made of many short-lived objects: with room for them a tenth of the time goes less into clearing up.
    execArgv: ['--max-semi-space-size=32'],
    testTimeout: 30_000,
    hookTimeout: 120_000,
    // A process for each file takes as long to load the program as many files take to run. Projects are run in the order of their names: the
    // quick files come last, so that every core is busy to the end.
    projects: [
      { extends: true, test: { name: 'apart', include: ['tests/**/*.test.ts'], exclude: ['tests/tmp/**', ...sharing] } },
      { extends: true, test: { name: 'longer', include: sharing.filter((name) => !quick.includes(name)), isolate: false } },
      { extends: true, test: { name: 'quick', include: quick, isolate: false } },
    ],
  },
});
