import { beforeAll, describe, expect, it, type TestContext } from 'vitest';
import { parseLimitSet } from '../../../src/limits/load-limit-set.js';
import { evaluateReadings } from '../../../src/workbook/evaluate-readings.js';
import { blankWorkbook, workbookOf } from '../../../src/workbook/write-workbook.js';
import { needLibreOffice } from '../../formats/outside-program.js';
import { convertByLibreOffice } from '../../support/run-libreoffice.js';
import { bytesOf } from '../bytes-of.js';
import { workbookParts } from '../workbook-parts.js';
import { brokenParts, damagedFiles, flippedParts, oddContainers, type BrokenWorkbook } from './broken-workbooks.js';
import { runJobs, type JobResult, type Outcome } from './run-jobs.js';
import { SMALL_LIMITS } from './small-limits.js';

const CSV = 'unit,inspected_on,cut_in,cut_out,notes\nK-1,2026-03-01,99,120,"a, b"\nK-2,2026-03-02,80,118,\nK-1,2026-03-09,101,121,retest\n';
const limits = parseLimitSet(SMALL_LIMITS, 'limits.json');

async function evaluated(): Promise<Uint8Array> {
  return bytesOf(workbookOf(await evaluateReadings(Buffer.from(CSV), { name: 'fleet.csv', limits })));
}

const seeds = (from: number, count: number): number[] => Array.from({ length: count }, (_, index) => from + index);

/** What an outcome lacks of being a result, or a refusal that names the cause; null for one that lacks nothing. */
function lack({ refused, hangs, inspections, findings }: Outcome): string | null {
  if (hangs) return 'it hangs';
  if (refused === undefined) return inspections !== undefined || findings !== undefined ? null : 'nothing came of it';
  if (!refused.typed) return `${refused.name}: ${refused.message}`;
  if (refused.code === 'defect' || /broke off|standstill/.test(refused.message)) return refused.message;
  return refused.what && refused.mend && !/[\r\n]/.test(refused.message) ? null : `a refusal without a cause or a mend: ${refused.message}`;
}

interface Run {
  readonly results: readonly JobResult[];
  readonly megabytes: number;
}

async function run(corpus: readonly BrokenWorkbook[]): Promise<Run> {
  expect(new Set(corpus.map(({ name }) => name)).size).toBe(corpus.length);
  return runJobs(SMALL_LIMITS, corpus.map(({ name, bytes }) => ({ name, bytes, file: 'fleet.xlsx' })));
}

/** Every one ends in a result or a refusal, within bounds. */
function expectNoHarm({ results, megabytes }: Run): void {
  const harm = results.flatMap(({ name, evaluated: one, verified }) => [lack(one), lack(verified)].flatMap((what) => (what === null ? [] : [`${name}: ${what}`])));
  expect(harm).toStrictEqual([]);
  expect(results.filter(({ seconds }) => seconds >= 10).map(({ name, seconds }) => [name, seconds])).toStrictEqual([]);
  expect(megabytes).toBeLessThan(512);
}

describe('broken, odd and fuzzed workbooks, through the whole job', () => {
  let corpus: BrokenWorkbook[];
  let all: Run;

  beforeAll(async () => {
    const [ours, blank] = [await evaluated(), await bytesOf(blankWorkbook({ rows: 2, limits }))];
    const [parts, blankParts] = [await workbookParts(ours), await workbookParts(blank)];
    corpus = [
      { name: 'as it is', bytes: ours },
      ...oddContainers(parts, 'evaluated'),
      ...brokenParts(parts, 'evaluated'),
      ...damagedFiles(ours, 'evaluated', seeds(100, 12)),
      ...flippedParts(parts, 'evaluated', seeds(200, 12)),
      ...flippedParts(blankParts, 'blank', seeds(400, 6)),
    ];
    all = await run(corpus);
  }, 900_000);

  it('are at least 300, and each ends in a result or a refusal that names the cause', () => {
    expect(corpus.length).toBeGreaterThanOrEqual(300);
    expect(all.results).toHaveLength(corpus.length);
    expectNoHarm(all);
  });

  it('are read where the damage is none, and refused where it matters', () => {
    const result = new Map(all.results.map(({ name, evaluated: one, verified }) => [name, one.refused ? one.refused.what : `${one.inspections}, ${verified.findings} findings`]));
    expect(result.get('as it is')).toBe('3, 0 findings');
    for (const harmless of ['stored', 'data descriptors', 'zip64 throughout', 'entries in reverse', 'a comment', 'comments on entries', 'every name in capitals', 'folders as entries']) expect([harmless, result.get(`evaluated: ${harmless}`)]).toStrictEqual([harmless, '3, 0 findings']);
    for (const [harmful, what] of [['everything encrypted', 'the part is encrypted'], ['a wrong checksum of the readings', 'the part does not match its checksum'], ['the readings twice', 'the zip holds the entry xl/worksheets/sheet7.xml twice']]) expect([harmful, result.get(`evaluated: ${harmful}`)]).toStrictEqual([harmful, what]);
    const refused = all.results.filter(({ evaluated: one }) => one.refused).length;
    expect(refused).toBeGreaterThan(100);
    expect(all.results.length - refused).toBeGreaterThan(100);
  });
});

it('so are those of a workbook that LibreOffice saved', async (context: TestContext) => {
  needLibreOffice(context);
  const saved = (await convertByLibreOffice(await evaluated(), 'fleet.xlsx', 'xlsx')).get('fleet.xlsx')!;
  const parts = await workbookParts(saved);
  const corpus = [{ name: 'as it is', bytes: saved }, ...brokenParts(parts, 'LibreOffice', (index) => index % 8 === 0), ...damagedFiles(saved, 'LibreOffice', seeds(500, 6)), ...flippedParts(parts, 'LibreOffice', seeds(600, 10))];
  expect(corpus.length).toBeGreaterThan(40);
  const all = await run(corpus);
  expectNoHarm(all);
  expect(all.results[0]).toMatchObject({ evaluated: { inspections: 3 }, verified: { findings: 0 } });
}, 900_000);
