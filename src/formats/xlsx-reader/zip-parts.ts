import * as zlib from 'node:zlib';
import yauzl from 'yauzl';
import type { Entry, ZipFile } from 'yauzl';
import { crc32 } from '../../util/crc32.js';
import { unreadable } from './unreadable.js';
import type { XlsxCaps } from './xlsx-caps.js';

const ENCRYPTED = 0x1;
/**
 * The parts of a package: a zip in memory, of which parts are inflated piece by piece, with the bytes counted as they come.
 * Names are matched without regard to case, as the package rules (ECMA-376 Part 2, 6.2.2.3) have it.
 */
export class ZipParts {
  readonly #zip: ZipFile;
  readonly #bytes: Buffer;
  readonly #entries: ReadonlyMap<string, Entry>;
  readonly #caps: XlsxCaps;
  readonly #inflated = new Map<string, number>();

  private constructor(zip: ZipFile, bytes: Buffer, entries: ReadonlyMap<string, Entry>, caps: XlsxCaps, readonly fileName: string) {
    this.#zip = zip;
    this.#bytes = bytes;
    this.#entries = entries;
    this.#caps = caps;
  }

  /** @throws TreadlebookError `input_unreadable` for a damaged zip, too many entries, unsafe or repeated names */
  static async open(bytes: Uint8Array, caps: XlsxCaps, fileName: string): Promise<ZipParts> {
    const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    const entries = new Map<string, Entry>();
    const zip = await damaged(fileName, () => yauzl.fromBufferPromise(buffer, { lazyEntries: true, validateEntrySizes: true }));
    const refuseCount = () => unreadable(fileName, `the zip holds more than ${caps.entries} entries`);
    if (zip.entryCount > caps.entries) throw refuseCount();
    const walk = zip.eachEntry();
    for (;;) {
      const next = await damaged(fileName, () => walk.next());
      if (next.done) break;
      const key = next.value.fileName.toLowerCase();
      if (entries.has(key)) throw unreadable(fileName, `the zip holds the entry ${next.value.fileName} twice`);
      entries.set(key, next.value);
      if (entries.size > caps.entries) throw refuseCount();
    }
    return new ZipParts(zip, buffer, entries, caps, fileName);
  }

  names(): string[] {
    return [...this.#entries.values()].map((entry) => entry.fileName);
  }

  has(part: string): boolean {
    return this.#entries.has(part.toLowerCase());
  }

  /**
   * The inflated bytes of a part.
   *
   * @param maxBytes a tighter cap than that on every part
   * @throws TreadlebookError `input_unreadable` when the part is missing, encrypted, damaged or too large
   */
  async *read(part: string, maxBytes = this.#caps.partBytes): AsyncGenerator<Uint8Array> {
    const where = `${this.fileName}, part ${part}`;
    const entry = this.#entries.get(part.toLowerCase());
    if (!entry) throw unreadable(where, 'the part is missing');
    if ((entry.generalPurposeBitFlag & ENCRYPTED) !== 0) throw unreadable(where, 'the part is encrypted', 'save the workbook without a password');
    const { fileDataStart } = await damaged(where, () => this.#zip.readLocalFileHeaderPromise(entry, { minimal: true }));
    const packed = this.#bytes.subarray(fileDataStart, fileDataStart + entry.compressedSize);
    let length = 0;
    let sum = 0;
    try {
      for await (const chunk of unpack(packed, entry.compressionMethod, where)) {
        length += chunk.length;
        if (length > maxBytes) throw unreadable(where, `the part holds more than ${maxBytes} bytes`);
        this.#count(part, length);
        sum = crc32(chunk, sum);
        yield chunk;
      }
    } catch (cause) {
      if (cause instanceof Error && 'code' in cause && String(cause.code).startsWith('Z_')) throw unreadable(where, 'the compressed data is damaged', undefined, cause);
      throw cause;
    }
    if (length !== entry.uncompressedSize) throw unreadable(where, 'the part is not as long as the zip says');
    if (sum !== entry.crc32) throw unreadable(where, 'the part does not match its checksum');
  }

  #count(part: string, length: number): void {
    if (length <= (this.#inflated.get(part) ?? 0)) return;
    this.#inflated.set(part, length);
    let total = 0;
    for (const bytes of this.#inflated.values()) total += bytes;
    if (total > this.#caps.totalBytes) throw unreadable(this.fileName, `its parts hold more than ${this.#caps.totalBytes} bytes`);
  }
}

function unpack(packed: Buffer, method: number, where: string): AsyncIterable<Uint8Array> | Iterable<Uint8Array> {
  if (method === 0) return [packed];
  if (method !== 8) throw unreadable(where, `the compression method ${method} is not known`);
  const inflate = zlib.createInflateRaw({ chunkSize: 65_536 });
  inflate.end(packed);
  return inflate;
}

async function damaged<T>(where: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (cause) {
    const reason = cause instanceof Error ? cause.message : String(cause);
    throw unreadable(where, `the zip is damaged (${reason})`, undefined, cause);
  }
}
