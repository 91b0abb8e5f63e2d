import { spawn, type ChildProcess } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { PACKAGE } from '../cli/run-program.js';

/** The built program. */
export const PROGRAM = join(PACKAGE, 'dist', 'cli', 'main.js');

/** How a run ended: its exit code, or the signal that ended it. */
export interface Ended {
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly out: string;
  readonly err: string;
}

/** A program that is running. */
export interface Started {
  readonly child: ChildProcess;
  readonly ended: Promise<Ended>;
}

/** How to start a program. */
export interface StartOptions {
  readonly folder: string;
  readonly environment?: Readonly<Record<string, string>>;
  /** Keeps standard input open, without data. */
  readonly waits?: boolean;
}

/** Starts the built program, without waiting for its end. */
export function startProgram(args: readonly string[], options: StartOptions): Started {
  return start(process.execPath, [PROGRAM, ...args], options);
}

/** Runs a line of bash in which `$RUN` is the built program; the exit code is that of the first program in a pipe. */
export function runShell(line: string, folder: string): Promise<Ended> {
  const run = `"${process.execPath}" "${PROGRAM}"`;
  return start('bash', ['-c', `${line.replaceAll('$RUN', run)}; exit "\${PIPESTATUS[0]}"`], { folder }).ended;
}

function start(file: string, args: readonly string[], { folder, environment, waits }: StartOptions): Started {
  const child = spawn(file, args, { cwd: folder, env: { ...process.env, ...environment }, stdio: [waits ? 'pipe' : 'ignore', 'pipe', 'pipe'] });
  let [out, err] = ['', ''];
  child.stdout?.on('data', (chunk: Buffer) => (out += chunk.toString()));
  child.stderr?.on('data', (chunk: Buffer) => (err += chunk.toString()));
  const ended = new Promise<Ended>((resolve, reject) => {
    child.on('error', reject);
    child.on('close', (code, signal) => resolve({ code, signal, out, err }));
  });
  return { child, ended };
}

/** The parts of files in a folder that got no name. */
export function partsIn(folder: string): string[] {
  return readdirSync(folder).filter((name) => name.endsWith('.part'));
}

/** Waits until a run has begun to write a file into a folder; false if it ended without being seen at it. */
export async function untilWriting({ child }: Started, folder: string): Promise<boolean> {
  while (child.exitCode === null && child.signalCode === null) {
    if (partsIn(folder).length > 0) return true;
    await pause(1);
  }
  return false;
}

/** Does work in a folder with `fleet.csv`, the first inspections of the invented fleet, and `other.csv`, one of which was keyed otherwise. */
export async function withFleet<T>(work: (folder: string) => Promise<T>): Promise<T> {
  const folder = mkdtempSync(join(tmpdir(), 'treadlebook-faults-'));
  try {
    const lines = readFileSync(join(PACKAGE, 'samples', 'invented-fleet.csv'), 'utf8').split(/\r?\n/).slice(0, 12);
    writeFileSync(join(folder, 'fleet.csv'), `${lines.join('\n')}\n`);
    writeFileSync(join(folder, 'other.csv'), `${lines.slice(0, -1).join('\n')}\n`);
    return await work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Every command that writes a file, with every format, as arguments without the output. */
export const WRITING: readonly { readonly args: readonly string[]; readonly endings: readonly string[] }[] = [
  { args: ['evaluate', 'fleet.csv'], endings: ['xlsx', 'csv', 'tsv', 'json'] },
  { args: ['blank'], endings: ['xlsx', 'csv'] },
  { args: ['compare', 'fleet.csv', 'other.csv'], endings: ['xlsx', 'csv', 'json'] },
  { args: ['report', 'fleet.csv', '--unit', 'K-101', '--date', '2024-11-08'], endings: ['xlsx'] },
];
