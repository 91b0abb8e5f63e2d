import { AREAS } from './areas.mjs';

const area = process.env.MUTATION_AREA;
const out = `out/mutation/${area}`;

/** @type {import('@stryker-mutator/api/core').PartialStrykerOptions} */
export default {
  mutate: AREAS[area].mutate,
  testRunner: 'vitest',
  vitest: { configFile: 'tests/mutation/vitest.config.mjs', related: false },
  plugins: ['@stryker-mutator/vitest-runner', './tests/mutation/ignore-words.mjs'],
  ignorers: ['words'],
  coverageAnalysis: 'perTest',
  ignoreStatic: true,
  concurrency: Number(process.env.MUTATION_CONCURRENCY ?? 1),
  timeoutMS: 3000,
  incremental: true,
  incrementalFile: `${out}/incremental.json`,
  reporters: ['json', 'clear-text', 'dots'],
  jsonReporter: { fileName: `${out}/report.json` },
  clearTextReporter: { allowColor: false, logTests: false, reportTests: false, reportMutants: false },
  tempDirName: `${out}/sandbox`,
  ignorePatterns: ['dist', 'out', 'tests/samples', 'tests/workbook', 'tests/cli', 'tests/docs'],
  allowEmpty: false,
};
