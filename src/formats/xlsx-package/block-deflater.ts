import { constants, createDeflateRaw, type DeflateRaw } from 'node:zlib';

/** So much is deflated in one go, in bytes. */
const BLOCK = 1 << 20;
/** One is filled while the others are deflated; Node has four threads for that. */
const LANES = 5;
/** What a full flush ends with, an empty stored block, and the empty last block of a stream (RFC 1951, sections 3.2.4 and 3.2.6; zlib's manual, deflate). */
const FLUSHED = Buffer.from([0x00, 0x00, 0xff, 0xff]);
const LAST = Buffer.from([0x03, 0x00]);

const encoder = new TextEncoder();

/** Bytes, or a text that stands for its UTF-8. */
export type Chunk = Uint8Array | string;

/** A deflater and the block that it deflates, both used again and again: what is made anew for each block has the engine clear its memory all the time. */
class Lane {
  private readonly room = Buffer.alloc(BLOCK);
  private readonly stream: DeflateRaw;
  private length = 0;
  private packed: Uint8Array[] = [];

  constructor(level: number) {
    this.stream = createDeflateRaw({ level, chunkSize: 1 << 16 });
    this.stream.on('data', (chunk: Uint8Array) => void this.packed.push(chunk));
  }

  get block(): Uint8Array {
    return this.room.subarray(0, this.length);
  }

  /** Takes what there is room for, and gives the rest; null when all was taken. */
  take(chunk: Chunk): Chunk | null {
    const free = this.room.subarray(this.length);
    if (typeof chunk === 'string') {
      const { read, written } = encoder.encodeInto(chunk, free);
      this.length += written;
      return read < chunk.length ? chunk.slice(read) : null;
    }
    const taken = chunk.subarray(0, free.length);
    free.set(taken);
    this.length += taken.length;
    return taken.length < chunk.length ? chunk.subarray(taken.length) : null;
  }

  /** The block deflated by itself, whole bytes long; the lane is empty then. */
  pack(): Promise<readonly Uint8Array[]> {
    return new Promise((resolve, reject) => {
      this.stream.once('error', reject);
      this.stream.write(this.block);
      this.stream.flush(constants.Z_FULL_FLUSH, () => {
        this.stream.off('error', reject);
        const { packed } = this;
        this.packed = [];
        this.length = 0;
        if (Buffer.concat(packed.slice(-2)).subarray(-FLUSHED.length).equals(FLUSHED)) resolve(packed);
        else reject(new Error('a block of a sheet was not deflated whole'));
      });
    });
  }

  close(): void {
    this.stream.destroy();
  }
}

/**
 * Deflates in several threads, block by block. No block points back into the one before, so that the blocks one behind the
 * other are one stream.
 *
 * @example
 * const deflater = new BlockDeflater(5);
 * for await (const packed of deflater.deflate(['104 psi'], (bytes) => sum(bytes))) file.write(packed);
 * deflater.close();
 */
export class BlockDeflater {
  private readonly lanes: Lane[] = [];

  /** @param level 0 (stored) to 9 (smallest) */
  constructor(private readonly level: number) {}

  /**
   * The deflated stream of some chunks, which are taken only as fast as it is.
   *
   * @param seen is shown all bytes before they are deflated, in their order
   * @throws what the source of chunks throws
   */
  async *deflate(chunks: AsyncIterable<Chunk> | Iterable<Chunk>, seen: (bytes: Uint8Array) => void): AsyncGenerator<Uint8Array, void, undefined> {
    const going: Promise<readonly Uint8Array[]>[] = [];
    let turn = 0;
    let lane = this.lane(turn);
    const pack = (): void => {
      seen(lane.block);
      const packed = lane.pack();
      // Told where it is awaited.
      packed.catch(() => undefined);
      going.push(packed);
    };
    for await (const chunk of chunks) {
      for (let rest = lane.take(chunk); rest !== null; rest = lane.take(rest)) {
        pack();
        if (going.length === LANES) yield* await going.shift()!;
        lane = this.lane((turn = (turn + 1) % LANES));
      }
    }
    if (lane.block.length > 0) pack();
    for (const packed of going) yield* await packed;
    yield LAST;
  }

  /** Lets go of everything, also of what is being deflated. */
  close(): void {
    for (const lane of this.lanes) lane.close();
  }

  private lane(turn: number): Lane {
    return (this.lanes[turn] ??= new Lane(this.level));
  }
}
