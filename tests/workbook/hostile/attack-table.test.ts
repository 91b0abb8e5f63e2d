import { readFileSync, writeFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { packagePath } from '../../../src/util/package-path.js';
import { attacks, type Attack } from './attack-table.js';
import { runJobs, type JobResult } from './run-jobs.js';
import { SMALL_LIMITS } from './small-limits.js';

const RESULTS = packagePath('tests', 'workbook', 'hostile', 'RESULTS.md');

let all: Attack[];
let results: ReadonlyMap<string, JobResult>;
let megabytes: number;

beforeAll(async () => {
  all = await attacks();
  const run = await runJobs(SMALL_LIMITS, all);
  results = new Map(run.results.map((result) => [result.name, result]));
  ({ megabytes } = run);
}, 300_000);

describe('files made to do harm, through the whole job', () => {
  it('are read, or refused with the cause, and what they reach for is told', () => {
    expect(all.length).toBeGreaterThanOrEqual(30);
    for (const { name, refused, told } of all) {
      const { evaluated } = results.get(name)!;
      if (refused) expect([name, evaluated.refused?.typed, evaluated.refused?.code, evaluated.refused?.message]).toStrictEqual([name, true, 'input_unreadable', expect.stringMatching(refused)]);
      else expect([name, evaluated.refused?.message, evaluated.inspections]).toStrictEqual([name, undefined, expect.any(Number)]);
      if (told) expect([name, evaluated.told]).toStrictEqual([name, expect.stringMatching(told)]);
    }
  });

  it('stand in the published table with what came of them (WRITE_RESULTS=1 writes it anew)', () => {
    const outcome = ({ refused, inspections, told }: JobResult['evaluated']): string => refused?.message ?? `read: ${inspections === 1 ? 'one inspection' : `${inspections} inspections`}${told ? `; told: ${told}` : ''}`;
    const cell = (text: string): string => text.replace(/\s+/g, ' ').replaceAll('|', '\\|').replaceAll('<', '&lt;').slice(0, 300);
    const lines = ['# Files made to do harm, and what came of each', '', '| file | what came of it |', '|---|---|', ...all.map(({ name }) => `| ${cell(name)} | ${cell(outcome(results.get(name)!.evaluated))} |`), ''];
    if (process.env['WRITE_RESULTS'] === '1') writeFileSync(RESULTS, lines.join('\n'));
    expect(readFileSync(RESULTS, 'utf8').split('\n')).toStrictEqual(lines);
  });

  it('are all refused by verify, as none of ours', () => {
    expect([...results.values()].filter(({ verified }) => verified.refused?.typed !== true).map(({ name }) => name)).toStrictEqual([]);
  });

  it('take less than ten seconds of the processor each, and all together less than 512 MB', () => {
    expect([...results.values()].filter(({ seconds }) => seconds >= 10)).toStrictEqual([]);
    expect(megabytes).toBeLessThan(512);
  });
});
