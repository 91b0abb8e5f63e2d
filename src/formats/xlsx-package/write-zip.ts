import { crc32 } from '../../util/crc32.js';
import { BlockDeflater, type Chunk } from './block-deflater.js';
import { centralDirectory, dataDescriptor, localHeader, type ZippedEntry } from './zip-records.js';

/** One file of the zip: bytes at hand, or chunks made when their turn comes. */
export interface ZipEntry {
  readonly path: string;
  readonly content: Uint8Array | (() => AsyncIterable<Chunk>);
}

/**
 * Streams a zip. Every entry carries the same date, so the bytes depend on the content alone; a slow reader slows
 * the making of the entries.
 *
 * @param level 0 (stored) to 9 (smallest)
 */
export async function* writeZip(entries: readonly ZipEntry[], level: number): AsyncGenerator<Uint8Array, void, undefined> {
  const deflater = new BlockDeflater(level);
  try {
    const zipped: ZippedEntry[] = [];
    let at = 0;
    for (const { path, content } of entries) {
      const name = Buffer.from(path);
      const header = localHeader(name);
      yield header;
      let [crc, length, packed] = [0, 0, 0];
      const chunks = deflater.deflate(typeof content === 'function' ? content() : [content], (bytes) => {
        crc = crc32(bytes, crc);
        length += bytes.length;
      });
      for await (const chunk of chunks) {
        packed += chunk.length;
        yield chunk;
      }
      const entry: ZippedEntry = { name, crc, length, packed, at };
      const descriptor = dataDescriptor(entry);
      yield descriptor;
      zipped.push(entry);
      at += header.length + packed + descriptor.length;
    }
    yield centralDirectory(zipped, at);
  } finally {
    deflater.close();
  }
}
