import { copyFileSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runInside } from '../cli/run-inside.js';
import { withFleet } from './start-program.js';

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
        for (const args of [['evaluate', cut], ...(ending === 'xlsx' ? [['verify', cut], ['compare', whole, cut]] : [])]) {
          const { code, out, err } = await runInside(args);
          expect([args[0], length, code, out]).toStrictEqual([args[0], length, 3, '']);
          expect(err).toMatch(/^treadlebook: .*\n$/);
        }
      }
    });
  });

  it('as a table of readings: a row that ends too early is told, a file cut between two rows cannot be', async () => {
    await withFleet(async (folder) => {
      copyFileSync(join(folder, 'fleet.csv'), join(folder, 'whole.csv'));
      const text = readFileSync(join(folder, 'whole.csv'), 'utf8');
      const cut = join(folder, 'cut.csv');
      for (const length of lengths(Buffer.from(text))) console.log(length, (writeFileSync(cut, text.slice(0, length)), (await runInside(['evaluate', cut])).err.split('\n').filter((l) => /problem|row|treadle/.test(l)).join(' | ').slice(0, 250)), JSON.stringify(text.slice(length - 12, length)));
    });
  });
});
