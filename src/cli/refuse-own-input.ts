import { statSync } from 'node:fs';
import { TreadlebookError } from '../util/treadlebook-error.js';

/**
 * Refuses an output that is one of the files that were read, under whatever name.
 *
 * @throws TreadlebookError `output_exists`
 */
export function refuseOwnInput(output: string, inputs: readonly (string | undefined)[]): void {
  if (!inputs.some((input) => input !== undefined && isSameFile(input, output))) return;
  throw new TreadlebookError({ code: 'output_exists', where: output, what: 'this file is read, and what is read is never overwritten', mend: 'name another file' });
}

/** The files that `--limits` may name: the whole of it, and its parts where it names several sets. */
export function limitFiles(limits: string | undefined): readonly (string | undefined)[] {
  return limits === undefined ? [] : [limits, ...limits.split(',')];
}

/** Whether two paths lead to one file that exists. */
export function isSameFile(a: string, b: string): boolean {
  const [one, other] = [identity(a), identity(b)];
  return one !== null && one === other;
}

function identity(path: string): string | null {
  try {
    const { dev, ino } = statSync(path, { bigint: true });
    return `${dev}:${ino}`;
  } catch {
    return null;
  }
}
