import { promisify } from 'node:util';
import { constants, deflateRaw, type InputType, type ZlibOptions } from 'node:zlib';

/** So much is deflated in one go, in bytes, and so far back a repeat may reach over the start of a block (RFC 1951, section 2). */
const BLOCK = 1 << 19;
const WINDOW = 1 << 15;
/** Blocks that are deflated, or wait to be, while the next is made: threads beside the one that makes them, of which Node has four. */
const AT_ONCE = 4;

const deflate = promisify<InputType, ZlibOptions, Buffer>(deflateRaw);

/**
 * Deflates bytes in several threads: each block by itself, with the end of the one before as what it may point back to, so
 * that the blocks one behind the other are one stream. The same bytes give the same stream, however they are cut in chunks.
 * Chunks are taken only as fast as what comes of them is taken.
 *
 * @param level 0 (stored) to 9 (smallest)
 * @throws what the source of chunks throws
 * @example for await (const packed of deflateInBlocks([Buffer.from('104 psi')], 5)) file.write(packed);
 */
export async function* deflateInBlocks(chunks: AsyncIterable<Uint8Array> | Iterable<Uint8Array>, level: number): AsyncGenerator<Uint8Array, void, undefined> {
  const going: Promise<Uint8Array>[] = [];
  let before: Uint8Array | null = null;
  const begin = (block: Uint8Array, isLast: boolean): void => {
    const dictionary = before === null ? {} : { dictionary: before.subarray(-WINDOW) };
    const packed = deflate(block, { level, chunkSize: 1 << 16, finishFlush: isLast ? constants.Z_FINISH : constants.Z_SYNC_FLUSH, ...dictionary });
    // Told where it is awaited.
    packed.catch(() => undefined);
    going.push(packed);
    before = block;
  };
  try {
    let waiting: Uint8Array[] = [];
    let length = 0;
    for await (const chunk of chunks) {
      waiting.push(chunk);
      length += chunk.length;
      if (length <= BLOCK) continue;
      let all = Buffer.concat(waiting);
      for (; all.length > BLOCK; all = all.subarray(BLOCK)) {
        begin(all.subarray(0, BLOCK), false);
        if (going.length > AT_ONCE) yield await going.shift()!;
      }
      waiting = [all];
      length = all.length;
    }
    begin(Buffer.concat(waiting), true);
    for (let packed = going.shift(); packed !== undefined; packed = going.shift()) yield await packed;
  } finally {
    await Promise.allSettled(going);
  }
}
