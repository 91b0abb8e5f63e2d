import { inflateRawSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BlockDeflater, type Chunk } from '../../../src/formats/xlsx-package/block-deflater.js';
import { noise } from './noise.js';
import { collect } from './support.js';

const BLOCK = 1 << 20;

/** The deflated stream of some chunks, and what was shown of them on the way. */
async function deflated(chunks: Iterable<Chunk>, level = 5): Promise<{ readonly packed: Buffer; readonly seen: Buffer }> {
  const deflater = new BlockDeflater(level);
  const seen: Uint8Array[] = [];
  const packed = await collect(deflater.deflate(chunks, (bytes) => seen.push(Buffer.from(bytes))));
  deflater.close();
  return { packed, seen: Buffer.concat(seen) };
}

describe('bytes deflated in blocks', () => {
  it.each([0, 1, 65_536, BLOCK - 1, BLOCK, BLOCK + 1, 2 * BLOCK, 2 * BLOCK + 1, 5 * BLOCK - 3, 9 * BLOCK])('come back: %i of them', async (length) => {
    const bytes = noise(length);
    const { packed, seen } = await deflated([bytes]);
    expect(inflateRawSync(packed).equals(bytes)).toBe(true);
    expect(seen.equals(bytes)).toBe(true);
  });

  it('are the same stream however they are cut', async () => {
    const bytes = noise(3 * BLOCK + 777);
    const whole = (await deflated([bytes])).packed;
    await fc.assert(
      fc.asyncProperty(fc.array(fc.integer({ min: 0, max: bytes.length }), { maxLength: 40 }), async (cuts) => {
        const at = [0, ...cuts.sort((a, b) => a - b), bytes.length];
        const pieces = at.slice(1).map((end, index) => bytes.subarray(at[index], end));
        expect((await deflated(pieces)).packed.equals(whole)).toBe(true);
      }),
      { numRuns: 12 },
    );
  });

  // U+1F69A, a lorry, takes four bytes in UTF-8 and two units in JavaScript; it must not be torn where a block ends.
  it.each(['a', 'é', '₂', '🚚'])('are those of a text in UTF-8, whatever stands where a block ends: %s', async (letter) => {
    for (const before of [0, 1, 2, 3]) {
      const text = 'x'.repeat(before) + letter.repeat((2 * BLOCK) / Buffer.byteLength(letter));
      const { packed, seen } = await deflated(['104 psi', text, '', 'end']);
      expect(inflateRawSync(packed).toString()).toBe(`104 psi${text}end`);
      expect(seen.toString()).toBe(`104 psi${text}end`);
    }
  });

  it('come back from one deflater one after the other', async () => {
    const deflater = new BlockDeflater(5);
    for (const length of [10, 7 * BLOCK, 0, BLOCK, 12 * BLOCK + 1]) {
      const bytes = noise(length, length);
      expect(inflateRawSync(await collect(deflater.deflate([bytes], () => undefined))).equals(bytes)).toBe(true);
    }
    deflater.close();
  });

  it.each([0, 1, 9])('take the level %i', async (level) => {
    const bytes = Buffer.from('the primary circuit fell from 104 to 101 psi in 60 s; '.repeat(20_000));
    const { packed } = await deflated([bytes], level);
    expect(inflateRawSync(packed).equals(bytes)).toBe(true);
    if (level === 0) expect(packed.length).toBeGreaterThan(bytes.length);
    else expect(packed.length).toBeLessThan(bytes.length / 50);
  });

  it('are taken only a little ahead of who reads, and no more once nobody does', async () => {
    let taken = 0;
    let closed = false;
    const source = (async function* () {
      try {
        for (; taken < 1000; taken++) yield noise(BLOCK / 4, taken);
      } finally {
        closed = true;
      }
    })();
    const deflater = new BlockDeflater(1);
    const packed = deflater.deflate(source, () => undefined);
    expect((await packed.next()).done).toBe(false);
    expect(taken).toBeLessThan(4 * 8);
    await packed.return();
    deflater.close();
    expect(closed).toBe(true);
    expect(taken).toBeLessThan(4 * 8);
  });

  it('end with what their source throws', async () => {
    const source = (function* () {
      yield noise(3 * BLOCK);
      throw new Error('the readings broke off');
    })();
    await expect(deflated(source)).rejects.toThrow('the readings broke off');
  });

  it('are not waited for once the deflater is closed', async () => {
    const deflater = new BlockDeflater(9);
    const packed = deflater.deflate([noise(9 * BLOCK)], () => undefined);
    expect((await packed.next()).done).toBe(false);
    deflater.close();
    await packed.return();
  });
});
