import { execFileSync } from 'node:child_process';
import { copyFileSync, existsSync, mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { endingOf, ResultsSection } from '../support/results-section.js';
import { partsIn, runShell, withFleet, WRITING } from './start-program.js';

const results = new ResultsSection('tests/faults/RESULTS.md', 'Faults of the machine, and what came of each', 'A full disk');

/** A folder in which nothing more can be written: a full disk where this machine allows a mount, else a limit on the size of files. */
async function onFullDisk(folder: string, work: (disk: { readonly folder: string; readonly before: string; readonly fault: string }) => Promise<void>): Promise<void> {
  const disk = join(folder, 'disk');
  mkdirSync(disk);
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', 'size=64k', 'tmpfs', disk], { stdio: 'ignore' });
  } catch {
    await work({ folder: disk, before: 'ulimit -f 0; ', fault: 'EFBIG' });
    return;
  }
  try {
    for (const name of ['xlsx', 'csv', 'tsv', 'json']) writeFileSync(join(disk, `out.${name}`), 'the old file');
    expect(() => writeFileSync(join(disk, 'filler'), Buffer.alloc(1 << 17))).toThrow('ENOSPC');
    await work({ folder: disk, before: '', fault: 'ENOSPC' });
  } finally {
    execFileSync('umount', [disk]);
  }
}

describe('a full disk', { timeout: 180_000 }, () => {
  it('is named by every command that writes, the old file stays, and no part of a new one does', async () => {
    await withFleet(async (folder) => {
      await onFullDisk(folder, async ({ folder: disk, before, fault }) => {
        for (const { args, endings } of WRITING) {
          for (const ending of endings) {
            const output = join(disk, `out.${ending}`);
            if (!existsSync(output)) writeFileSync(output, 'the old file');
            const { code, out, err } = await runShell(`${before}$RUN ${args.join(' ')} -o disk/out.${ending} --force --quiet`, folder);
            expect({ code, out, err }).toStrictEqual({ code: 4, out: '', err: expect.stringMatching(new RegExp(`^treadlebook: disk/out.${ending}: the file cannot be written \\(${fault}\\); .+\\n$`)) });
            expect(readFileSync(output, 'utf8')).toBe('the old file');
            expect(partsIn(disk)).toStrictEqual([]);
            results.came(`the disk is full: ${args[0]} to .${ending}`, endingOf({ code, err: err.replace(/ \((?:ENOSPC|EFBIG)\); .*/, '') }), 'the old file stays, and no part of a new one');
          }
        }
      });
    });
  });

  it('is named where standard output goes to it', async () => {
    await withFleet(async (folder) => {
      for (const command of ['evaluate fleet.csv --json --quiet', 'limits', 'fields --json', 'help', '--version', 'hold --gauge-step 25 --limit 3']) {
        const { code, err } = await runShell(`$RUN ${command} > /dev/full`, folder);
        expect([command, code, err]).toStrictEqual([command, 4, 'treadlebook: standard output: it cannot be written (ENOSPC); the disk is full; free some space\n']);
        results.came(`standard output is a full disk: ${command}`, endingOf({ code, err }));
      }
    });
  });

  it('is no reason to fail where only what is told goes to it', async () => {
    await withFleet(async (folder) => {
      const { code } = await runShell('$RUN evaluate fleet.csv -o out.csv 2> /dev/full', folder);
      expect(code).toBe(0);
      expect(statSync(join(folder, 'out.csv')).size).toBeGreaterThan(1000);
      results.came('standard error is a full disk', endingOf({ code, err: '' }), 'the output is written');
    });
  });

  it('of a limit on the size of a file is named too', async () => {
    await withFleet(async (folder) => {
      copyFileSync(join(folder, 'fleet.csv'), join(folder, 'old.csv'));
      const { code, err } = await runShell('ulimit -f 1; $RUN evaluate fleet.csv -o old.csv --force --quiet', folder);
      expect([code, err]).toStrictEqual([4, 'treadlebook: old.csv: the file cannot be written (EFBIG); a file of that size is not allowed here; raise the limit or choose another disk\n']);
      expect(readFileSync(join(folder, 'old.csv'))).toStrictEqual(readFileSync(join(folder, 'fleet.csv')));
      expect(partsIn(folder)).toStrictEqual([]);
      results.came('files may not grow larger than a limit', endingOf({ code, err }), 'the old file stays');
    });
  });
});

it('stand in the published table with what came of them (WRITE_RESULTS=1 writes it anew)', () => results.expectPublished());
