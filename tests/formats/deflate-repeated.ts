import { constants, deflateRawSync } from 'node:zlib';
import { crc32 } from '../../src/util/crc32.js';

/** Content that is deflated already, with the checksum and the size that it has when it is not. */
export interface Deflated {
  readonly bytes: Uint8Array;
  readonly crc: number;
  readonly size: number;
}

/**
 * A text that is repeated, deflated without being held or deflated whole: after a full flush the same text is deflated to
 * the same bytes, which begin and end at whole bytes (RFC 1951, 3.2.4; the flush is an empty stored block).
 *
 * @param times how often it is repeated at least; it is repeated 65,536 times at once
 */
export function deflateRepeated(start: string, filler: string, times: number, end: string): Deflated {
  const flushed = (bytes: Uint8Array): Buffer => deflateRawSync(bytes, { level: 9, finishFlush: constants.Z_FULL_FLUSH });
  const [first, block, last] = [Buffer.from(start), Buffer.from(filler.repeat(65_536)), Buffer.from(end)];
  const blocks = Math.ceil(times / 65_536);
  const packed = flushed(block);
  let crc = crc32(first);
  for (let index = 0; index < blocks; index += 1) crc = crc32(block, crc);
  return {
    bytes: Buffer.concat([flushed(first), ...Array.from({ length: blocks }, () => packed), deflateRawSync(last)]),
    crc: crc32(last, crc),
    size: first.length + block.length * blocks + last.length,
  };
}
