import { close, existsSync, fchmod, fsync, linkSync, renameSync, writeFile } from 'node:fs';
import { open } from 'node:fs/promises';
import { dirname } from 'node:path';
import { promisify } from 'node:util';
import { outputExists, outputTarget, type OutputTarget } from './output-target.js';
import { outputUnwritable } from './output-unwritable.js';
import { discardPart, finishPart, openPart, removeAbandonedParts } from './part-files.js';
import { TreadlebookError } from './treadlebook-error.js';

/** Texts are gathered to blocks of so many characters. */
const BLOCK_LENGTH = 1 << 16;

/**
 * Writes a file beside its target and moves it there when it is whole, so that the target is either as it was or complete,
 * whenever the run ends. A link stays a link: the file that it points at is replaced. A replaced file keeps its permissions.
 *
 * @param replace whether a file that exists may be replaced
 * @throws TreadlebookError `output_exists`, `output_unwritable`; errors of the source of chunks are passed on
 */
export async function writeFileAtomically(path: string, chunks: AsyncIterable<Uint8Array | string> | Iterable<Uint8Array | string>, replace: boolean): Promise<void> {
  const target = outputTarget(path, replace);
  const part = fileStep(path, () => openPart(target.path));
  try {
    await fill(part.descriptor, chunks, path, target.mode);
    fileStep(path, () => giveName(part.path, target, path, replace));
  } catch (error) {
    discardPart(part.path);
    throw error;
  }
  finishPart(part.path, path);
  await syncFolder(dirname(target.path));
  removeAbandonedParts(target.path);
}

async function fill(descriptor: number, chunks: AsyncIterable<Uint8Array | string> | Iterable<Uint8Array | string>, path: string, mode: number | null): Promise<void> {
  const asked = async (step: Promise<void>): Promise<void> => step.catch((cause: unknown) => Promise.reject(outputUnwritable(path, cause)));
  let closed = false;
  try {
    for await (const block of inBlocks(chunks)) await asked(promisify(writeFile)(descriptor, block));
    if (mode !== null) await asked(promisify(fchmod)(descriptor, mode));
    await asked(promisify(fsync)(descriptor));
    closed = true;
    await asked(promisify(close)(descriptor));
  } finally {
    if (!closed) await promisify(close)(descriptor).catch(() => undefined);
  }
}

/** The same chunks with short texts put together, since each block is a call of the system. */
async function* inBlocks(chunks: AsyncIterable<Uint8Array | string> | Iterable<Uint8Array | string>): AsyncGenerator<Uint8Array | string> {
  let text = '';
  for await (const chunk of chunks) {
    if (typeof chunk === 'string') text += chunk;
    if (text !== '' && (typeof chunk !== 'string' || text.length >= BLOCK_LENGTH)) {
      yield text;
      text = '';
    }
    if (typeof chunk !== 'string') yield chunk;
  }
  if (text !== '') yield text;
}

/** Gives the finished file its name; a new one only if no file has taken it meanwhile. In one go, so that no signal comes between. */
function giveName(part: string, target: OutputTarget, path: string, replace: boolean): void {
  if (!replace) {
    try {
      linkSync(part, target.path);
      discardPart(part);
      return;
    } catch (cause) {
      if ((cause as NodeJS.ErrnoException).code === 'EEXIST' || existsSync(target.path)) throw outputExists(path);
      // This disk has no links.
    }
  }
  renameSync(part, target.path);
}

/** Makes the new name last through a loss of power, where the system lets a folder be asked for that. */
async function syncFolder(folder: string): Promise<void> {
  try {
    const handle = await open(folder, 'r');
    await handle.sync().finally(() => handle.close());
  } catch {
    // The file is written; some systems open no folder.
  }
}

function fileStep<T>(path: string, step: () => T): T {
  try {
    return step();
  } catch (cause) {
    throw cause instanceof TreadlebookError ? cause : outputUnwritable(path, cause);
  }
}
