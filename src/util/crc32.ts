import * as zlib from 'node:zlib';

/** zlib.crc32 came with Node 20.15. */
const native: ((data: Uint8Array, value?: number) => number) | undefined = zlib.crc32;

let table: Uint32Array | undefined;

function makeTable(): Uint32Array {
  return Uint32Array.from({ length: 256 }, (_, byte) => {
    let sum = byte;
    for (let bit = 0; bit < 8; bit++) sum = sum & 1 ? 0xedb88320 ^ (sum >>> 1) : sum >>> 1;
    return sum;
  });
}

/**
 * The CRC-32 of a zip (ITU-T V.42; RFC 1952, section 8), continued from that of the bytes before.
 *
 * @example crc32(Buffer.from('123456789')) // 0xcbf43926
 */
export function crc32(bytes: Uint8Array, before = 0): number {
  // zlib begins anew where there are no bytes and no place in memory for them.
  if (bytes.length === 0) return before;
  return native ? native(bytes, before) : crc32ByTable(bytes, before);
}

/** The same without the help of zlib. */
export function crc32ByTable(bytes: Uint8Array, before = 0): number {
  table ??= makeTable();
  let sum = ~before;
  for (const byte of bytes) sum = table[(sum ^ byte) & 0xff]! ^ (sum >>> 8);
  return ~sum >>> 0;
}
