import { execFile } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { packagePath } from '../../../src/util/package-path.js';

/** What evaluating or verifying came to. */
export interface Outcome {
  readonly refused?: { readonly typed: boolean; readonly name: string; readonly code: string | null; readonly what: string | null; readonly mend: string | null; readonly message: string };
  readonly hangs?: true;
  readonly inspections?: number;
  readonly told?: string;
  readonly findings?: number;
}

export interface JobResult {
  readonly name: string;
  readonly evaluated: Outcome;
  readonly verified: Outcome;
  /** Of all threads, on the processor. */
  readonly seconds: number;
}

/**
 * Evaluates and verifies files with the built library in a process of its own.
 *
 * @returns what came of each, and the most memory that the process held, in megabytes
 */
export async function runJobs(limits: string, jobs: readonly { readonly name: string; readonly file: string; readonly bytes: Uint8Array }[]): Promise<{ readonly results: readonly JobResult[]; readonly megabytes: number }> {
  const folder = mkdtempSync(join(tmpdir(), 'treadlebook-'));
  try {
    const listed = jobs.map(({ name, file, bytes }, index) => {
      const path = join(folder, `${index}`);
      writeFileSync(path, bytes);
      return { name, file, path };
    });
    const list = join(folder, 'jobs.json');
    writeFileSync(list, JSON.stringify({ limits, jobs: listed }));
    const script = fileURLToPath(new URL('./run-jobs.mjs', import.meta.url));
    // With room for short-lived objects a third less goes into clearing up; the bound on memory holds all the same.
    const { stdout } = await promisify(execFile)(process.execPath, ['--max-semi-space-size=32', script, packagePath('dist', 'index.js'), list], { maxBuffer: 1e8 });
    const lines = stdout.trimEnd().split('\n').map((line) => JSON.parse(line) as JobResult & { readonly megabytes?: number });
    return { results: lines.slice(0, -1), megabytes: lines.at(-1)!.megabytes! };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
