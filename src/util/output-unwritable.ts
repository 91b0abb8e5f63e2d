import { TreadlebookError } from './treadlebook-error.js';

/** What to do about a fault of the system, by its name. */
const MENDS: Readonly<Record<string, string>> = {
  ENOENT: 'the folder does not exist; make it first',
  ENOTDIR: 'a part of the path is a file, not a folder; check the path',
  EISDIR: 'this is a folder; name a file',
  EACCES: 'you may not write there; choose another folder',
  EPERM: 'you may not write there, or another program has the file open; close it or choose another folder',
  EBUSY: 'another program has the file open; close it or name another file',
  EROFS: 'the disk is read-only; choose another folder',
  ENOSPC: 'the disk is full; free some space',
  EDQUOT: 'your share of the disk is used up; free some space',
  EFBIG: 'a file of that size is not allowed here; raise the limit or choose another disk',
  EIO: 'the disk reports a fault; choose another disk',
  ENAMETOOLONG: 'the name is too long; choose a shorter one',
  ELOOP: 'its links lead round in a circle; name another file',
  EMFILE: 'too many files are open; close some programs',
  ENFILE: 'too many files are open; close some programs',
};

/** The error of an output that the system does not take, with the mend that fits. */
export function outputUnwritable(where: string, cause: unknown): TreadlebookError {
  const code = (cause as NodeJS.ErrnoException).code ?? 'unknown fault';
  return new TreadlebookError({ code: 'output_unwritable', where, what: `${where === 'standard output' ? 'it' : 'the file'} cannot be written (${code})`, mend: MENDS[code] ?? 'choose another place', cause });
}
