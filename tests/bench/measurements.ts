import { createWriteStream } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type { RowEvaluator } from '../../dist/fleet/row-evaluator.js';
import type { Inspection } from '../../dist/readings/inspection.js';
import type { Measurement } from './measure.js';

/** The workbook that is written from a CSV. */
export const WRITTEN = 'evaluated.xlsx';

/** Takes everything that an evaluation holds, so that what is made when it is asked for is made. */
export function weigh(evaluation: ReturnType<RowEvaluator['evaluate']>): number {
  let weight = evaluation.reason.length + Object.keys(evaluation.measures).length;
  for (const check of evaluation.checks) weight += check.reason.length;
  return weight;
}

async function readAll(csv: string): Promise<{ readonly evaluator: RowEvaluator; readonly inspections: readonly Inspection[] }> {
  const { compileLimitSet, loadLimitSet, openReadings, RowEvaluator } = await import('../../dist/index.js');
  const plan = compileLimitSet(loadLimitSet(), { optionalColumns: new Set() });
  const { reader } = await openReadings(csv, { dictionary: plan.dictionary });
  const inspections: Inspection[] = [];
  for await (const inspection of reader.inspections) inspections.push(inspection);
  return { evaluator: new RowEvaluator(plan), inspections };
}

/** Runs a command in this process, with the loading of it. */
async function command(...args: string[]): Promise<number> {
  const { run } = await import('../../dist/cli/run.js');
  const code = await run([...args, '--quiet'], { out: process.stdout, err: process.stderr });
  if (code !== 0) throw new Error(`${args.join(' ')} ended with ${code}`);
  return 1;
}

/** What is measured of our own, by name. */
export const MEASUREMENTS: Readonly<Record<string, Measurement>> = {
  parse: async ({ csv }, start) => {
    const { compileLimitSet, loadLimitSet, openReadings } = await import('../../dist/index.js');
    const plan = compileLimitSet(loadLimitSet());
    start();
    let count = 0;
    const { reader } = await openReadings(csv, { dictionary: plan.dictionary });
    for await (const { values } of reader.inspections) count += values.length > 0 ? 1 : 0;
    return count;
  },
  evaluate: async ({ csv }, start) => {
    const { evaluator, inspections } = await readAll(csv);
    start();
    let weight = 0;
    for (const inspection of inspections) weight += weigh(evaluator.evaluate(inspection));
    return weight;
  },
  summarise: async ({ csv }, start) => {
    const { evaluator, inspections } = await readAll(csv);
    const { FleetSummariser } = await import('../../dist/index.js');
    const evaluations = inspections.map((inspection) => evaluator.evaluate(inspection));
    for (const evaluation of evaluations) weigh(evaluation);
    start();
    const summariser = new FleetSummariser(evaluator.plan, {});
    for (const evaluation of evaluations) summariser.add(evaluation);
    return summariser.result().units.length;
  },
  write: async ({ csv, folder }, start) => {
    const { evaluateReadings, workbookOf } = await import('../../dist/index.js');
    const fleet = await evaluateReadings(csv);
    start();
    await pipeline(Readable.from(workbookOf(fleet)), createWriteStream(join(folder, 'written.xlsx')));
    return fleet.evaluations.length;
  },
  'csv to csv': ({ csv, folder }) => command('evaluate', csv, '-o', join(folder, 'evaluated.csv'), '--force'),
  'csv to workbook': ({ csv, folder }) => command('evaluate', csv, '-o', join(folder, WRITTEN), '--force'),
  read: async ({ xlsx }, start) => {
    const { openXlsx } = await import('../../dist/formats/read-xlsx.js');
    start();
    const book = await openXlsx(await readFile(xlsx));
    let count = 0;
    for await (const { cells } of book.sheets.find(({ name }) => name === 'Readings')!.table().rows) count += cells.length;
    return count;
  },
  verify: ({ xlsx }) => command('verify', xlsx),
};
