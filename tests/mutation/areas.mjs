/**
 * The parts of the library that are mutated, and the folders and files of tests that may kill the mutants of each. Tests
 * that start a program from outside, and those that take many seconds, are left out of all of them: see SLOW.
 */
export const AREAS = {
  statistics: { mutate: ['src/statistics/*.ts', '!src/statistics/jstat.d.ts'], tests: ['tests/statistics'].concat(['control-charts', 'mann-kendall', 'newcombe', 'prop-trend', 'rat-tumours', 'shelf-life', 'theil-sen', 'wilson'].map((name) => `tests/published/${name}`)) },
  physics: { mutate: ['src/physics/*.ts'], tests: ['tests/physics', 'tests/published/physics.test.ts'] },
  cells: {
    mutate: ['parse-*', 'date-*', 'compare-texts', 'clean-cell-text', 'unit-key', 'pressure-units', 'format-time'].map((name) => `src/readings/${name}.ts`).concat('src/strokes/parse-*.ts'),
    tests: ['tests/readings/parse-', 'tests/readings/date-', 'tests/readings/clean-cell-text', 'tests/readings/pressure-units', 'tests/readings/format-time', 'tests/strokes/parse-'],
  },
  tables: {
    mutate: ['read-entry', 'inspection-checks', 'find-header', 'header-words', 'choose-header', 'recognise-shape', 'reshape-*', 'checklist-*'].map((name) => `src/readings/${name}.ts`),
    tests: ['inspection-checks', 'find-header', 'header-words', 'choose-header', 'recognise-shape', 'reshape-', 'read-inspections', 'found-beside', 'as-found'].map((name) => `tests/readings/${name}`),
  },
  expressions: { mutate: ['src/expressions/*.ts'], tests: ['tests/expressions'] },
  limits: { mutate: ['src/limits/*-tree.ts', 'src/limits/*-trees.ts', 'src/limits/compile-*.ts'], tests: ['tests/limits', 'tests/published/limit-edges.test.ts', 'tests/published/conformance', 'tests/published/half-cut-out', 'tests/fleet/row-evaluator', 'tests/fleet/no-false-pass'] },
  fleet: { mutate: ['src/fleet/*.ts'], tests: ['tests/fleet'] },
};

/** Tests that start other programs, or take so long that a mutant could not be asked of them. */
export const SLOW = ['reference-program', 'agreement', 'formulas-agree', 'every-set-agrees', 'optional-columns', 'compare-matching'].map((name) => `tests/**/${name}.test.ts`);
