import { Readable } from 'node:stream';
import { ZipFile } from 'yazl';

/** One file of the zip: bytes at hand, or chunks made when their turn comes. */
export interface ZipEntry {
  readonly path: string;
  readonly content: Uint8Array | (() => AsyncIterable<Uint8Array>);
}

/**
 * Streams a zip. Every entry carries the same date, so the bytes depend on the content alone; a slow reader slows
 * the making of the entries.
 *
 * @param level 0 (stored) to 9 (smallest)
 */
export async function* writeZip(entries: readonly ZipEntry[], level: number): AsyncGenerator<Uint8Array, void, undefined> {
  const zip = new ZipFile();
  const output = zip.outputStream as Readable;
  const sources: Readable[] = [];
  zip.on('error', (error: Error) => output.destroy(error));
  // Zip times are local times without a zone: the same fields in every zone give the same bytes. A zip's first date is
  // 1980-01-01; yazl moves what comes before it, by the zone of its start, so keep a month's distance.
  const options = { mtime: new Date(1980, 1, 1), forceDosTimestamp: true, mode: 0o100644, compressionLevel: level };
  for (const { path, content } of entries) {
    if (typeof content !== 'function') {
      zip.addBuffer(Buffer.from(content.buffer, content.byteOffset, content.byteLength), path, options);
      continue;
    }
    zip.addReadStreamLazy(path, options, (done) => {
      const source = Readable.from(content());
      sources.push(source);
      source.on('error', (error) => output.destroy(error));
      done(null, source);
    });
  }
  zip.end();
  try {
    for await (const chunk of output) yield chunk as Uint8Array;
  } finally {
    for (const source of sources) source.destroy();
  }
}
