import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { evaluationSchema } from '../../src/fleet/evaluation-schema.js';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { csvOf, warnings, type Cells } from '../workbook/baseline-tables.js';
import { OWN_SET } from './own-warning-set.js';
import { runInside } from './run-inside.js';
import { inFolder, runProgram } from './run-program.js';

/** Of the first 40 days from 2026-01-30 on two inspections fail; one row has no date. */
const NOW: readonly Cells[] = [...warnings(2, 40, { first: '2026-01-30' }), { unit: 'T-0', light_on_at: 50 }];
const BEFORE: readonly Cells[] = warnings(30, 40, { first: '2025-01-30' });

interface Folder {
  readonly run: (...more: string[]) => ReturnType<typeof runInside>;
  readonly summary: (...more: string[]) => Promise<ReturnType<(typeof evaluationSchema)['parse']>>;
  readonly path: (name: string) => string;
}

async function withFleet(work: (folder: Folder) => Promise<void>): Promise<void> {
  await inFolder(async (folder) => {
    const path = (name: string): string => join(folder, name);
    writeFileSync(path('now.csv'), csvOf(NOW));
    writeFileSync(path('before.csv'), csvOf(BEFORE));
    writeFileSync(path('own.json'), JSON.stringify(OWN_SET));
    const run = (...more: string[]): ReturnType<typeof runInside> => runInside(['evaluate', path('now.csv'), '--limits', path('own.json'), ...more]);
    await work({ path, run, summary: async (...more) => evaluationSchema.parse(JSON.parse((await run('--json', ...more)).out)) });
  });
}

describe('the options of a fleet', { timeout: 60_000 }, () => {
  it('--from, --to and --as-of choose which inspections trend and rates count', async () => {
    await withFleet(async ({ summary, run }) => {
      expect(await summary('--from', '2026-02-01', '--to', '2026-02-10')).toMatchObject({ period: { from: '2026-02-01', to: '2026-02-10', by: 'week' }, counted_to: '2026-02-10', fleet: { inspections: 10, failed: 0 }, source: { inspections: 41 } });
      expect(await summary('--as-of', '2026-01-31')).toMatchObject({ period: { from: null, to: '2026-01-31' }, counted_to: '2026-01-31', fleet: { inspections: 2, failed: 2 } });
      expect(await summary()).toMatchObject({ period: { from: null, to: null, by: 'week' }, counted_to: '2026-03-10', fleet: { inspections: 41, failed: 3 } });
      expect((await run('--from', '2026-02-01', '--to', '2026-02-10')).err).toContain('\nCounted: 10 inspections from 2026-02-01 to 2026-02-10; 2 before, 28 after, 1 without a date.\n');
      expect((await run()).err).not.toContain('Counted: ');
    });
  });

  // ISO 8601 weeks: 2026-01-30 is a Friday in week 5, 2026-03-10 a Tuesday in week 11.
  it.each([
    ['week', ['2026-W05', '2026-W06', '2026-W07', '2026-W08', '2026-W09', '2026-W10', '2026-W11']],
    ['month', ['2026-01', '2026-02', '2026-03']],
    ['quarter', ['2026-Q1']],
  ])('--by %s parts the trend', async (by, periods) => {
    await withFleet(async ({ summary }) => {
      const { period, trend } = await summary('--by', by);
      expect([period.by, trend.map((one) => one.period)]).toStrictEqual([by, periods]);
    });
  });

  it('says so where the trend is not by the length that was asked for', async () => {
    await withFleet(async ({ run, path }) => {
      writeFileSync(path('now.csv'), csvOf([...warnings(0, 1, { first: '1990-01-01' }), ...warnings(0, 1)]));
      expect((await run('--by', 'week')).err).toContain('\nThe trend is by quarter: by week it would have more than 400 rows.\n');
      expect((await run('--by', 'quarter')).err).not.toContain('The trend is by');
    });
  });

  it('--baseline sets the rates beside an earlier table, as JSON, in words and on a sheet of the workbook', async () => {
    await withFleet(async ({ run, summary, path }) => {
      const { baseline } = await summary('--baseline', path('before.csv'));
      // Of 41 now 3 failed, of 40 then 30.
      expect(baseline!.rates[0]).toMatchObject({ group: 'all', verdict: 'better', now: { failed: 3, tested: 41 }, before: { failed: 30, tested: 40 } });
      expect(baseline!.source).toMatchObject({ name: 'before.csv', inspections: 40 });
      const { code, err } = await run('--baseline', path('before.csv'), '-o', path('out.xlsx'));
      expect(code).toBe(0);
      expect(err).toMatch(/\nBetter than the baseline before\.csv: 7\.3 % of 41 tested failed now, 75\.0 % of 40 then; difference -67\.7 points, 95 % interval -\d+\.\d to -\d+\.\d\.\n/);
      expect((await openXlsx(readFileSync(path('out.xlsx')))).sheets.map(({ name }) => name)).toContain('Baseline');
      expect((await summary()).baseline).toBeUndefined();
    });
  });

  it('takes as baseline a workbook that it wrote, with the period of that workbook', async () => {
    await withFleet(async ({ run, summary, path }) => {
      await run('--to', '2026-02-08', '-o', path('first.xlsx'));
      const { baseline } = await summary('--from', '2026-02-09', '--baseline', path('first.xlsx'));
      expect(baseline!.rates[0]).toMatchObject({ before: { failed: 2, tested: 10 }, now: { failed: 0, tested: 30 } });
      expect([baseline!.before, baseline!.now]).toStrictEqual([{ from: '2026-01-30', to: '2026-02-08' }, { from: '2026-02-09', to: '2026-03-10' }]);
      const { err } = await run('--baseline', path('first.xlsx'));
      expect(err).toContain('\n10 inspections are counted on both sides (same inspection_id and unit; without an inspection_id, same unit and date): a real difference looks smaller than it is.\n');
    });
  });

  it('reads the baseline from standard input', async () => {
    await inFolder(async (folder) => {
      writeFileSync(join(folder, 'now.csv'), csvOf(NOW));
      writeFileSync(join(folder, 'own.json'), JSON.stringify(OWN_SET));
      const { code, out } = await runProgram(['evaluate', 'now.csv', '--limits', 'own.json', '--baseline', '-', '--json', '-q'], { folder, input: csvOf(BEFORE) });
      expect(code).toBe(0);
      expect(evaluationSchema.parse(JSON.parse(out)).baseline!.source).toMatchObject({ name: 'standard input', inspections: 40 });
    });
  });

  it('never writes over the baseline, under whatever name', async () => {
    await withFleet(async ({ run, path }) => {
      await run('-o', path('old.xlsx'));
      const before = readFileSync(path('old.xlsx'));
      const { code, out, err } = await run('--baseline', path('old.xlsx'), '-o', path(join('..', basename(path('.')), 'old.xlsx')), '--force');
      expect([code, out]).toStrictEqual([4, '']);
      expect(err).toMatch(/old\.xlsx: this file is read, and what is read is never overwritten; name another file\n$/);
      expect(readFileSync(path('old.xlsx')).equals(before)).toBe(true);
      expect(readdirSync(path('.')).sort()).toStrictEqual(['before.csv', 'now.csv', 'old.xlsx', 'own.json']);
    });
  });

  it('says in words that a period leaves nothing, and writes a workbook all the same', async () => {
    await withFleet(async ({ run, path }) => {
      const { code, err } = await run('--from', '2030-01-01', '--to', '2030-12-31', '-o', path('out.xlsx'), '--baseline', path('before.csv'));
      expect(code).toBe(0);
      expect(err).toContain('\nNo inspection lies in the period (from 2030-01-01 to 2030-12-31): the dates go from 2026-01-30 to 2026-03-10. Trend and rates are empty.\n');
      expect(err).toContain('\nNot to be compared with the baseline before.csv: no inspection of those counted now passed or failed.\n');
      expect((await openXlsx(readFileSync(path('out.xlsx')))).sheets.map(({ name }) => name)).toContain('Trend');
      writeFileSync(path('now.csv'), csvOf([{ unit: 'T-0', light_on_at: 50 }]));
      expect((await run('--to', '2030-12-31')).err).toContain('\nNo inspection lies in the period (up to 2030-12-31): no inspection has a date. Trend and rates are empty.\n');
    });
  });

  it('names up to three units to pull in first, and says so when there is none', async () => {
    await withFleet(async ({ run, path }) => {
      expect((await run()).err).toContain('\nPull in first: T-0 (open failure, 39 days); T-1 (open failure, 38 days).\n');
      writeFileSync(path('now.csv'), csvOf(warnings(9, 9)));
      expect((await run()).err).toContain('\nPull in first: T-0 (open failure, 8 days); T-1 (open failure, 7 days); T-2 (open failure, 6 days).\n');
      writeFileSync(path('now.csv'), csvOf(warnings(0, 3)));
      expect((await run()).err).toContain('\nNothing to pull in: no open failure, no leak shown to reach its limit, nothing overdue.\n');
    });
  });

  it('says nothing of all this with --quiet', async () => {
    await withFleet(async ({ run, path }) => {
      expect(await run('--from', '2026-02-01', '--baseline', path('before.csv'), '-q')).toStrictEqual({ code: 0, out: '', err: '' });
    });
  });
});
