import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runInside } from '../cli/run-inside.js';
import { ResultsSection } from '../support/results-section.js';
import { withFleet } from './start-program.js';

const results = new ResultsSection('tests/faults/RESULTS.md', 'Faults of the machine, and what came of each', 'A finished file that was cut');

const CUTS = 50;

/** Fifty lengths over a whole file, the last of them one byte short. */
function lengths(whole: Buffer): number[] {
  return Array.from({ length: CUTS }, (_, index) => 1 + Math.floor(((whole.length - 2) * index) / (CUTS - 1)));
}

describe('a finished file that was cut', { timeout: 120_000 }, () => {
  it.each(['xlsx', 'json'])('never reads as a whole .%s, at whatever length', async (ending) => {
    await withFleet(async (folder) => {
      const whole = join(folder, `whole.${ending}`);
      expect((await runInside(['evaluate', join(folder, 'fleet.csv'), '-o', whole, '--quiet'])).code).toBe(0);
      const bytes = readFileSync(whole);
      const cut = join(folder, `cut.${ending}`);
      for (const length of lengths(bytes)) {
        writeFileSync(cut, bytes.subarray(0, length));
        for (const args of [['evaluate', cut], ['compare', cut, whole], ...(ending === 'xlsx' ? [['verify', cut]] : [])]) {
          const { code, out, err } = await runInside(args);
          expect([args[0], length, code, out]).toStrictEqual([args[0], length, 3, '']);
          expect(err).toMatch(/^treadlebook: .*\n$/);
          results.came(`a .${ending} cut at ${CUTS} lengths: ${args[0]}`, `exit ${code} and one line each time`, 'never read as a whole one');
        }
      }
    });
  });

  it('as a table of readings keeps every row before the cut as it was; a text cut within its quotes is refused', async () => {
    await withFleet(async (folder) => {
      const text = readFileSync(join(folder, 'fleet.csv'), 'utf8');
      const inspectionsOf = (out: string): { readonly row: number }[] => (JSON.parse(out) as { inspections: { row: number }[] }).inspections;
      const whole = inspectionsOf((await runInside(['evaluate', join(folder, 'fleet.csv'), '--json', '--quiet'])).out);
      const cut = join(folder, 'cut.csv');
      const header = text.indexOf('\n') + 1;
      let [read, refused] = [0, 0];
      for (const length of lengths(Buffer.from(text)).filter((one) => one > header + 20)) {
        const part = text.slice(0, length);
        writeFileSync(cut, part);
        const { code, out, err } = await runInside(['evaluate', cut, '--json', '--quiet']);
        if ((part.match(/"/g)?.length ?? 0) % 2 === 1) {
          expect([length, code, err]).toStrictEqual([length, 3, expect.stringContaining('a quote opens here and never closes')]);
          refused += 1;
          continue;
        }
        // The last row may be short of what stood in it, and nothing in the file says so.
        const before = part.split('\n').length - 2;
        expect([length, code, inspectionsOf(out).slice(0, before)]).toStrictEqual([length, 0, whole.slice(0, before)]);
        read += 1;
      }
      expect([read > 20, refused > 0]).toStrictEqual([true, true]);
      results.came('a .csv cut between two quotes', 'exit 3: a quote opens here and never closes');
      results.came('a .csv cut anywhere else', 'exit 0; every row before the cut is as it was, and nothing says that the last row may be short');
    });
  });
});

it('stand in the published table with what came of them (WRITE_RESULTS=1 writes it anew)', () => results.expectPublished());
