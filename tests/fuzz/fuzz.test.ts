import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const SCRIPT = fileURLToPath(new URL('fuzz.mjs', import.meta.url));
const CORPUS = fileURLToPath(new URL('corpus/', import.meta.url));
const DIST = fileURLToPath(new URL('../../dist/index.js', import.meta.url));

async function fuzz(...args: readonly string[]): Promise<{ readonly code: number | null; readonly out: string; readonly err: string }> {
  if (!existsSync(DIST)) throw new Error('the program is not built; run npm run build first');
  const child = spawn(process.execPath, [SCRIPT, ...args], { stdio: ['ignore', 'pipe', 'pipe'] });
  let [out, err] = ['', ''];
  child.stdout.on('data', (chunk: Buffer) => (out += chunk.toString()));
  child.stderr.on('data', (chunk: Buffer) => (err += chunk.toString()));
  const code = await new Promise<number | null>((resolve, reject) => {
    child.on('error', reject);
    child.on('close', resolve);
  });
  return { code, out, err };
}

/** Of each target: how many inputs of the corpus were tried, and how many changed ones. */
function counts(out: string): Record<string, readonly [stored: number, changed: number]> {
  return Object.fromEntries([...out.matchAll(/^(\w+): (\d+) of the corpus, \d+ other seeds, (\d+) changed inputs/gm)].map(([, name, stored, changed]) => [name!, [Number(stored), Number(changed)]]));
}

describe('the fuzzer', () => {
  it('finds nothing in the corpus, past findings among it, nor in 40 changed inputs of each reader', { timeout: 600_000 }, async () => {
    const { code, out, err } = await fuzz('--runs', '40', '--seed', '20261108');
    expect(err).toBe('');
    expect(code).toBe(0);
    const stored = Object.fromEntries(readdirSync(CORPUS).map((name) => [name, readdirSync(join(CORPUS, name)).length]));
    const tried = counts(out);
    for (const [name, count] of Object.entries(stored)) expect(tried[name], name).toStrictEqual([count, 40]);
    expect(Object.keys(tried)).toHaveLength(10);
    expect(out).toMatch(/\n\d{4,} blocks of the program reached; 0 findings\n$/);
  });

  it('finds a fault that was put there, and keeps the input', { timeout: 300_000 }, async () => {
    const keep = mkdtempSync(join(tmpdir(), 'treadlebook-findings-'));
    try {
      const { code, out, err } = await fuzz('--only', 'planted', '--runs', '2000', '--keep', keep);
      expect(code).toBe(1);
      expect(err).toMatch(/^finding: planted: Cannot read properties of null/);
      expect(out).toMatch(/; 1 finding\n$/);
      const [file] = readdirSync(keep);
      expect(readFileSync(join(keep, file!), 'utf8')).toMatch(/fall\d/);
    } finally {
      rmSync(keep, { recursive: true });
    }
  });

  it('names its targets where one is asked for that is none', async () => {
    const { code, out } = await fuzz('--only', 'toString');
    expect([code, out.includes('one of csv, checklist, json')]).toStrictEqual([2, true]);
  });
});
