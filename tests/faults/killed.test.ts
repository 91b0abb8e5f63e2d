import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { ResultsSection } from '../support/results-section.js';
import { partsIn, startProgram, untilWriting, withFleet } from './start-program.js';

const results = new ResultsSection('tests/faults/RESULTS.md', 'Faults of the machine, and what came of each', 'A run that is killed');

/** Numbers from 0 to 1 from a seed: the minimal standard generator of Park and Miller (CACM 31, 1988, 1192-1201). */
function* parkMiller(seed: number): Generator<number, never> {
  for (let state = seed; ; ) {
    state = (state * 16_807) % 2_147_483_647;
    yield state / 2_147_483_647;
  }
}

const POINTS = { xlsx: 16, csv: 17, json: 17 } as const;

describe('a run that is killed', { timeout: 300_000 }, () => {
  it('at fifty points leaves the old file or the whole new one, or nothing where there was nothing', async () => {
    await withFleet(async (folder) => {
      const random = parkMiller(20_260_314);
      let killed = 0;
      for (const [ending, points] of Object.entries(POINTS)) {
        const output = join(folder, `out.${ending}`);
        const args = ['evaluate', 'fleet.csv', '-o', `out.${ending}`, '--force', '--quiet'];
        const begin = performance.now();
        expect((await startProgram(args, { folder }).ended).code).toBe(0);
        const length = performance.now() - begin;
        const whole = readFileSync(output);
        for (let point = 0; point < points; point += 1) {
          const old = point % 2 === 0 ? null : 'the old file';
          if (old === null) rmSync(output, { force: true });
          else writeFileSync(output, old);
          const run = startProgram(args, { folder });
          // Half of them over the whole length of a run, half while the file is written.
          if (point % 4 < 2) await pause(random.next().value * length);
          else if (await untilWriting(run, folder)) await pause(random.next().value * (ending === 'xlsx' ? length / 3 : 10));
          run.child.kill('SIGKILL');
          const { code, signal } = await run.ended;
          if (signal === 'SIGKILL') killed += 1;
          const now = bytesOrNull(output);
          if (code === 0 || !(now === null ? old === null : now.toString() === old)) expect([ending, point, now?.equals(whole)]).toStrictEqual([ending, point, true]);
          for (const part of partsIn(folder)) rmSync(join(folder, part));
        }
        results.came(`SIGKILL at ${points} points of writing .${ending}`, 'the old file or the whole new one each time, or nothing where there was nothing');
      }
      expect(killed).toBeGreaterThan(10);
    });
  });

  it('may leave a part, which the next run neither takes for a result nor stumbles over', async () => {
    await withFleet(async (folder) => {
      const run = startProgram(['evaluate', 'fleet.csv', '-o', 'out.xlsx'], { folder });
      expect(await untilWriting(run, folder)).toBe(true);
      run.child.kill('SIGKILL');
      expect((await run.ended).signal).toBe('SIGKILL');
      const left = partsIn(folder);
      expect(left).toStrictEqual([expect.stringMatching(/^\.out\.xlsx\.[0-9a-f]{12}\.part$/)]);
      const again = await startProgram(['evaluate', 'fleet.csv', '-o', 'out.xlsx', '--quiet'], { folder }).ended;
      expect(again).toStrictEqual({ code: 0, signal: null, out: '', err: '' });
      const read = await startProgram(['verify', 'out.xlsx'], { folder }).ended;
      expect([read.code, read.out]).toStrictEqual([0, expect.stringContaining('nothing was found')]);
      results.came('a part that a killed run left', 'the next run writes its file, which verifies clean');
    });
  });
});

it('stand in the published table with what came of them (WRITE_RESULTS=1 writes it anew)', () => results.expectPublished());

function bytesOrNull(path: string): Buffer | null {
  try {
    return readFileSync(path);
  } catch {
    return null;
  }
}
