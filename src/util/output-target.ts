import { lstatSync, realpathSync, statSync, type Stats } from 'node:fs';
import { dirname } from 'node:path';
import { outputUnwritable } from './output-unwritable.js';
import { TreadlebookError } from './treadlebook-error.js';

/** Where a file is to stand. */
export interface OutputTarget {
  /** The path itself, or for a link the file that it points at. */
  readonly path: string;
  /** The permissions of the file that is replaced; null where there is none. */
  readonly mode: number | null;
}

/**
 * Where a file is to stand, if it may: in a folder that exists, in the place of nothing, or of an ordinary file that may
 * be replaced. A link stays a link: the file that it points at is replaced.
 *
 * @param replace whether a file that exists may be replaced
 * @throws TreadlebookError `output_exists`, `output_unwritable`
 */
export function outputTarget(path: string, replace: boolean): OutputTarget {
  const found = statOrNull(path);
  if (found === null) {
    if (isLink(path)) throw refused(path, 'this is a link to a file that is not there', 'remove the link, or name another file');
    if (!statOrNull(dirname(path))?.isDirectory()) throw outputUnwritable(path, { code: 'ENOENT' });
    return { path, mode: null };
  }
  if (found.isDirectory()) throw outputUnwritable(path, { code: 'EISDIR' });
  if (!found.isFile()) throw refused(path, 'this is a pipe or a device, and results are written to files', 'name a file');
  if (!replace) throw outputExists(path);
  return { path: realpathSync(path), mode: found.mode & 0o777 };
}

/** The error of a file that exists and is kept. */
export function outputExists(path: string): TreadlebookError {
  return new TreadlebookError({ code: 'output_exists', where: path, what: 'the file exists already and was kept', mend: 'name another file, or add --force to replace it' });
}

function statOrNull(path: string): Stats | null {
  try {
    return statSync(path);
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw outputUnwritable(path, cause);
  }
}

function isLink(path: string): boolean {
  return lstatSync(path, { throwIfNoEntry: false })?.isSymbolicLink() === true;
}

function refused(path: string, what: string, mend: string): TreadlebookError {
  return new TreadlebookError({ code: 'output_unwritable', where: path, what, mend });
}
