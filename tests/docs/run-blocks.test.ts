import { execFile } from 'node:child_process';
import { chmodSync, cpSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { packagePath } from '../../src/util/package-path.js';
import { fencedBlocks, type FencedBlock } from './fenced-blocks.js';

/** Commands that build, install or test the repository itself. */
const EXEMPT: ReadonlySet<string> = new Set(['npm ci && npm run demo', 'npm ci && npm test', 'npm ci && npm run build && npm link', 'npm run schemas', 'REQUIRE_OUTSIDE=1 npm test', 'node samples/make-fleet.mjs']);

const blocks = ['README.md', 'DEVELOPERS.md'].flatMap(fencedBlocks);
const inLanguage = (language: string): [string, FencedBlock][] => blocks.filter((block) => block.language === language).map((block) => [`${block.file}, line ${block.line}`, block]);

/** A folder of a user: the samples, the package under its name, and the command. */
const folder = mkdtempSync(join(tmpdir(), 'documents-'));
cpSync(packagePath('samples'), join(folder, 'samples'), { recursive: true });
mkdirSync(join(folder, 'node_modules'));
symlinkSync(packagePath(), join(folder, 'node_modules', 'treadlebook'), 'dir');
symlinkSync(packagePath('node_modules', '@duckdb'), join(folder, 'node_modules', '@duckdb'), 'dir');
mkdirSync(join(folder, 'bin'));
writeFileSync(join(folder, 'bin', 'treadlebook'), `#!/bin/sh\nexec "${process.execPath}" "${packagePath('dist', 'cli', 'main.js')}" "$@"\n`);
chmodSync(join(folder, 'bin', 'treadlebook'), 0o755);
afterAll(() => rmSync(folder, { recursive: true }));

function run(program: string, args: readonly string[]): Promise<{ code: number; out: string; err: string }> {
  const env = { ...process.env, PATH: `${join(folder, 'bin')}${delimiter}${process.env['PATH'] ?? ''}` };
  return new Promise((resolve) => {
    execFile(program, args, { cwd: folder, env, maxBuffer: 1 << 26 }, (error, out, err) => resolve({ code: error === null ? 0 : Number(error.code), out, err }));
  });
}

/** What a block says that it prints: the comment behind each console.log, and the comment lines right below it. */
function promised(text: string): string[] {
  const said: string[] = [];
  let afterLog = false;
  for (const line of text.split('\n')) {
    const comment = /(?:^|[;}] )\/\/ (.*)$/.exec(line.trim());
    const logs = line.includes('console.log(');
    if (comment && (logs || (afterLog && line.trim().startsWith('//')))) said.push(comment[1]!);
    else if (line.trim() !== '' && !logs) afterLog = false;
    if (logs) afterLog = true;
  }
  return said;
}

describe('documents', () => {
  test('have blocks of known languages only', () => {
    expect([...new Set(blocks.map(({ language }) => language))].sort().filter((language) => !['js', 'json', 'sh', 'text', 'ts'].includes(language))).toStrictEqual([]);
  });

  test.each(inLanguage('sh'))('%s: the commands run', { timeout: 120_000 }, async (_, { text }) => {
    const ran: string[] = [];
    for (const line of text.split('\n')) {
      const [command, comment = ''] = line.split(/\s+# /) as [string, string?];
      if (EXEMPT.has(command) || command.trim() === '') continue;
      expect(command).toMatch(/^treadlebook /);
      const { code, err } = await run('sh', ['-c', command]);
      ran.push(`${command}: ${code}${code === 0 ? '' : ` ${err}`}`);
      expect(code, err).toBe(Number(/^exit (\d+)$/.exec(comment)?.[1] ?? 0));
    }
    expect(ran.length + text.split('\n').filter((line) => EXEMPT.has(line)).length).toBeGreaterThan(0);
  });

  test.each(inLanguage('js'))('%s: the example runs and prints what it says', { timeout: 60_000 }, async (_, { file, line, text }) => {
    const script = join(folder, `${file}-${line}.mjs`);
    writeFileSync(script, text);
    const { code, out, err } = await run(process.execPath, [script]);
    expect(err).toBe('');
    expect(code).toBe(0);
    expect(promised(text).length).toBeGreaterThan(0);
    expect(out.trimEnd().split('\n')).toStrictEqual(promised(text));
  });
});
