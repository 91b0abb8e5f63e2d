import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runShell, withFleet } from './start-program.js';

describe('a reader that stops', { timeout: 120_000 }, () => {
  it('ends what is printed quietly, with the exit code of a run that is done', async () => {
    await withFleet(async (folder) => {
      for (const command of ['evaluate fleet.csv --json --quiet', 'compare fleet.csv fleet.csv --json', 'limits', 'fields', 'help', 'evaluate --help']) {
        const { code, err } = await runShell(`$RUN ${command} | head -c 1`, folder);
        expect([command, code, err]).toStrictEqual([command, 0, '']);
      }
    });
  });

  it('does not keep a file from being written', async () => {
    await withFleet(async (folder) => {
      const { code, err } = await runShell('$RUN evaluate fleet.csv --show-map -o out.csv --quiet | head -c 0', folder);
      expect([code, err]).toStrictEqual([0, '']);
      expect(readFileSync(join(folder, 'out.csv'), 'utf8').split('\r\n')).toHaveLength(13);
    });
  });

  it('does not change the exit code of a comparison that found something', async () => {
    await withFleet(async (folder) => {
      const { code } = await runShell('$RUN compare fleet.csv other.csv | head -c 0', folder);
      expect(code).toBe(1);
    });
  });
});

describe('a stream that is closed from the start', { timeout: 120_000 }, () => {
  it('does not keep a file from being written', async () => {
    await withFleet(async (folder) => {
      const { code } = await runShell('$RUN evaluate fleet.csv -o out.csv >&- 2>&- <&-', folder);
      expect(code).toBe(0);
      expect(readFileSync(join(folder, 'out.csv'), 'utf8').split('\r\n')).toHaveLength(13);
    });
  });

  it('or empty, or a folder, has no rows, and is said to have none', async () => {
    await withFleet(async (folder) => {
      const empty = 'treadlebook: standard input: there are no rows; check that this is the right file and that it was saved with its rows\n';
      for (const from of ['<&-', '< /dev/null', '< .']) {
        const { code, out, err } = await runShell(`$RUN evaluate - ${from}`, folder);
        expect([from, code, out, err]).toStrictEqual([from, 3, '', empty]);
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
      }
    });
  });
});
