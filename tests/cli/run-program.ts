import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The folder of the package. */
export const PACKAGE = fileURLToPath(new URL('../../', import.meta.url));
const PROGRAM = join(PACKAGE, 'dist', 'cli', 'main.js');

/** What came of a run of the program. */
export interface Run {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
  readonly outBytes: Buffer;
}

/** How to run the program. */
export interface RunOptions {
  readonly input?: string | Uint8Array;
  readonly folder?: string;
  readonly environment?: Readonly<Record<string, string>>;
}

/** Runs the built program as a child process, as a user does. */
export async function runProgram(args: readonly string[], options: RunOptions = {}): Promise<Run> {
  if (!existsSync(PROGRAM)) throw new Error('the program is not built; run npm run build first');
  const environment = { ...process.env, ...options.environment };
  const child = spawn(process.execPath, [PROGRAM, ...args], { cwd: options.folder ?? PACKAGE, env: environment, stdio: 'pipe' });
  const out: Buffer[] = [];
  const err: Buffer[] = [];
  child.stdout.on('data', (chunk: Buffer) => out.push(chunk));
  child.stderr.on('data', (chunk: Buffer) => err.push(chunk));
  child.stdin.on('error', () => undefined);
  child.stdin.end(options.input ?? '');
  const code = await new Promise<number | null>((resolve, reject) => {
    child.on('error', reject);
    child.on('close', resolve);
  });
  const outBytes = Buffer.concat(out);
  return { code, out: outBytes.toString('utf8'), err: Buffer.concat(err).toString('utf8'), outBytes };
}

/** Does work in a folder of its own, which is gone afterwards. */
export async function inFolder<T>(work: (folder: string) => Promise<T>): Promise<T> {
  const folder = mkdtempSync(join(tmpdir(), 'treadlebook-cli-'));
  try {
    return await work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
