import * as zlib from 'node:zlib';
import yauzl from 'yauzl';
import type { Entry, ZipFile } from 'yauzl';
import { crc32 } from '../../util/crc32.js';
import { unreadable } from './unreadable.js';
import { raiseCap } from '../input-caps.js';
import type { XlsxCaps } from '../input-caps.js';

const SLICE = 65_536;
const ENCRYPTED = 0x1;
/** Below this many inflated bytes it does not matter how small the file is. */
const ALWAYS_FINE = 1024 ** 3;

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
    const refuseCount = () => unreadable(fileName, `the zip holds more than ${caps.entries} entries`, raiseCap('xlsx.entries', caps.entries));
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
   * @param cap which cap holds the part
   * @throws TreadlebookError `input_unreadable` when the part is missing, encrypted, damaged or too large
   */
  async *read(part: string, cap: 'partBytes' | 'smallPartBytes' = 'partBytes'): AsyncGenerator<Uint8Array> {
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
        if (length > this.#caps[cap]) throw unreadable(where, `the part holds more than ${this.#caps[cap]} bytes`, raiseCap(`xlsx.${cap}`, this.#caps[cap]));
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
    const { totalBytes, inflation } = this.#caps;
    if (total > totalBytes) throw unreadable(this.fileName, `its parts hold more than ${totalBytes} bytes`, raiseCap('xlsx.totalBytes', totalBytes));
    if (total > ALWAYS_FINE && total > inflation * this.#bytes.length) throw unreadable(this.fileName, `its parts hold more than ${inflation} bytes for each byte of the file`, raiseCap('xlsx.inflation', inflation));
  }
}

function unpack(packed: Buffer, method: number, where: string): AsyncIterable<Uint8Array> {
  if (method === 0) return inSlices(packed);
  if (method !== 8) throw unreadable(where, `the compression method ${method} is not known`);
  const inflate = zlib.createInflateRaw({ chunkSize: SLICE });
  inflate.end(packed);
  return inflate;
}

/** Bytes that are not compressed, in pieces, with a turn for whatever else waits now and then. */
async function* inSlices(bytes: Buffer): AsyncGenerator<Uint8Array> {
  for (let at = 0; at < bytes.length; at += SLICE) {
    if (at % (16 * SLICE) === 0) await new Promise((resolve) => setImmediate(resolve));
    yield bytes.subarray(at, at + SLICE);
  }
}

async function damaged<T>(where: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (cause) {
    const reason = cause instanceof Error ? cause.message : String(cause);
    throw unreadable(where, `the zip is damaged (${reason})`, undefined, cause);
  }
}
