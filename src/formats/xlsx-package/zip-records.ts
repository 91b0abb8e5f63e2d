/** What the directory of a zip says of an entry. */
export interface ZippedEntry {
  readonly name: Buffer;
  readonly crc: number;
  /** Lengths in bytes: of what stands in the zip, and of the content. */
  readonly packed: number;
  readonly length: number;
  /** Where its local header stands. */
  readonly at: number;
}

// The numbers are those of APPNOTE.TXT 6.3.10, sections 4.3.7, 4.3.9, 4.3.12 and 4.3.14 to 4.3.16.
const LOCAL_HEADER = 0x04034b50;
const DESCRIPTOR = 0x08074b50;
const CENTRAL_HEADER = 0x02014b50;
const END = 0x06054b50;
const END_64 = 0x06064b50;
const END_64_LOCATOR = 0x07064b50;
const VERSION = 20;
const VERSION_64 = 45;
const BY_UNIX = 3 << 8;
const DEFLATED = 8;
/** Sums and lengths follow the content; names are UTF-8. */
const FLAGS = 0x0808;
/** A zip's first days: 1980-02-01 00:00, kept a month away from its first, which some readers move by a time zone. */
const TIME = 0;
const DATE = (2 << 5) | 1;
const FILE_RW = 0o100644 * 0x10000;
/** What a field of 32 or 16 bits says where the number stands in a wider one. */
const IN_64 = 0xffffffff;
const COUNT_IN_64 = 0xffff;

const isWide = ({ packed, length }: ZippedEntry): boolean => packed >= IN_64 || length >= IN_64;

/** The header before an entry's content. */
export function localHeader(name: Buffer): Buffer {
  const header = Buffer.alloc(30);
  header.writeUInt32LE(LOCAL_HEADER, 0);
  header.writeUInt16LE(VERSION, 4);
  header.writeUInt16LE(FLAGS, 6);
  header.writeUInt16LE(DEFLATED, 8);
  header.writeUInt16LE(TIME, 10);
  header.writeUInt16LE(DATE, 12);
  header.writeUInt16LE(name.length, 26);
  return Buffer.concat([header, name]);
}

/** The sum and lengths behind an entry's content. */
export function dataDescriptor(entry: ZippedEntry): Buffer {
  const wide = isWide(entry);
  const descriptor = Buffer.alloc(wide ? 24 : 16);
  descriptor.writeUInt32LE(DESCRIPTOR, 0);
  descriptor.writeUInt32LE(entry.crc, 4);
  if (wide) {
    descriptor.writeBigUInt64LE(BigInt(entry.packed), 8);
    descriptor.writeBigUInt64LE(BigInt(entry.length), 16);
  } else {
    descriptor.writeUInt32LE(entry.packed, 8);
    descriptor.writeUInt32LE(entry.length, 12);
  }
  return descriptor;
}

function centralHeader(entry: ZippedEntry): Buffer {
  const { name, crc, packed, length, at } = entry;
  const wide = isWide(entry) || at >= IN_64;
  const header = Buffer.alloc(46);
  header.writeUInt32LE(CENTRAL_HEADER, 0);
  header.writeUInt16LE(BY_UNIX | (wide ? VERSION_64 : VERSION), 4);
  header.writeUInt16LE(wide ? VERSION_64 : VERSION, 6);
  header.writeUInt16LE(FLAGS, 8);
  header.writeUInt16LE(DEFLATED, 10);
  header.writeUInt16LE(TIME, 12);
  header.writeUInt16LE(DATE, 14);
  header.writeUInt32LE(crc, 16);
  header.writeUInt32LE(wide ? IN_64 : packed, 20);
  header.writeUInt32LE(wide ? IN_64 : length, 24);
  header.writeUInt16LE(name.length, 28);
  header.writeUInt16LE(wide ? 28 : 0, 30);
  header.writeUInt32LE(FILE_RW, 38);
  header.writeUInt32LE(wide ? IN_64 : at, 42);
  return Buffer.concat([header, name, wide ? wideField(length, packed, at) : Buffer.alloc(0)]);
}

function wideField(...numbers: readonly number[]): Buffer {
  const field = Buffer.alloc(4 + 8 * numbers.length);
  field.writeUInt16LE(0x0001, 0);
  field.writeUInt16LE(8 * numbers.length, 2);
  for (const [index, number] of numbers.entries()) field.writeBigUInt64LE(BigInt(number), 4 + 8 * index);
  return field;
}

/** The directory at the end of a zip, which begins where the last entry ended. */
export function centralDirectory(entries: readonly ZippedEntry[], at: number): Buffer {
  const headers = Buffer.concat(entries.map(centralHeader));
  const wide = entries.length >= COUNT_IN_64 || headers.length >= IN_64 || at >= IN_64;
  const end = Buffer.alloc(22);
  end.writeUInt32LE(END, 0);
  for (const place of [8, 10]) end.writeUInt16LE(wide ? COUNT_IN_64 : entries.length, place);
  end.writeUInt32LE(wide ? IN_64 : headers.length, 12);
  end.writeUInt32LE(wide ? IN_64 : at, 16);
  return Buffer.concat([headers, wide ? wideEnd(entries.length, headers.length, at) : Buffer.alloc(0), end]);
}

function wideEnd(count: number, length: number, at: number): Buffer {
  const end = Buffer.alloc(56 + 20);
  end.writeUInt32LE(END_64, 0);
  end.writeBigUInt64LE(44n, 4);
  end.writeUInt16LE(BY_UNIX | VERSION_64, 12);
  end.writeUInt16LE(VERSION_64, 14);
  for (const place of [24, 32]) end.writeBigUInt64LE(BigInt(count), place);
  end.writeBigUInt64LE(BigInt(length), 40);
  end.writeBigUInt64LE(BigInt(at), 48);
  end.writeUInt32LE(END_64_LOCATOR, 56);
  end.writeBigUInt64LE(BigInt(at + length), 64);
  end.writeUInt32LE(1, 72);
  return end;
}
