import fc from 'fast-check';
import { readdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { setTimeout as pause } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { SpillingQueue } from '../../src/util/spilling-queue.js';

const parts = (): string[] => readdirSync(tmpdir()).filter((name) => name.startsWith('.treadlebook.') && name.endsWith('.part'));

async function taken(queue: SpillingQueue, between: () => Promise<void> = async () => undefined): Promise<string> {
  const chunks: Buffer[] = [];
  for await (const piece of queue.pieces()) {
    chunks.push(Buffer.from(piece));
    await between();
  }
  return Buffer.concat(chunks).toString();
}

describe('a queue of texts that goes on in a file', () => {
  it('gives them back in their order, whatever waits in memory', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(fc.string({ unit: 'grapheme', maxLength: 40 }), { maxLength: 30 }), fc.nat(60), fc.nat(30), async (texts, most, head) => {
        const queue = new SpillingQueue(most);
        for (const text of texts.slice(0, head)) queue.push(text);
        const all = taken(queue, () => pause(0));
        await pause(0);
        for (const text of texts.slice(head)) {
          queue.push(text);
          if (text.length % 3 === 0) await pause(0);
        }
        queue.end();
        expect(await all).toBe(texts.map((text) => Buffer.from(text).toString()).join(''));
      }),
      { numRuns: 100 },
    );
  });

  it('leaves no file behind, whether it is taken to its end, broken off or closed', async () => {
    const before = parts();
    const [whole, broken, closed] = [new SpillingQueue(0), new SpillingQueue(0), new SpillingQueue(0)];
    for (const queue of [whole, broken, closed]) queue.push('x'.repeat(200_000));
    expect(parts().length).toBeGreaterThanOrEqual(before.length + 3);
    whole.end();
    expect(await taken(whole)).toHaveLength(200_000);
    for await (const _ of broken.pieces()) break;
    closed.close();
    expect(parts()).toStrictEqual(before);
  });

  it('gives an error after the last text', async () => {
    const queue = new SpillingQueue(0);
    queue.push('one');
    queue.end(new Error('torn'));
    const seen: string[] = [];
    await expect((async () => {
      for await (const piece of queue.pieces()) seen.push(String(piece));
    })()).rejects.toThrow('torn');
    expect(seen).toStrictEqual(['one']);
  });
});
