import { crc32 } from '../../util/crc32.js';
import { deflateInBlocks } from './deflate-in-blocks.js';
import { centralDirectory, dataDescriptor, localHeader, type ZippedEntry } from './zip-records.js';

/** One file of the zip: bytes at hand, or chunks made when their turn comes. */
export interface ZipEntry {
  readonly path: string;
  readonly content: Uint8Array | (() => AsyncIterable<Uint8Array>);
}

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
    for await (const chunk of deflateInBlocks(counted(typeof content === 'function' ? content() : [content], tally), level)) {
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

/** The content as it is, counted on its way. */
async function* counted(chunks: AsyncIterable<Uint8Array> | Iterable<Uint8Array>, tally: Tally): AsyncGenerator<Uint8Array> {
  for await (const chunk of chunks) {
    tally.crc = crc32(chunk, tally.crc);
    tally.length += chunk.length;
    yield chunk;
  }
}
