import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';
import { Worker } from 'node:worker_threads';
import { Coverage } from './coverage.mjs';
import { Random } from './random.mjs';
import { isRefusal, PLANTED, TARGETS } from './targets.mjs';

const HELP = `node tests/fuzz/fuzz.mjs [--seconds N | --runs N] [--seed S] [--only NAME] [--keep FOLDER]

Gives every reader of the built program inputs that are like those in tests/fuzz/corpus, and keeps those that reach code which
none before them reached. Whatever is thrown must be a TreadlebookError that says what is wrong; whatever is taken must come
back the same when it is written and read again. An input that breaks this is a finding: it is kept in a folder, to be put into
the corpus once its cause is mended. Ends with 1 when there is any.

  --seconds N    how long, for all targets together (60)
  --runs N       so many inputs for each target instead: the same ones for the same seed
  --seed S       where the random choices start (1)
  --only NAME    one of ${Object.keys(TARGETS).join(', ')}
  --keep FOLDER  where findings are kept (a new folder among the temporary files)
`;
const LONGEST_RUN = 30;
const CORPUS = fileURLToPath(new URL('corpus/', import.meta.url));

const { values } = parseArgs({ options: { seconds: { type: 'string' }, runs: { type: 'string' }, seed: { type: 'string' }, only: { type: 'string' }, keep: { type: 'string' }, help: { type: 'boolean', short: 'h' } } });
const targets = values.only === 'planted' ? { planted: PLANTED } : values.only === undefined ? TARGETS : Object.hasOwn(TARGETS, values.only) ? { [values.only]: TARGETS[values.only] } : null;
if (values.help || targets === null) {
  process.stdout.write(HELP);
  process.exit(values.help ? 0 : 2);
}
const [seed, runs, seconds] = [Number(values.seed ?? 1), values.runs === undefined ? null : Number(values.runs), Number(values.seconds ?? 60)];

const work = mkdtempSync(join(tmpdir(), 'treadlebook-fuzz-'));
const keep = values.keep ?? join(work, 'findings');
mkdirSync(keep, { recursive: true });
const current = join(work, 'current');
writeFileSync(current, '');
// The command line writes where it stands; it finds a small table there.
mkdirSync(join(work, 'here'));
process.chdir(join(work, 'here'));
writeFileSync('fleet.csv', 'unit,inspected_on,cut_in,cut_out\nT-1,2026-03-14,100,125\nT-2,2026-03-15,90,130\n');

const beats = new SharedArrayBuffer(4);
const heart = new Int32Array(beats);
const watchdog = new Worker(new URL('watchdog.mjs', import.meta.url), { workerData: { beats, seconds: LONGEST_RUN, current, finding: join(keep, 'hangs') } });
watchdog.unref();

const coverage = new Coverage(pathToFileURL(fileURLToPath(new URL('../../dist/', import.meta.url))).href);
const findings = new Map();

/** Runs one input; what it breaks is a finding, once for each place in the code. */
async function tryInput(name, target, bytes, often) {
  writeFileSync(current, bytes);
  Atomics.add(heart, 0, 1);
  try {
    await target.run(bytes, often);
  } catch (error) {
    if (isRefusal(error)) return;
    const where = String(error?.stack ?? error).split('\n').find((line) => /dist\//.test(line))?.trim() ?? '';
    const key = `${name}: ${String(error?.message ?? error).slice(0, 80)} ${where}`;
    if (findings.has(key)) return;
    const path = join(keep, `${name}-${findings.size + 1}`);
    findings.set(key, path);
    writeFileSync(path, bytes);
    process.stderr.write(`finding: ${name}: ${String(error?.message ?? error).slice(0, 500)} ${where}\n  kept as ${path}: ${JSON.stringify(Buffer.from(bytes).toString('utf8').slice(0, 300))}\n`);
  }
}

/** The first inputs of a target: what the corpus holds and what the target brings. Findings that a workbook showed are written as one again. */
function poolOf(name, target) {
  const folder = join(CORPUS, name);
  const files = existsSync(folder) ? readdirSync(folder).sort() : [];
  const stored = files.map((file) => readFileSync(join(folder, file)));
  return { stored: stored.length, inputs: [...stored, ...target.seeds], inWorkbook: (index) => files[index]?.startsWith('found-in-workbook-') === true };
}

const states = [];
for (const [index, [name, target]] of Object.entries(targets).entries()) {
  const pool = poolOf(name, target);
  const state = { name, target, random: new Random(seed * 7919 + index), inputs: pool.inputs, tried: 0, stored: pool.stored, first: pool.inputs.length };
  for (const [index, bytes] of pool.inputs.entries()) await tryInput(name, target, bytes, pool.inWorkbook(index));
  states.push(state);
}
coverage.fresh();

const end = Date.now() + seconds * 1000;
const BATCH = 8;
while (runs === null ? Date.now() < end : states.some(({ tried }) => tried < runs)) {
  for (const state of states) {
    if (runs === null ? Date.now() >= end : state.tried >= runs) continue;
    const { random, target, inputs } = state;
    const batch = [];
    for (let count = runs === null ? BATCH : Math.min(BATCH, runs - state.tried); count > 0; count--) batch.push(Buffer.from(await target.mutate(random.of(inputs), random, inputs)));
    for (const bytes of batch) await tryInput(state.name, target, bytes, random.chance(0.02));
    state.tried += batch.length;
    // Which of them reached new code cannot be told when all have run; all are kept, which is seldom many.
    if (coverage.fresh() > 0 && inputs.length < 2000) inputs.push(...batch.filter(({ length }) => length < 30_000));
  }
}

for (const { name, tried, stored, first, inputs } of states) process.stdout.write(`${name}: ${stored} of the corpus, ${first - stored} other seeds, ${tried} changed inputs, ${inputs.length - first} kept\n`);
process.stdout.write(`${coverage.blocks} blocks of the program reached; ${findings.size} ${findings.size === 1 ? 'finding' : 'findings'}\n`);
process.chdir(tmpdir());
if (findings.size === 0) rmSync(work, { recursive: true, force: true });
process.exit(findings.size === 0 ? 0 : 1);
