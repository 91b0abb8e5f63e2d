// Adds up what several runs of the tests came to, says it in one line, and fails where a test failed or was skipped, or a run ran nothing.
// Parameters: the results in JSON, a file for each run.
import { readFileSync } from 'node:fs';

const runs = process.argv.slice(2).map((path) => {
  try {
    return JSON.parse(readFileSync(path, 'utf8'));
  } catch {
    return {};
  }
});
const sum = (...names) => runs.reduce((total, run) => total + names.reduce((some, name) => some + (run[name] ?? 0), 0), 0);
const [passed, failed, skipped] = [sum('numPassedTests'), sum('numFailedTests'), sum('numPendingTests', 'numTodoTests')];
const isWhole = runs.length > 0 && runs.every(({ success, numPassedTests }) => success === true && numPassedTests > 0);
// Runs that came to nothing, or ended badly without a test that says why.
const broken = runs.filter(({ success, numPassedTests = 0, numFailedTests = 0 }) => numFailedTests === 0 && (success !== true || numPassedTests === 0)).length;
console.log(`${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}${broken > 0 ? `, ${broken} of ${runs.length} runs broke off` : ''}`);
process.exit(isWhole && failed === 0 && skipped === 0 ? 0 : 1);
