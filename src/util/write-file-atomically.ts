import { randomBytes } from 'node:crypto';
import { existsSync } from 'node:fs';
import { link, open, rename, rm, unlink } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { TreadlebookError } from './treadlebook-error.js';

/**
 * Writes a file beside its target and moves it there when it is whole, so that the target is either as it was or complete.
 *
 * @param replace whether a file that exists may be replaced
 * @throws TreadlebookError `output_exists`, `output_unwritable`; errors of the source of chunks are passed on
 */
export async function writeFileAtomically(path: string, chunks: AsyncIterable<Uint8Array | string> | Iterable<Uint8Array | string>, replace: boolean): Promise<void> {
  if (!replace && existsSync(path)) throw exists(path);
  const temporary = join(dirname(path), `.${basename(path)}.${randomBytes(6).toString('hex')}.part`);
  let handle;
  try {
    handle = await open(temporary, 'wx');
  } catch (cause) {
    throw unwritable(path, cause);
  }
  try {
    try {
      for await (const chunk of gathered(chunks)) {
        try {
          await handle.writeFile(chunk);
        } catch (cause) {
          throw unwritable(path, cause);
        }
      }
      await handle.sync();
    } finally {
      await handle.close();
    }
    await (replace ? rename(temporary, path) : moveToNew(temporary, path));
  } catch (error) {
    await rm(temporary, { force: true });
    if (error instanceof TreadlebookError || !isFileError(error)) throw error;
    throw unwritable(path, error);
  }
}

/** Texts shorter than this, in characters, are gathered: each write to a file takes its time, however short it is. */
const GATHERED = 65_536;

async function* gathered(chunks: AsyncIterable<Uint8Array | string> | Iterable<Uint8Array | string>): AsyncGenerator<Uint8Array | string> {
  let text = '';
  for await (const chunk of chunks) {
    if (typeof chunk === 'string') text += chunk;
    if (typeof chunk !== 'string' || text.length >= GATHERED) {
      if (text !== '') yield text;
      text = '';
    }
    if (typeof chunk !== 'string') yield chunk;
  }
  if (text !== '') yield text;
}

/** Gives the finished file its name only if no file has taken it meanwhile. */
async function moveToNew(temporary: string, path: string): Promise<void> {
  try {
    await link(temporary, path);
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code === 'EEXIST') throw exists(path);
    await rename(temporary, path);
    return;
  }
  await unlink(temporary);
}

function isFileError(error: unknown): boolean {
  return error instanceof Error && 'syscall' in error;
}

function exists(path: string): TreadlebookError {
  return new TreadlebookError({ code: 'output_exists', where: path, what: 'the file exists already and was kept', mend: 'name another file, or add --force to replace it' });
}

function unwritable(path: string, cause: unknown): TreadlebookError {
  const code = (cause as NodeJS.ErrnoException).code ?? 'unknown fault';
  const mends: Record<string, string> = { ENOENT: 'the folder does not exist; make it first', EACCES: 'you may not write there; choose another folder', EROFS: 'the disk is read-only; choose another folder', ENOSPC: 'the disk is full; free some space', EISDIR: 'this is a folder; name a file' };
  return new TreadlebookError({ code: 'output_unwritable', where: path, what: `the file cannot be written (${code})`, mend: mends[code] ?? 'choose another place', cause });
}
