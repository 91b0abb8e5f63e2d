import { open, type FileHandle } from 'node:fs/promises';
import { TreadlebookError } from './treadlebook-error.js';

const CHUNK_BYTES = 1 << 18;

/**
 * The bytes of a file, chunk by chunk. The file is opened once: one that is removed or replaced meanwhile is read to its end.
 *
 * @param onRead called with each chunk: how many bytes have been read, and how many the file has (0 for a pipe)
 * @throws TreadlebookError `input_missing`; `input_unreadable`, also when the file was changed while it was read
 */
export async function* fileChunks(path: string, onRead?: (bytes: number, size: number) => void): AsyncGenerator<Uint8Array> {
  const handle = await open(path, 'r').catch((cause: unknown) => {
    throw inputUnreadable(path, cause, 'opened');
  });
  try {
    const before = await handle.stat({ bigint: true });
    if (before.isDirectory()) throw inputUnreadable(path, { code: 'EISDIR' }, 'opened');
    const size = before.isFile() ? Number(before.size) : 0;
    let bytes = 0;
    for await (const chunk of chunksOfHandle(handle, path)) {
      bytes += chunk.length;
      onRead?.(bytes, size);
      yield chunk;
    }
    const after = await handle.stat({ bigint: true });
    if (size > 0 && (bytes !== Number(after.size) || after.mtimeNs !== before.mtimeNs)) {
      throw new TreadlebookError({ code: 'input_unreadable', where: path, what: 'the file was changed while it was read', mend: 'wait until it is written, then try again' });
    }
  } finally {
    await handle.close();
  }
}

async function* chunksOfHandle(handle: FileHandle, path: string): AsyncGenerator<Uint8Array> {
  const stream = handle.createReadStream({ highWaterMark: CHUNK_BYTES, autoClose: false });
  try {
    for await (const chunk of stream) yield chunk as Uint8Array;
  } catch (cause) {
    throw inputUnreadable(path, cause, 'read');
  }
}

/** The error of an input that the system does not give. */
export function inputUnreadable(where: string, cause: unknown, step: 'opened' | 'read'): TreadlebookError {
  const code = (cause as NodeJS.ErrnoException).code ?? 'unknown fault';
  if (code === 'ENOENT') return new TreadlebookError({ code: 'input_missing', where, what: 'there is no such file', mend: 'check the path', cause });
  if (code === 'EISDIR') return new TreadlebookError({ code: 'input_unreadable', where, what: 'this is a folder', mend: 'name a file in it', cause });
  const mend = code === 'EMFILE' || code === 'ENFILE' ? 'too many files are open; close some programs' : step === 'opened' ? 'check that you may read it' : 'check the disk that it is on';
  return new TreadlebookError({ code: 'input_unreadable', where, what: `it cannot be ${step} (${code})`, mend, cause });
}
