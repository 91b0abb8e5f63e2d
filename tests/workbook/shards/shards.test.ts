import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { askedPeriod } from '../../../src/workbook/asked-period.js';
import { evaluateReadings } from '../../../src/workbook/evaluate-readings.js';
import { evaluatedCsv } from '../../../src/workbook/evaluated-csv.js';
import type { EvaluateOptions, OpenFleetOptions, OpenedFleet } from '../../../src/workbook/opened-fleet.js';
import { planOf } from '../../../src/workbook/plan-for.js';
import { openShards } from '../../../src/workbook/shards/open-shards.js';
import { packagePath } from '../../../src/util/package-path.js';

const LINES = readFileSync(packagePath('samples', 'invented-fleet.csv'), 'utf8').trimEnd().split(/\r?\n/);
const [HEADER, ROWS] = [LINES[0]!, LINES.slice(1)];
let folder = '';

const path = (name: string): string => join(folder, name);
const write = (name: string, text: string): string => {
  writeFileSync(path(name), text);
  return path(name);
};

/** The sample fleet cut in parts, with the flaws that only several files together show. */
function parts(): string[] {
  return [
    write('one.csv', [HEADER, ...ROWS.slice(0, 60), ''].join('\n')),
    write('two.csv', [HEADER, ...ROWS.slice(60, 61), ''].join('\n')),
    // A repeat of rows of the first, and a column more.
    write('three.csv', [`${HEADER},Bay`, ...ROWS.slice(61).map((row, index) => `${row},${index}`), ...ROWS.slice(3, 5).map((row) => `${row},"a ""bay"", wide"`), ''].join('\n')),
    write('four.tsv', 'unit\tinspected_on\tlight_on_at\tretest_of\nK-101\t2026-05-01\tsoon\tNOWHERE\nk 101\t2026-05-02\t61\t\n'),
  ];
}

async function inThreads(paths: readonly string[], options: OpenFleetOptions = {}): Promise<OpenedFleet> {
  const fleet = await openShards(paths, planOf(options.limits), askedPeriod(options), options, 0);
  expect(fleet).not.toBeNull();
  return fleet!;
}

async function textOf(pieces: AsyncIterable<string | Uint8Array>): Promise<string> {
  const chunks: Buffer[] = [];
  for await (const piece of pieces) chunks.push(Buffer.from(piece));
  return Buffer.concat(chunks).toString();
}

describe('files that are evaluated in threads', { timeout: 120_000 }, () => {
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'treadlebook-'));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  const ASKED: readonly EvaluateOptions[] = [{}, { from: '2026-01-01', to: '2026-04-30', by: 'month' }, { limits: 'us-nevada,us-new-hampshire' }, { strokes: Buffer.from('unit,inspected_on,position,chamber,travel\nK-101,2026-03-14,LF,30,1 3/4\nK-101,2026-03-14,RF,30,worn\n') }];

  it.each(ASKED)('come to what one pass gives: inspections, figures, problems, source (%#)', async (options) => {
    const [inOne, apart] = [await evaluateReadings(parts(), options), await inThreads(parts(), options)];
    const taken = [];
    for await (const { row, verdict, reason, computed, inspection } of apart.evaluations) taken.push({ row, verdict, reason, computed, inspection });
    expect(taken).toStrictEqual(inOne.evaluations.map(({ row, verdict, reason, computed, inspection }) => ({ row, verdict, reason, computed, inspection })));
    const { evaluations: _, plan, ...outcome } = inOne;
    const { plan: ownPlan, ...own } = apart.outcome();
    expect(own).toStrictEqual(outcome);
    expect(ownPlan.columns.map(({ id }) => id)).toStrictEqual(plan.columns.map(({ id }) => id));
  });

  it('come to the same CSV', async () => {
    const [inOne, apart] = [await evaluateReadings(parts()), await inThreads(parts())];
    expect(await textOf(apart.csv(','))).toBe(await textOf(evaluatedCsv(inOne.plan, inOne.columns, inOne.evaluations)));
    const { evaluations: _, plan: _plan, ...outcome } = inOne;
    const { plan: _own, ...own } = apart.outcome();
    expect(own).toStrictEqual(outcome);
  });

  it('are counted where nothing of them is wanted', async () => {
    const [inOne, apart] = [await evaluateReadings(parts()), await inThreads(parts(), { summarise: false })];
    await apart.drain();
    expect(apart.tally().counts).toStrictEqual(inOne.counts);
    expect(() => apart.outcome()).toThrow(/without its figures/);
  });

  it('tell of the first file that cannot be opened, whichever thread finds out first', async () => {
    const [good] = parts();
    const bad = write('bad.csv', 'a,b\n1,2\n');
    const inOne = await evaluateReadings([good!, bad, path('nowhere.csv')]).then(() => null, (error: Error) => error.message);
    for (let run = 0; run < 3; run += 1) await expect(inThreads([good!, bad, path('nowhere.csv')])).rejects.toThrow(inOne!);
  });

  it('tell of a fault on the way, in whatever way they are taken', async () => {
    const [good] = parts();
    const torn = write('torn.csv', `${HEADER}\n${ROWS.slice(0, 5).join('\n')}\n"${'x'.repeat(1_200_000)}`);
    for (const take of [(fleet: OpenedFleet) => textOf(fleet.csv(',')).then(() => undefined), (fleet: OpenedFleet) => fleet.drain(), (fleet: OpenedFleet) => fleet.evaluations[Symbol.asyncIterator]().next().then(() => fleet.drain())]) {
      await expect(inThreads([good!, torn]).then(take)).rejects.toMatchObject({ code: 'input_unreadable' });
    }
  });

  it('that are opened and never taken keep no process alive, as where the output cannot be written', () => {
    const [one, two] = parts();
    const script = `
      const [{ openShards }, { planOf }] = await Promise.all([import(${JSON.stringify(pathToFileURL(packagePath('dist', 'workbook', 'shards', 'open-shards.js')).href)}), import(${JSON.stringify(pathToFileURL(packagePath('dist', 'workbook', 'plan-for.js')).href)})]);
      const fleet = await openShards(${JSON.stringify([one, two])}, planOf(undefined), { from: null, to: null, by: null }, {}, 0);
      console.log(fleet.columns.length > 0);`;
    const { status, signal, stdout } = spawnSync(process.execPath, ['--input-type=module', '-e', script], { encoding: 'utf8', timeout: 60_000 });
    expect([status, signal, stdout]).toStrictEqual([0, null, 'true\n']);
  });

  it('of nothing but headers say so', async () => {
    const empty = [write('a.csv', `${HEADER}\n`), write('b.csv', `${HEADER}\n`)];
    await expect(inThreads(empty).then((fleet) => fleet.drain())).rejects.toMatchObject({ code: 'input_empty' });
  });

  it('are not taken apart where that would come to something else, or where it does not pay', async () => {
    const paths = parts();
    const open = (inputs: Parameters<typeof openShards>[0], options: OpenFleetOptions = {}, least = 0): Promise<OpenedFleet | null> => openShards(inputs, planOf(undefined), askedPeriod({}), options, least);
    expect(await open(paths.slice(0, 1))).toBeNull();
    expect(await open([paths[0]!, Buffer.from('unit\nT-1\n')])).toBeNull();
    expect(await open([paths[0]!, 'fleet.xlsx'])).toBeNull();
    for (const options of [{ units: 'folded' }, { appendTo: paths[0]! }, { baseline: paths[0]! }, { sheet: 'Readings' }] as const) expect(await open(paths, options)).toBeNull();
    expect(await open(paths, {}, 1e9)).toBeNull();
  });
});
