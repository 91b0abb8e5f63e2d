import { inflateRawSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deflateInBlocks } from '../../../src/formats/xlsx-package/deflate-in-blocks.js';
import { noise } from './noise.js';
import { collect } from './support.js';

const BLOCK = 1 << 19;

describe('bytes deflated in blocks', () => {
  it.each([0, 1, 65_536, BLOCK - 1, BLOCK, BLOCK + 1, 2 * BLOCK, 2 * BLOCK + 1, 5 * BLOCK - 3, 9 * BLOCK])('come back: %i of them', async (length) => {
    const bytes = noise(length);
    const packed = await collect(deflateInBlocks([bytes], 5));
    expect(inflateRawSync(packed).equals(bytes)).toBe(true);
  });

  it('are the same stream however they are cut', async () => {
    const bytes = noise(3 * BLOCK + 777);
    const whole = await collect(deflateInBlocks([bytes], 5));
    await fc.assert(
      fc.asyncProperty(fc.array(fc.integer({ min: 0, max: bytes.length }), { maxLength: 40 }), async (cuts) => {
        const at = [0, ...cuts.sort((a, b) => a - b), bytes.length];
        const pieces = at.slice(1).map((end, index) => bytes.subarray(at[index], end));
        expect((await collect(deflateInBlocks(pieces, 5))).equals(whole)).toBe(true);
      }),
      { numRuns: 12 },
    );
  });

  it('are packed as tightly where a block begins: a repeat of what stood up to 32 KB before it is a reference', async () => {
    const said = noise(20_000);
    const across = Buffer.concat([noise(BLOCK - said.length, 7), said, said]);
    const packed = await collect(deflateInBlocks([across], 5));
    const alone = await collect(deflateInBlocks([across.subarray(0, BLOCK)], 5));
    expect(packed.length - alone.length).toBeLessThan(2000);
    expect(inflateRawSync(packed).equals(across)).toBe(true);
  });

  it.each([0, 1, 9])('take the level %i', async (level) => {
    const bytes = Buffer.from('the primary circuit fell from 104 to 101 psi in 60 s; '.repeat(20_000));
    const packed = await collect(deflateInBlocks([bytes], level));
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
    const packed = deflateInBlocks(source, 1);
    expect((await packed.next()).done).toBe(false);
    expect(taken).toBeLessThan(4 * 8);
    await packed.return();
    expect(closed).toBe(true);
    expect(taken).toBeLessThan(4 * 8);
  });

  it('end with what their source throws', async () => {
    const source = (async function* () {
      yield noise(3 * BLOCK);
      throw new Error('the readings broke off');
    })();
    await expect(collect(deflateInBlocks(source, 5))).rejects.toThrow('the readings broke off');
  });
});
