import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { TestContext } from 'vitest';

/** Runs a Python script that may use openpyxl and gives what it prints. Without Python and openpyxl the test is skipped, or fails under REQUIRE_OUTSIDE=1. */
export function runOpenpyxl(context: TestContext, script: string, ...parameters: string[]): string {
  return runPython(context, ['openpyxl'], script, ...parameters);
}

/** Runs a Python script that may use some modules, as {@link runOpenpyxl} does. */
export function runPython(context: TestContext, modules: readonly string[], script: string, ...parameters: string[]): string {
  for (const python of ['python3', '/usr/bin/python3']) {
    if (works(python, ['-c', `import ${modules.join(', ')}`])) return execFileSync(python, ['-c', script, ...parameters], { encoding: 'utf8', maxBuffer: 1e8 });
  }
  return missing(context, `Python with ${modules.join(' and ')}`);
}

/** Skips the test where Gnumeric's converter is missing, or fails it under REQUIRE_OUTSIDE=1. */
export function needGnumeric(context: TestContext): void {
  if (!works('ssconvert', ['--version'])) missing(context, 'Gnumeric (ssconvert)');
}

/** Converts a file with LibreOffice, under a profile of its own, into the folder `into`. */
export function convertWithLibreOffice(context: TestContext, file: string, format: string, into: string): void {
  needLibreOffice(context);
  withFolder((profile) => {
    const settings = `-env:UserInstallation=${pathToFileURL(profile).href}`;
    execFileSync('soffice', [settings, '--headless', '--convert-to', format, '--outdir', into, file], { stdio: 'pipe', timeout: 110_000 });
  });
}

/** Skips the test where LibreOffice is missing, or fails it under REQUIRE_OUTSIDE=1. */
export function needLibreOffice(context: TestContext): void {
  if (!works('soffice', ['--version'])) missing(context, 'LibreOffice');
}

/** Does work in a folder of its own, which is gone afterwards. */
export function withFolder<T>(work: (folder: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), 'treadlebook-'));
  try {
    return work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function works(program: string, parameters: readonly string[]): boolean {
  try {
    execFileSync(program, parameters, { stdio: 'ignore', timeout: 60_000 });
    return true;
  } catch {
    return false;
  }
}

function missing(context: TestContext, program: string): never {
  if (process.env['REQUIRE_OUTSIDE'] === '1') throw new Error(`${program} is missing, and REQUIRE_OUTSIDE=1 asks for it`);
  return context.skip(`${program} is missing on this machine`);
}
