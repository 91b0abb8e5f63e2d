import { execFileSync } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { makeBenchFiles, type BenchFiles } from './bench-files.js';
import { linearTable } from './linear-table.js';
import { JOBS, type Job, type Line } from './jobs.js';
import type { Measured } from './measure.js';
import { readmeTable, withMeasured, type JobResult } from './readme-table.js';
import { resultsTable, startTable, type LineResult } from './results-table.js';

const SIZES = {
  small: { inspections: 300, steps: [300, 600], runs: 1 },
  full: { inspections: 50_000, steps: [1000, 50_000, 1_000_000], runs: 5 },
} as const;
const PYTHON = '/usr/bin/python3';
const ROOT = fileURLToPath(new URL('../../', import.meta.url));

const { values } = parseArgs({ options: { size: { type: 'string', default: 'small' }, runs: { type: 'string' }, jobs: { type: 'string' } } });
if (values.size !== 'small' && values.size !== 'full') throw new Error(`--size ${values.size}: small or full`);
const size = SIZES[values.size];
const runs = Number(values.runs ?? size.runs);
const jobs = JOBS.filter(({ job }) => values.jobs === undefined || values.jobs.split(',').includes(job));

function measure(line: Line, files: BenchFiles): Measured {
  const command = line.python === true ? [PYTHON, join(ROOT, 'tests/bench/python_peers.py')] : [process.execPath, fileURLToPath(new URL('measure.js', import.meta.url))];
  const out = execFileSync(command[0]!, [command[1]!, line.measurement, JSON.stringify(files)], { encoding: 'utf8', maxBuffer: 1 << 26 });
  const measured = JSON.parse(out) as Measured;
  if (!(measured.made > 0)) throw new Error(`${line.name} made nothing`);
  return measured;
}

/** Every line once, then every line again, so that what else the machine does falls on all alike. */
function interleaved(job: Job, files: BenchFiles): LineResult[] {
  const results = job.lines.map((line) => ({ line, measured: [] as Measured[] }));
  for (let run = 0; run < runs; run++) for (const result of results) if (run === 0 || result.line.once !== true) result.measured.push(measure(result.line, files));
  return results;
}

/** How long a process takes from start to end, in seconds, for some command lines in turn. */
function startTimes(): { readonly name: string; readonly seconds: number[] }[] {
  const lines = [
    { name: '`node -e 0`', args: ['-e', '0'], seconds: [] as number[] },
    { name: '`treadlebook --help`', args: [join(ROOT, 'dist/cli/main.js'), '--help'], seconds: [] as number[] },
    { name: '`treadlebook --version`', args: [join(ROOT, 'dist/cli/main.js'), '--version'], seconds: [] as number[] },
  ];
  for (let run = 0; run < Math.max(3, runs * 5); run++) {
    for (const { args, seconds } of lines) {
      const started = performance.now();
      execFileSync(process.execPath, args, { stdio: 'ignore' });
      seconds.push((performance.now() - started) / 1000);
    }
  }
  return lines;
}

const folder = join(ROOT, 'out/bench-files');
rmSync(folder, { recursive: true, force: true });
mkdirSync(folder, { recursive: true });
const text: string[] = [
  '# Measured',
  '',
  `\`npm run bench -- --size ${values.size}\`: ${size.inspections.toLocaleString('en')} invented inspections from a fixed seed, limit set common-practice, Node ${process.versions.node}. Each line is`,
  `the median of ${runs} run${runs === 1 ? '' : 's'} in processes of their own, all lines of a table in turn; ± is the half of the range from the fastest to the slowest run. *CPU* is processor time of`,
  'all threads, *peak* the largest resident set of the process, with what it read beforehand. *Beside* says how much of that line\'s processor time ours takes: 0.5 is half. The other writers write',
  'the sheet Readings alone, *values alone* without its formulas and styles; ours writes all sheets, with charts. openpyxl was run once, as was XlsxWriter with formulas, of which it writes the whole in each cell.',
  '',
];
const files = await makeBenchFiles(folder, size.inspections, true);
const measured: JobResult[] = [];
for (const job of jobs) {
  measured.push({ job, results: interleaved(job, files) });
  text.push(`## ${job.title}`, '', ...resultsTable(measured.at(-1)!.results, size.inspections), '');
}
if (values.jobs === undefined) {
  text.push('## Start', '', ...startTable(startTimes()), '');
  text.push('## Growth', '', ...(await linearTable(folder, size.steps, (measurement, at) => measure({ name: measurement, measurement }, at))), '');
}
rmSync(folder, { recursive: true, force: true });
const report = text.join('\n');
process.stdout.write(`${report}\n`);
if (values.size === 'full' && values.jobs === undefined) {
  writeFileSync(join(ROOT, 'tests/bench/RESULTS.md'), report);
  const readme = join(ROOT, 'README.md');
  writeFileSync(readme, withMeasured(readFileSync(readme, 'utf8'), readmeTable(measured, size.inspections)));
}
