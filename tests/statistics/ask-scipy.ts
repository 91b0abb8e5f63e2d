import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import type { TestContext } from 'vitest';

const SCRIPT = fileURLToPath(new URL('reference.py', import.meta.url));

/** A Python with SciPy on this machine, or null. */
export function pythonWithScipy(): string | null {
  return ['python3', '/usr/bin/python3'].find((python) => spawnSync(python, ['-c', 'import scipy.stats'], { stdio: 'ignore', timeout: 60_000 }).status === 0) ?? null;
}

/** Has SciPy answer lists of questions, by name, in one process. */
export function askScipy(python: string, questions: Readonly<Record<string, readonly (readonly unknown[])[]>>): Record<string, unknown[]> {
  const { status, stdout, stderr } = spawnSync(python, [SCRIPT], { input: JSON.stringify(questions), encoding: 'utf8', maxBuffer: 1e8, timeout: 110_000 });
  if (status !== 0) throw new Error(`the reference program failed: ${stderr}`);
  return JSON.parse(stdout) as Record<string, unknown[]>;
}

/** Skips the test where SciPy is missing, or fails it under REQUIRE_OUTSIDE=1. */
export function missingScipy(context: TestContext): never {
  if (process.env['REQUIRE_OUTSIDE'] === '1') throw new Error('Python with SciPy is missing, and REQUIRE_OUTSIDE=1 asks for it');
  return context.skip('Python with SciPy is missing on this machine');
}
