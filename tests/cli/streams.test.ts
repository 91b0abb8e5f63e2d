import { spawn } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { inFolder, PACKAGE, runProgram } from './run-program.js';

const PROGRAM = `"${process.execPath}" "${join(PACKAGE, 'dist', 'cli', 'main.js')}"`;
const FLEET = join(PACKAGE, 'samples', 'invented-fleet.csv');

/** Runs a shell line; the exit code is that of the program before the pipe. */
async function shell(line: string): Promise<{ readonly code: number | null; readonly out: string; readonly err: string }> {
  const child = spawn('bash', ['-c', `${line}; exit \${PIPESTATUS[0]}`], { stdio: ['ignore', 'pipe', 'pipe'] });
  let [out, err] = ['', ''];
  child.stdout.on('data', (chunk: Buffer) => (out += chunk.toString()));
  child.stderr.on('data', (chunk: Buffer) => (err += chunk.toString()));
  const code = await new Promise<number | null>((resolve) => child.on('close', resolve));
  return { code, out, err };
}

describe('standard streams', { timeout: 60_000 }, () => {
  it.skipIf(!existsSync('/bin/bash'))('a reader that stops after a line ends the program quietly', async () => {
    const json = await shell(`${PROGRAM} evaluate "${FLEET}" --json --quiet | head -1`);
    expect(json.out).toMatch(/^\{"format":"treadlebook-evaluation"/);
    expect([json.code, json.err]).toStrictEqual([0, '']);
    const fields = await shell(`${PROGRAM} fields | head -1`);
    expect([fields.code, fields.err, fields.out.split('\n').length]).toStrictEqual([0, '', 2]);
    const told = await shell(`${PROGRAM} evaluate "${FLEET}" 2>&1 >/dev/null | head -0`);
    expect([told.code, told.out, told.err]).toStrictEqual([0, '', '']);
  });

  it('carry no colour and no progress where nobody watches', async () => {
    for (const [name, value] of [['NO_COLOR', '1'], ['TERM', 'dumb']] as const) {
      const { out, err } = await runProgram(['limits'], { environment: { [name]: value } });
      expect(out + err).not.toContain('\u001b');
    }
    const { out, err } = await runProgram(['evaluate', FLEET]);
    expect(out).toBe('');
    expect(err).not.toMatch(/[\u001b\r]/);
  });
});

describe('the same input', { timeout: 60_000 }, () => {
  it('gives the same bytes at another hour and in another time zone', async () => {
    await inFolder(async (folder) => {
      // Dates of a workbook have no zone; west of Greenwich a slip of a day would show, east of it too.
      writeFileSync(join(folder, 'dates.csv'), 'unit,inspected_on,repaired_on,light_on_at\nK-1,2026-03-08,2026-11-01,70\nK-2,2026-03-29,2026-12-31,never\n');
      const made = await Promise.all(
        ['America/New_York', 'Asia/Kolkata'].flatMap((zone, index) =>
          ['xlsx', 'csv', 'json'].map(async (ending) => {
            const output = `${index}.${ending}`;
            const { code } = await runProgram(['evaluate', 'dates.csv', '-o', output, '-q'], { folder, environment: { TZ: zone } });
            return [code, readFileSync(join(folder, output)).toString('base64')] as const;
          }),
        ),
      );
      expect(made.map(([code]) => code)).toStrictEqual([0, 0, 0, 0, 0, 0]);
      expect(made.slice(0, 3)).toStrictEqual(made.slice(3));
      const [workbook] = made[0]!.slice(1) as [string];
      writeFileSync(join(folder, 'again.xlsx'), Buffer.from(workbook, 'base64'));
      const read = await Promise.all(['America/New_York', 'Asia/Kolkata'].map((zone) => runProgram(['evaluate', 'again.xlsx', '--json', '-q'], { folder, environment: { TZ: zone } })));
      expect(read[0]!.out).toBe(read[1]!.out);
      expect((JSON.parse(read[0]!.out) as { inspections: { inspected_on: string }[] }).inspections.map(({ inspected_on }) => inspected_on)).toStrictEqual(['2026-03-08', '2026-03-29']);
    });
  });
});
