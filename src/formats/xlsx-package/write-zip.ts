import { createDeflateRaw, type DeflateRaw } from 'node:zlib';
import { crc32 } from '../../util/crc32.js';
import { centralDirectory, dataDescriptor, localHeader, type ZippedEntry } from './zip-records.js';

/** One file of the zip: bytes at hand, or chunks made when their turn comes. */
export interface ZipEntry {
  readonly path: string;
  readonly content: Uint8Array | (() => AsyncIterable<Uint8Array>);
}

/** Bytes that may wait to be deflated: so much is made while another thread deflates what came before. */
const WAITING = 1 << 20;

/** What is counted of an entry's content on its way. */
interface Tally {
  crc: number;
  length: number;
}

/**
 * Streams a zip. Every entry carries the same date, so the bytes depend on the content alone; a slow reader slows
 * the making of the entries.
 *
 * @param level 0 (stored) to 9 (smallest)
 */
export async function* writeZip(entries: readonly ZipEntry[], level: number): AsyncGenerator<Uint8Array, void, undefined> {
  const zipped: ZippedEntry[] = [];
  let at = 0;
  for (const { path, content } of entries) {
    const name = Buffer.from(path);
    const header = localHeader(name);
    yield header;
    const tally: Tally = { crc: 0, length: 0 };
    let packed = 0;
    for await (const chunk of deflated(typeof content === 'function' ? content() : [content], level, tally)) {
      packed += chunk.length;
      yield chunk;
    }
    const entry: ZippedEntry = { name, ...tally, packed, at };
    const descriptor = dataDescriptor(entry);
    yield descriptor;
    zipped.push(entry);
    at += header.length + packed + descriptor.length;
  }
  yield centralDirectory(zipped, at);
}

async function* deflated(chunks: AsyncIterable<Uint8Array> | Iterable<Uint8Array>, level: number, tally: Tally): AsyncGenerator<Uint8Array> {
  const deflate = createDeflateRaw({ level, chunkSize: 1 << 16, writableHighWaterMark: WAITING } as Parameters<typeof createDeflateRaw>[0]);
  const feeding = feed(deflate, chunks, tally);
  try {
    yield* deflate as AsyncIterable<Uint8Array>;
  } finally {
    deflate.destroy();
    await feeding;
  }
}

/** Writes the chunks as fast as they are deflated. An error of their source comes out where the deflated bytes are read. */
async function feed(deflate: DeflateRaw, chunks: AsyncIterable<Uint8Array> | Iterable<Uint8Array>, tally: Tally): Promise<void> {
  try {
    for await (const chunk of chunks) {
      tally.crc = crc32(chunk, tally.crc);
      tally.length += chunk.length;
      if (!deflate.write(chunk)) await drained(deflate);
      if (deflate.destroyed) return;
    }
    deflate.end();
  } catch (error) {
    deflate.destroy(error instanceof Error ? error : new Error(String(error)));
  }
}

async function drained(deflate: DeflateRaw): Promise<void> {
  if (deflate.destroyed) return;
  await new Promise<void>((resolve) => {
    const done = (): void => {
      deflate.off('drain', done).off('close', done);
      resolve();
    };
    deflate.on('drain', done).on('close', done);
  });
}
