import { crc32, deflateRawSync } from 'node:zlib';
import type { Deflated } from '../../formats/deflate-repeated.js';

/** One entry of a zip, as it is written: true unless it is told to lie. */
export interface RawEntry {
  readonly name: string | Uint8Array;
  readonly content: Uint8Array | Deflated;
  /** 0 stored, 8 deflated (the default); any other number is written and the content stored. */
  readonly method?: number;
  readonly level?: number;
  readonly flags?: number;
  /** Sizes and checksum behind the data, and zeros before it (APPNOTE 4.4.4, bit 3). */
  readonly descriptor?: boolean;
  /** Sizes and offset in the 64-bit extra field (APPNOTE 4.5.3). */
  readonly zip64?: boolean;
  readonly extra?: Uint8Array;
  readonly comment?: string;
  readonly lies?: { readonly crc?: number; readonly size?: number; readonly packedSize?: number; readonly offset?: number; readonly localName?: string };
}

export interface RawZip {
  readonly before?: Uint8Array;
  readonly after?: Uint8Array;
  readonly comment?: string | Uint8Array;
  readonly lies?: { readonly count?: number; readonly directoryOffset?: number; readonly directorySize?: number; readonly commentLength?: number };
}

const EMPTY = new Uint8Array();

/** A zip, byte by byte, after PKWARE's APPNOTE.TXT 6.3; for every field there is a way to lie. */
export function rawZip(entries: readonly RawEntry[], whole: RawZip = {}): Buffer {
  const pieces: Uint8Array[] = [whole.before ?? EMPTY];
  const directory: Buffer[] = [];
  let at = whole.before?.length ?? 0;
  for (const entry of entries) {
    const { method = 8, flags = 0, descriptor = false, zip64 = false, extra = EMPTY, comment = '', lies = {} } = entry;
    const name = Buffer.from(entry.name as string);
    const { bytes: packed, crc, size } = entry.content instanceof Uint8Array ? packedAs(entry.content, method, entry.level) : entry.content;
    const sizes = { crc: lies.crc ?? crc, packed: lies.packedSize ?? packed.length, size: lies.size ?? size };
    const bits = flags | (descriptor ? 8 : 0) | 0x800;
    const localName = lies.localName === undefined ? name : Buffer.from(lies.localName);
    const local = Buffer.alloc(30);
    local.writeUInt32LE(0x04034b50, 0);
    local.writeUInt16LE(zip64 ? 45 : 20, 4);
    local.writeUInt16LE(bits, 6);
    local.writeUInt16LE(method, 8);
    local.writeUInt32LE(0x00210000, 10);
    writeSizes(local, 14, descriptor ? { crc: 0, packed: 0, size: 0 } : sizes);
    local.writeUInt16LE(localName.length, 26);
    const behind = descriptor ? Buffer.alloc(16) : EMPTY;
    if (descriptor) {
      (behind as Buffer).writeUInt32LE(0x08074b50, 0);
      writeSizes(behind as Buffer, 4, sizes);
    }
    const long = zip64 ? zip64Field(sizes, at) : EMPTY;
    const central = Buffer.alloc(46);
    central.writeUInt32LE(0x02014b50, 0);
    central.writeUInt16LE(zip64 ? 45 : 20, 6);
    central.writeUInt16LE(bits, 8);
    central.writeUInt16LE(method, 10);
    central.writeUInt32LE(0x00210000, 12);
    writeSizes(central, 16, zip64 ? { crc: sizes.crc, packed: 0xffffffff, size: 0xffffffff } : sizes);
    central.writeUInt16LE(name.length, 28);
    central.writeUInt16LE(long.length + extra.length, 30);
    central.writeUInt16LE(Buffer.byteLength(comment), 32);
    central.writeUInt32LE(zip64 ? 0xffffffff : (lies.offset ?? at), 42);
    directory.push(Buffer.concat([central, name, long, extra, Buffer.from(comment)]));
    pieces.push(local, localName, packed, behind);
    at += 30 + localName.length + packed.length + behind.length;
  }
  const listed = Buffer.concat(directory);
  const comment = Buffer.from((whole.comment ?? '') as string);
  const end = Buffer.alloc(22);
  end.writeUInt32LE(0x06054b50, 0);
  end.writeUInt16LE(whole.lies?.count ?? entries.length, 8);
  end.writeUInt16LE(whole.lies?.count ?? entries.length, 10);
  end.writeUInt32LE(whole.lies?.directorySize ?? listed.length, 12);
  end.writeUInt32LE(whole.lies?.directoryOffset ?? at, 16);
  end.writeUInt16LE(whole.lies?.commentLength ?? comment.length, 20);
  return Buffer.concat([...pieces, listed, end, comment, whole.after ?? EMPTY]);
}

function packedAs(content: Uint8Array, method: number, level = 1): Deflated {
  return { bytes: method === 8 ? deflateRawSync(content, { level }) : content, crc: crc32(content), size: content.length };
}

function writeSizes(into: Buffer, at: number, { crc, packed, size }: { readonly crc: number; readonly packed: number; readonly size: number }): void {
  into.writeUInt32LE(crc >>> 0, at);
  into.writeUInt32LE(packed >>> 0, at + 4);
  into.writeUInt32LE(size >>> 0, at + 8);
}

function zip64Field({ packed, size }: { readonly packed: number; readonly size: number }, offset: number): Buffer {
  const field = Buffer.alloc(28);
  field.writeUInt16LE(1, 0);
  field.writeUInt16LE(24, 2);
  field.writeBigUInt64LE(BigInt(size), 4);
  field.writeBigUInt64LE(BigInt(packed), 12);
  field.writeBigUInt64LE(BigInt(offset), 20);
  return field;
}
