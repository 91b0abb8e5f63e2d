import { execFileSync } from 'node:child_process';
import { lstatSync, mkdirSync, readdirSync, readFileSync, statSync, symlinkSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runInside } from '../cli/run-inside.js';
import { endingOf, ResultsSection } from '../support/results-section.js';
import { runShell, startProgram, withFleet } from './start-program.js';

const results = new ResultsSection('tests/faults/RESULTS.md', 'Faults of the machine, and what came of each', 'A target that cannot be written, or is replaced');

/** Root may write anywhere; without this right it is held to the permissions of its own folders, as anybody is. */
const AS_ANYBODY = process.getuid?.() === 0 ? 'setpriv --bounding-set=-dac_override,-dac_read_search ' : '';

describe('a target that cannot be written', { timeout: 60_000 }, () => {
  it('in a folder that may not be written to is named', async () => {
    await withFleet(async (folder) => {
      mkdirSync(join(folder, 'locked'), { mode: 0o555 });
      const { code, err } = await runShell(`${AS_ANYBODY}$RUN evaluate fleet.csv -o locked/out.xlsx`, folder);
      expect([code, err]).toStrictEqual([4, 'treadlebook: locked/out.xlsx: the file cannot be written (EACCES); you may not write there; choose another folder\n']);
      expect(readdirSync(join(folder, 'locked'))).toStrictEqual([]);
      results.came('a folder that may not be written to', endingOf({ code, err }), 'nothing is written');
    });
  });

  it('in a folder that is none is named by every command, before anything is read', async () => {
    await withFleet(async (folder) => {
      for (const args of [['evaluate', 'none.csv'], ['blank'], ['compare', 'none.csv', 'none.csv'], ['report', 'none.csv', '--unit', 'K-101', '--date', '2024-11-08']]) {
        const inMissing = await runInside([...args, '-o', join(folder, 'missing', 'out.xlsx')]);
        expect(inMissing).toStrictEqual({ code: 4, out: '', err: expect.stringContaining('the file cannot be written (ENOENT); the folder does not exist; make it first') });
        const inFile = await runInside([...args, '-o', join(folder, 'fleet.csv', 'out.xlsx')]);
        expect(inFile).toStrictEqual({ code: 4, out: '', err: expect.stringContaining('(ENOTDIR); a part of the path is a file, not a folder; check the path') });
        results.came('a folder that does not exist, by every command', endingOf({ ...inMissing, err: inMissing.err.replaceAll(`${folder}/`, '') }), 'before anything is read');
        results.came('a folder that is a file, by every command', endingOf({ ...inFile, err: inFile.err.replaceAll(`${folder}/`, '') }), 'before anything is read');
      }
    });
  });

  it('that is a folder, a pipe, a device or a link to nothing stays what it is, with --force too', async () => {
    await withFleet(async (folder) => {
      mkdirSync(join(folder, 'folder.csv'));
      execFileSync('mkfifo', [join(folder, 'pipe.csv')]);
      symlinkSync('/dev/null', join(folder, 'device.csv'));
      symlinkSync('nowhere.csv', join(folder, 'dangling.csv'));
      symlinkSync('round.csv', join(folder, 'round.csv'));
      const before = readdirSync(folder);
      const words = { folder: 'this is a folder; name a file', pipe: 'this is a pipe or a device', device: 'this is a pipe or a device', dangling: 'this is a link to a file that is not there; remove the link', round: '(ELOOP); its links lead round in a circle' };
      for (const [name, said] of Object.entries(words)) {
        for (const force of [[], ['--force']]) {
          const { code, err } = await runInside(['evaluate', join(folder, 'fleet.csv'), '-o', join(folder, `${name}.csv`), ...force]);
          expect([name, code, err]).toStrictEqual([name, 4, expect.stringContaining(said)]);
          results.came(`a target that is a ${name === 'round' ? 'link in a circle' : name === 'dangling' ? 'link to nothing' : name}, with --force too`, endingOf({ code, err: err.replaceAll(`${folder}/`, '') }), 'it stays what it is');
        }
      }
      expect(readdirSync(folder)).toStrictEqual(before);
      expect(lstatSync(join(folder, 'pipe.csv')).isFIFO()).toBe(true);
    });
  });

  it('because its name is too long is named; one that just fits is written', async () => {
    await withFleet(async (folder) => {
      const tooLong = await runInside(['evaluate', join(folder, 'fleet.csv'), '-o', join(folder, `${'n'.repeat(252)}.csv`)]);
      expect([tooLong.code, tooLong.err]).toStrictEqual([4, expect.stringContaining('(ENAMETOOLONG); the name is too long; choose a shorter one')]);
      results.came('a name of 256 bytes', endingOf({ code: tooLong.code, err: tooLong.err.replaceAll(`${folder}/`, '').replace(/n{252}/, 'nnn…') }));
      const longest = `${'n'.repeat(251)}.csv`;
      expect((await runInside(['evaluate', join(folder, 'fleet.csv'), '-o', join(folder, longest), '--quiet'])).code).toBe(0);
      expect(readdirSync(folder)).toStrictEqual(['fleet.csv', longest, 'other.csv']);
    });
  });
});

describe('a target that is replaced', { timeout: 60_000 }, () => {
  it('through a link is the file that the link points at; the link and the permissions stay', async () => {
    await withFleet(async (folder) => {
      mkdirSync(join(folder, 'shared'));
      writeFileSync(join(folder, 'shared', 'june.csv'), 'old', { mode: 0o600 });
      symlinkSync(join('shared', 'june.csv'), join(folder, 'latest.csv'));
      const kept = await runInside(['evaluate', join(folder, 'fleet.csv'), '-o', join(folder, 'latest.csv')]);
      expect([kept.code, readFileSync(join(folder, 'shared', 'june.csv'), 'utf8')]).toStrictEqual([4, 'old']);
      const replaced = await runInside(['evaluate', join(folder, 'fleet.csv'), '-o', join(folder, 'latest.csv'), '--force', '--quiet']);
      expect(replaced).toStrictEqual({ code: 0, out: '', err: '' });
      expect(lstatSync(join(folder, 'latest.csv')).isSymbolicLink()).toBe(true);
      expect(readFileSync(join(folder, 'shared', 'june.csv'), 'utf8')).toMatch(/^inspection_id,/);
      expect(statSync(join(folder, 'shared', 'june.csv')).mode & 0o777).toBe(0o600);
      expect(readdirSync(join(folder, 'shared'))).toStrictEqual(['june.csv']);
      results.came('a target that is a link to a file, with --force', endingOf(replaced), 'the file is replaced; the link and the permissions stay');
    });
  });

  it('by two runs at once without --force is written by one; the other says that it exists', async () => {
    await withFleet(async (folder) => {
      const runs = await Promise.all([1, 2].map(() => startProgram(['evaluate', 'fleet.csv', '-o', 'out.csv', '--quiet'], { folder }).ended));
      expect(runs.map(({ code }) => code).sort()).toStrictEqual([0, 4]);
      expect(runs.find(({ code }) => code === 4)!.err).toBe('treadlebook: out.csv: the file exists already and was kept; name another file, or add --force to replace it\n');
      results.came('two runs at once to one new file', 'one writes it', `the other: ${endingOf(runs.find(({ code }) => code === 4)!)}`);
      expect(readdirSync(folder)).toStrictEqual(['fleet.csv', 'other.csv', 'out.csv']);
    });
  });

  it('takes with it what runs that were killed have left of it a day ago, and nothing else', async () => {
    await withFleet(async (folder) => {
      const [old, young, other] = ['.out.csv.0123456789ab.part', '.out.csv.ba9876543210.part', '.more.csv.0123456789ab.part'];
      for (const name of [old, young, other]) writeFileSync(join(folder, name), 'half');
      const yesterday = Date.now() / 1000 - 25 * 3600;
      for (const name of [old, other]) utimesSync(join(folder, name), yesterday, yesterday);
      const { code } = await runInside(['evaluate', join(folder, 'fleet.csv'), '-o', join(folder, 'out.csv'), '--quiet']);
      expect(code).toBe(0);
      expect(readdirSync(folder)).toStrictEqual([other, young, 'fleet.csv', 'other.csv', 'out.csv']);
      results.came('parts that killed runs left beside the target', endingOf({ code, err: '' }), 'those of this target that are a day old are removed, and nothing else');
    });
  });
});

it('stand in the published table with what came of them (WRITE_RESULTS=1 writes it anew)', () => results.expectPublished());
