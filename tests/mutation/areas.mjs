const readings = (...names) => names.map((name) => `src/readings/${name}.ts`);

/** The evaluation of one row, an area of its own. */
const ROW = ['row-evaluator', 'row-program', 'check-reporter', 'evaluated-row', 'failure-reason', 'plain-evaluation'].map((name) => `src/fleet/${name}.ts`);

/**
 * The parts of the library that are mutated, and the folders and files of tests that may kill the mutants of each. Tests
 * that start a program from outside, and those that take many seconds, are left out of all of them: see SLOW.
 */
export const AREAS = {
  statistics: { mutate: ['src/statistics/*.ts', '!src/statistics/jstat.d.ts'], tests: ['tests/statistics'].concat(['control-charts', 'mann-kendall', 'newcombe', 'prop-trend', 'rat-tumours', 'shelf-life', 'theil-sen', 'wilson'].map((name) => `tests/published/${name}`)) },
  physics: { mutate: ['src/physics/*.ts'], tests: ['tests/physics', 'tests/published/physics.test.ts'] },
  cells: {
    mutate: [...readings('parse-*', 'date-*', 'compare-texts', 'clean-cell-text', 'unit-key', 'pressure-units', 'format-time'), 'src/strokes/parse-*.ts'],
    tests: ['tests/readings/parse-', 'tests/readings/date-', 'tests/readings/clean-cell-text', 'tests/readings/compare-texts', 'tests/readings/unit-key', 'tests/readings/pressure-units', 'tests/readings/format-time', 'tests/strokes/parse-'],
  },
  rows: { mutate: readings('read-entry', 'inspection-checks'), tests: ['inspection-checks', 'read-entry', 'read-inspections', 'found-beside', 'choose-header'].map((name) => `tests/readings/${name}`) },
  headers: { mutate: readings('find-header', 'header-words', 'choose-header'), tests: ['find-header', 'header-words', 'choose-header'].map((name) => `tests/readings/${name}`) },
  'long-form': { mutate: readings('reshape-long-form', 'long-form-*', 'recognise-shape'), tests: ['tests/readings/reshape-long-form', 'tests/readings/long-form-', 'tests/readings/recognise-shape'] },
  checklist: { mutate: readings('reshape-checklist', 'checklist-*'), tests: ['tests/readings/checklist-', 'tests/readings/reshape-checklist', 'tests/readings/recognise-shape'] },
  tables: {
    mutate: readings('as-found-text', 'cell-reader', 'column-map', 'dictionary', 'entry-text', 'join-columns', 'optional-columns', 'read-inspections', 'repeats-between', 'seen-rows', 'split-needle-pairs', 'texts-found', 'unstored-words'),
    tests: ['as-found-text', 'cell-reader', 'texts-found', 'column-map', 'found-beside', 'inspection-checks', 'join-columns', 'read-', 'repeats-between', 'split-needle-pairs', 'dictionary', 'entry-text', 'optional-columns', 'choose-header', 'reshape-'].map((name) => `tests/readings/${name}`),
  },
  expressions: { mutate: ['src/expressions/*.ts'], tests: ['tests/expressions'] },
  evaluation: {
    mutate: ROW,
    tests: ['row-', 'check-reporter', 'evaluated-row', 'no-false-pass', 'failure-reason'].map((name) => `tests/fleet/${name}`).concat('tests/limits/combine-limit-sets'),
  },
  verdicts: {
    mutate: ['src/limits/*-tree.ts', 'src/limits/*-trees.ts', '!src/limits/likely-place-tree.ts', '!src/limits/where-to-look-tree.ts'],
    tests: ['tests/fleet/row-evaluator', 'tests/published/conformance', 'tests/published/half-cut-out'].concat(['circuits', 'combine-limit-sets', 'limit-set-needs', 'own-limit-set', 'shown-pressure', 'reason-', 'overall-'].map((name) => `tests/limits/${name}`)),
  },
  'where-to-look': { mutate: ['src/limits/likely-place-tree.ts', 'src/limits/where-to-look-tree.ts'], tests: ['tests/limits/where-to-look'] },
  compilation: {
    mutate: ['src/limits/compile-*.ts'],
    tests: ['compile-', 'own-limit-set', 'circuits', 'limit-set-needs', 'shown-pressure'].map((name) => `tests/limits/${name}`).concat('tests/published/half-cut-out'),
  },
  fleet: { mutate: ['src/fleet/*.ts', ...ROW.map((path) => `!${path}`)], tests: ['tests/fleet'] },
};

/** Tests that start other programs, or take so long that a mutant could not be asked of them. */
export const SLOW = ['reference-program', 'agreement', 'random-sql-agreement', 'any-row', 'formulas-agree', 'every-set-agrees', 'optional-columns', 'compare-matching', 'reshape-checklist-any-sheet', 'reshape-long-form-any-list', 'beta-binomial-fit-any-groups', 'no-nan'].map((name) => `tests/**/${name}.test.ts`);
