import { spawn } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readingLine } from '../../src/cli/progress.js';
import { inFolder, PACKAGE, runProgram } from './run-program.js';

const WIPE = '\u001b[K';
const PROGRAM = join(PACKAGE, 'dist', 'cli', 'main.js');

/** Runs the program in a pseudo terminal, by `script` of util-linux, and gives what a terminal would be sent. */
async function inTerminal(args: readonly string[], folder: string, environment: Readonly<Record<string, string>> = {}): Promise<string> {
  const line = [process.execPath, PROGRAM, ...args].map((word) => `'${word}'`).join(' ');
  const child = spawn('script', ['-qec', line, '/dev/null'], { cwd: folder, stdio: ['ignore', 'pipe', 'pipe'], env: { ...process.env, TERM: 'xterm', CI: '', NO_COLOR: '', ...environment } });
  let out = '';
  child.stdout.on('data', (chunk: Buffer) => (out += chunk.toString()));
  await new Promise((resolve, reject) => {
    child.on('error', reject);
    child.on('close', resolve);
  });
  return out;
}

/** What is left to see of a line that was overwritten: what stands behind its last wipe. */
function seenAtTheEnd(sent: string): string[] {
  return sent.split(/\r?\n/).map((line) => line.slice(line.includes(WIPE) ? line.lastIndexOf(WIPE) + WIPE.length : 0));
}

/** A fleet whose file is longer than one piece of reading. */
function writeLongFleet(folder: string): void {
  const rows = Array.from({ length: 6000 }, (_, index) => `K-${index % 90},2026-03-${String(1 + (index % 28)).padStart(2, '0')},60,60,"A note of some length, so that the file is read in several pieces"\n`);
  writeFileSync(join(folder, 'long.csv'), `unit,inspected_on,light_on_at,buzzer_on_at,notes\n${rows.join('')}`);
}

describe('the line of progress', { timeout: 120_000 }, () => {
  it.each([
    [12_000, 0.4, 5.2, '12,000 inspections, about 40 % read, 8 s of reading to go'],
    [1000, 0.99, 1, '1,000 inspections, about 99 % read, 1 s of reading to go'],
    [1_234_000, 0.1, 60, '1,234,000 inspections, about 10 % read, 9 min of reading to go'],
    [3000, 0, 5, '3,000 inspections'],
    [3000, 1, 5, '3,000 inspections'],
  ])('after %d inspections and the share %d of the file in %d s', (inspections, share, elapsed, line) => {
    // The time to go is the time so far, by what is left over what is read: 5.2 s * 0.6 / 0.4 = 7.8 s.
    expect(readingLine(inspections, share, elapsed)).toBe(line);
  });

  it.runIf(existsSync('/usr/bin/script') || process.env['REQUIRE_OUTSIDE'] === '1')('shows on a terminal how far reading and writing are, and wipes itself', async () => {
    await inFolder(async (folder) => {
      writeLongFleet(folder);
      const sent = await inTerminal(['evaluate', 'long.csv', '-o', 'out.xlsx'], folder);
      expect(sent).toMatch(/\r\u001b\[K[\d,]+ inspections, about \d+ % read, \d+ (?:s|min) of reading to go/);
      expect(sent).toMatch(/\r\u001b\[KWriting out\.xlsx: \d+\.\d MB/);
      const lines = seenAtTheEnd(sent);
      expect(lines[0]).toMatch(/^long\.csv: 6000 inspections against/);
      expect(lines.join('\n')).not.toMatch(/to go|Writing/);
      const rowByRow = await inTerminal(['evaluate', 'long.csv', '-o', 'out.csv'], folder);
      expect(rowByRow).toMatch(/\r\u001b\[K[\d,]+ inspections, about \d+ % read/);
      expect(seenAtTheEnd(rowByRow)[0]).toMatch(/^long\.csv: 6000 inspections against/);
      expect(readFileSync(join(folder, 'out.csv'), 'utf8').split('\r\n')).toHaveLength(6002);
      const failed = await inTerminal(['evaluate', 'long.csv', '-o', 'out.xlsx'], folder);
      expect(seenAtTheEnd(failed)[0]).toBe('treadlebook: out.xlsx: the file exists already and was kept; name another file, or add --force to replace it');
      for (const environment of [{ TERM: 'dumb' }, { CI: 'true' }] as Record<string, string>[]) {
        expect(await inTerminal(['evaluate', 'long.csv'], folder, environment)).not.toMatch(/to go|\u001b\[K/);
      }
    });
  });

  it('does not show in a pipe', async () => {
    await inFolder(async (folder) => {
      writeLongFleet(folder);
      const { out, err } = await runProgram(['evaluate', 'long.csv', '-o', 'out.xlsx'], { folder, environment: { TERM: 'xterm', CI: '' } });
      expect(out).toBe('');
      expect(err).not.toMatch(/to go|[\u001b\r]/);
    });
  });
});
