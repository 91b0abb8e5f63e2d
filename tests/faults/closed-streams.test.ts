import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { endingOf, ResultsSection } from '../support/results-section.js';
import { runShell, withFleet } from './start-program.js';

const results = new ResultsSection('tests/faults/RESULTS.md', 'Faults of the machine, and what came of each', 'A closed pipe or stream');

describe('a reader that stops', { timeout: 120_000 }, () => {
  it('ends what is printed quietly, with the exit code of a run that is done', async () => {
    await withFleet(async (folder) => {
      for (const command of ['evaluate fleet.csv --json --quiet', 'compare fleet.csv fleet.csv --json', 'limits', 'fields', 'help', 'evaluate --help']) {
        const { code, err } = await runShell(`$RUN ${command} | head -c 1`, folder);
        expect([command, code, err]).toStrictEqual([command, 0, '']);
        results.came(`a reader that stops after one byte: ${command}`, endingOf({ code, err }));
      }
    });
  });

  it('does not keep a file from being written', async () => {
    await withFleet(async (folder) => {
      const { code, err } = await runShell('$RUN evaluate fleet.csv --show-map -o out.csv --quiet | head -c 0', folder);
      expect([code, err]).toStrictEqual([0, '']);
      expect(readFileSync(join(folder, 'out.csv'), 'utf8').split('\r\n')).toHaveLength(13);
      results.came('a reader that stops at once, while a file is written', endingOf({ code, err }), 'the file is written');
    });
  });

  it('does not change the exit code of a comparison that found something', async () => {
    await withFleet(async (folder) => {
      const { code } = await runShell('$RUN compare fleet.csv other.csv | head -c 0', folder);
      expect(code).toBe(1);
      results.came('a reader that stops at once, of a comparison that found something', endingOf({ code, err: '' }), 'the exit code of what was found');
    });
  });
});

describe('a stream that is closed from the start', { timeout: 120_000 }, () => {
  it('does not keep a file from being written', async () => {
    await withFleet(async (folder) => {
      const { code } = await runShell('$RUN evaluate fleet.csv -o out.csv >&- 2>&- <&-', folder);
      expect(code).toBe(0);
      expect(readFileSync(join(folder, 'out.csv'), 'utf8').split('\r\n')).toHaveLength(13);
      results.came('all three streams closed from the start', endingOf({ code, err: '' }), 'the file is written');
    });
  });

  it('or empty, or a folder, has no rows, and is said to have none', async () => {
    await withFleet(async (folder) => {
      const empty = 'treadlebook: standard input: there are no rows; check that this is the right file and that it was saved with its rows\n';
      for (const from of ['<&-', '< /dev/null', '< .']) {
        const { code, out, err } = await runShell(`$RUN evaluate - ${from}`, folder);
        expect([from, code, out, err]).toStrictEqual([from, 3, '', empty]);
        results.came(`standard input ${from}`, endingOf({ code, err }));
      }
    });
  });

  it('or ends early within a workbook or an object, is named', async () => {
    await withFleet(async (folder) => {
      expect((await runShell('$RUN evaluate fleet.csv --quiet -o whole.xlsx && $RUN evaluate fleet.csv --quiet -o whole.json', folder)).code).toBe(0);
      for (const [whole, said] of [['whole.xlsx', 'damaged'], ['whole.json', 'JSON']] as const) {
        const { code, out, err } = await runShell(`head -c 5000 ${whole} > cut; $RUN evaluate - < cut`, folder);
        expect([whole, code, out]).toStrictEqual([whole, 3, '']);
        expect(err).toMatch(new RegExp(`^treadlebook: standard input: .*${said}.*\\n$`));
        results.came(`standard input ends within a ${whole === 'whole.xlsx' ? 'workbook' : 'JSON object'}`, endingOf({ code, err: err.replace(/[:(].* \(.*\)|(?<=damaged|JSON).*/, '') }));
      }
    });
  });
});

it('stand in the published table with what came of them (WRITE_RESULTS=1 writes it anew)', () => results.expectPublished());
