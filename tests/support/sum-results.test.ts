import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { packagePath } from '../../src/util/package-path.js';
import { withFolder } from '../formats/outside-program.js';

/** What is said of runs, and the exit code. A text is a file that is no JSON, null one that is not there. */
function summed(...runs: readonly (object | string | null)[]): [string, number | null] {
  return withFolder((folder) => {
    const files = runs.map((run, index) => {
      const path = join(folder, `${index}.json`);
      if (run !== null) writeFileSync(path, typeof run === 'string' ? run : JSON.stringify(run));
      return path;
    });
    const { stdout, status } = spawnSync(process.execPath, [packagePath('tests', 'support', 'sum-results.mjs'), ...files], { encoding: 'utf8' });
    return [stdout, status];
  });
}

const run = (passed: number, others: object = {}): object => ({ success: true, numPassedTests: passed, numFailedTests: 0, numPendingTests: 0, numTodoTests: 0, ...others });

describe('the sum of several runs', () => {
  it('is one line, and success where every test of every run passed', () => {
    expect(summed(run(6466), run(4000), run(4000))).toStrictEqual(['14466 passed, 0 failed\n', 0]);
  });

  it('is no success where a test failed, was skipped or is still to be written, in whatever run', () => {
    expect(summed(run(10), run(9, { success: false, numFailedTests: 1 }))).toStrictEqual(['19 passed, 1 failed\n', 1]);
    expect(summed(run(9, { numPendingTests: 1 }), run(9, { numTodoTests: 2 }))).toStrictEqual(['18 passed, 0 failed, 3 skipped\n', 1]);
  });

  it('is no success where a run ran nothing, broke off or failed outside a test', () => {
    for (const other of [run(0), null, '{"numPassed', run(5, { success: false })]) expect(summed(run(10), other)).toStrictEqual([expect.stringMatching(/^1[05] passed, 0 failed, 1 of 2 runs broke off\n$/), 1]);
    expect(summed()).toStrictEqual(['0 passed, 0 failed\n', 1]);
  });
});
