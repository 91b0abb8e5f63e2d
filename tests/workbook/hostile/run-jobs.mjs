// Evaluates and verifies every file of a list, one after the other, and prints what came of each and how much memory it took at most.
// Parameters: the built library, and a list in JSON: { limits, jobs: [{ name, file, path }] }.
import { readFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';

const [library, list] = process.argv.slice(2);
const { evaluateReadings, parseLimitSet, TreadlebookError, verifyWorkbook } = await import(pathToFileURL(library).href);
const { limits: text, jobs } = JSON.parse(readFileSync(list, 'utf8'));
const limits = parseLimitSet(text, 'limits.json');

/** So long, by the clock, no job takes on the slowest machine. */
const HANGS_AFTER = 120_000;

function told(error) {
  const { name, code = null, what = null, mend = null, message } = error;
  return { refused: { typed: error instanceof TreadlebookError, name: String(name), code, what, mend, message: String(message).slice(0, 500) } };
}

async function outcome(work) {
  let timer;
  const hang = new Promise((resolve) => (timer = setTimeout(resolve, HANGS_AFTER, { hangs: true })));
  const result = await Promise.race([work().catch(told), hang]);
  clearTimeout(timer);
  return result;
}

for (const { name, file, path } of jobs) {
  const bytes = readFileSync(path);
  const before = process.cpuUsage();
  const evaluated = await outcome(async () => {
    const fleet = await evaluateReadings(bytes, { name: file, limits });
    return { inspections: fleet.evaluations.length, told: [...fleet.problems.map(({ found }) => found), ...fleet.notes].join(' ').slice(0, 5000) };
  });
  const verified = await outcome(async () => ({ findings: (await verifyWorkbook(bytes, { name: file, limits })).findings.length }));
  const { user, system } = process.cpuUsage(before);
  console.log(JSON.stringify({ name, evaluated, verified, seconds: (user + system) / 1e6, megabytes: Math.round(process.resourceUsage().maxRSS / 1024) }));
  if (evaluated.hangs || verified.hangs) process.exit(3);
}
console.log(JSON.stringify({ megabytes: process.resourceUsage().maxRSS / 1024 }));
