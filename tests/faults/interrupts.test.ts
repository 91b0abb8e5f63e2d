import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { pathToFileURL } from 'node:url';
import { describe, expect, it } from 'vitest';
import { endingOf, ResultsSection } from '../support/results-section.js';
import { partsIn, runShell, startProgram, untilWriting, withFleet, WRITING } from './start-program.js';

const results = new ResultsSection('tests/faults/RESULTS.md', 'Faults of the machine, and what came of each', 'A run that is told to stop, or breaks');

const SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;
const INTERRUPTED = 'treadlebook: interrupted; nothing was written\n';

describe('a run that is told to stop', { timeout: 120_000 }, () => {
  it('while it writes a workbook removes its part, keeps the old file and says so', async () => {
    await withFleet(async (folder) => {
      for (const [index, { args }] of WRITING.entries()) {
        const signal = SIGNALS[index % SIGNALS.length]!;
        writeFileSync(join(folder, 'out.xlsx'), 'the old file');
        const run = startProgram([...args, '-o', 'out.xlsx', '--force'], { folder });
        expect(await untilWriting(run, folder)).toBe(true);
        run.child.kill(signal);
        expect(await run.ended).toStrictEqual({ code: null, signal, out: '', err: INTERRUPTED });
        expect(readFileSync(join(folder, 'out.xlsx'), 'utf8')).toBe('the old file');
        expect(partsIn(folder)).toStrictEqual([]);
        results.came(`${signal} while ${args[0]} writes a workbook`, endingOf(await run.ended), 'the old file stays, and no part of a new one');
      }
    });
  });

  it('gives a shell the exit code 130, 143 or 129', async () => {
    await withFleet(async (folder) => {
      const codes: (number | null)[] = [];
      for (const signal of SIGNALS) {
        const { code } = await runShell(`$RUN evaluate fleet.csv -o out.xlsx & run=$!; until ls -a | grep -q part; do sleep 0.02; done; kill -${signal} $run; wait $run; exit $?`, folder);
        codes.push(code);
      }
      expect(codes).toStrictEqual([130, 143, 129]);
      for (const [index, signal] of SIGNALS.entries()) results.came(`${signal}, as a shell sees it`, `exit ${codes[index]}`);
    });
  });

  it('at a moment drawn by lot says what is true of its output', async () => {
    await withFleet(async (folder) => {
      const whole = await startProgram(['evaluate', 'fleet.csv', '-o', 'whole.csv', '--quiet'], { folder }).ended;
      expect(whole.code).toBe(0);
      const output = join(folder, 'out.csv');
      for (const delay of [20, 250, 400, 550, 650, 750, 850, 1000]) {
        writeFileSync(output, 'the old file');
        const run = startProgram(['evaluate', 'fleet.csv', '-o', 'out.csv', '--force'], { folder });
        await pause(delay);
        run.child.kill('SIGTERM');
        const { code, err } = await run.ended;
        const now = readFileSync(output, 'utf8');
        const isWhole = now === readFileSync(join(folder, 'whole.csv'), 'utf8');
        // A run that said what it wrote may be on its way out when the signal comes.
        if (code === 0 || err.includes('was written and is whole') || err.endsWith('Wrote out.csv.\n')) expect(isWhole).toBe(true);
        else expect([now, ['', INTERRUPTED].includes(err)]).toStrictEqual(['the old file', true]);
        expect(partsIn(folder)).toStrictEqual([]);
      }
      results.came('SIGTERM at a moment drawn by lot', 'the old file, or the whole new one, as the run says; no part');
    });
  });

  it('while it waits for standard input, or for the other end of a pipe, ends', async () => {
    await withFleet(async (folder) => {
      execFileSync('mkfifo', [join(folder, 'pipe.csv')]);
      for (const input of ['-', 'pipe.csv']) {
        const run = startProgram(['evaluate', input], { folder, waits: true });
        await pause(1500);
        run.child.kill('SIGINT');
        const { signal, err } = await run.ended;
        expect([input, signal, ['', INTERRUPTED].includes(err)]).toStrictEqual([input, 'SIGINT', true]);
        results.came(`SIGINT while it waits for ${input === '-' ? 'standard input' : 'the other end of a pipe'}`, `ended by ${signal}`);
      }
    });
  });
});

describe('a run that breaks', { timeout: 60_000 }, () => {
  it('where nobody catches it ends in one line, and no part of a file stays', async () => {
    await withFleet(async (folder) => {
      writeFileSync(join(folder, 'out.xlsx'), 'the old file');
      writeFileSync(join(folder, 'breaks.mjs'), `process.on('SIGUSR2', () => { throw new Error('broken on purpose'); });`);
      const run = startProgram(['evaluate', 'fleet.csv', '-o', 'out.xlsx', '--force'], { folder, environment: { NODE_OPTIONS: `--import=${pathToFileURL(join(folder, 'breaks.mjs')).href}` } });
      expect(await untilWriting(run, folder)).toBe(true);
      run.child.kill('SIGUSR2');
      const { code, err } = await run.ended;
      expect([code, err]).toStrictEqual([70, 'treadlebook: a defect of ours: broken on purpose; please report it with the command and, if you may, the file; nothing was written\n']);
      expect(readFileSync(join(folder, 'out.xlsx'), 'utf8')).toBe('the old file');
      expect(partsIn(folder)).toStrictEqual([]);
      results.came('an error that nobody catches', endingOf({ code, err }), 'the old file stays, and no part of a new one');
    });
  });

  it('for want of memory is ended by Node, which says so; the old file stays', async () => {
    await withFleet(async (folder) => {
      writeFileSync(join(folder, 'out.xlsx'), 'the old file');
      const { code, signal, err } = await startProgram(['evaluate', 'fleet.csv', '-o', 'out.xlsx', '--force'], { folder, environment: { NODE_OPTIONS: '--max-old-space-size=24' } }).ended;
      expect(code === 134 || signal === 'SIGABRT').toBe(true);
      expect(err).toContain('heap out of memory');
      expect(readFileSync(join(folder, 'out.xlsx'), 'utf8')).toBe('the old file');
      results.came('too little memory', 'ended by Node, which says so', 'the old file stays');
    });
  });

  it('for want of open files is told in one line', async () => {
    await withFleet(async (folder) => {
      const { code, out, err } = await runShell('ulimit -n 32; $RUN evaluate fleet.csv -o out.xlsx', folder);
      expect({ code, out, err }).toStrictEqual({ code: 3, out: '', err: 'treadlebook: too many files are open; close some programs\n' });
      expect(partsIn(folder)).toStrictEqual([]);
      results.came('too many open files', endingOf({ code, err }), 'nothing is written');
    });
  });
});

it('stand in the published table with what came of them (WRITE_RESULTS=1 writes it anew)', () => results.expectPublished());
