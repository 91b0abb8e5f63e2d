import { beforeAll, describe, expect, it } from 'vitest';
import { attacks, type Attack } from './attack-table.js';
import { runJobs, type JobResult } from './run-jobs.js';
import { SMALL_LIMITS } from './small-limits.js';

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

  it('are all refused by verify, as none of ours', () => {
    expect([...results.values()].filter(({ verified }) => verified.refused?.typed !== true).map(({ name }) => name)).toStrictEqual([]);
  });

  it('take less than ten seconds of the processor each, and all together less than 512 MB', () => {
    expect([...results.values()].filter(({ seconds }) => seconds >= 10)).toStrictEqual([]);
    expect(megabytes).toBeLessThan(512);
  });
});
