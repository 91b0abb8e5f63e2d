import { describe, expect, it } from 'vitest';
import { BatchQueue, SentBefore } from '../../../src/formats/xlsx-worker/batch-queue.js';
import type { Batch } from '../../../src/formats/xlsx-worker/messages.js';

const row = (number: number, length = 1): { number: number; cells: string[] } => ({ number, cells: ['x'.repeat(length)] });

const HIDDEN = { kind: 'hidden sheet', sheet: 'S', cell: '', text: 'The sheet S is hidden.' } as const;

/** Adds rows until the queue holds the walk back; gives how many it took. */
async function fill(queue: BatchQueue, length: number): Promise<number> {
  for (let number = 1; ; number += 1) {
    const held = Symbol('held');
    const taken = await Promise.race([queue.add(row(number, length)), new Promise((resolve) => setTimeout(resolve, 20, held))]);
    if (taken === held) return number;
  }
}

describe('the queue of batches', () => {
  it('sends 500 rows at once, the rest at the end', async () => {
    const sent: Batch[] = [];
    const queue = new BatchQueue(3, [], new SentBefore([]), (batch) => sent.push(batch));
    for (let number = 1; number <= 501; number += 1) expect(await queue.add(row(number))).toBe(true);
    expect(sent.map(({ walk, rows, end }) => [walk, rows.length, end])).toStrictEqual([[3, 500, false]]);
    queue.end();
    expect(sent.map(({ rows, end }) => [rows.length, end])).toStrictEqual([[500, false], [1, true]]);
    expect(sent.flatMap(({ rows }) => rows)).toStrictEqual(Array.from({ length: 501 }, (_, index) => row(index + 1)));
  });

  it('holds the walk until batches were taken: about half a megabyte is under way, or one batch if that is longer', async () => {
    const sent: Batch[] = [];
    const queue = new BatchQueue(1, [], new SentBefore([]), (batch) => sent.push(batch));
    expect(await fill(queue, 32_000)).toBe(3 * 6);
    expect(sent).toHaveLength(6);
    const long: Batch[] = [];
    expect(await fill(new BatchQueue(1, [], new SentBefore([]), (batch) => long.push(batch)), 1_000_000)).toBe(1);
    expect(long).toHaveLength(1);
  });

  it('goes on when a batch was taken, and ends when it is told to stop', async () => {
    const queue = new BatchQueue(1, [], new SentBefore([]), () => undefined);
    const first = queue.add(row(1, 1_000_000));
    queue.taken();
    expect(await first).toBe(true);
    const second = queue.add(row(2, 1_000_000));
    queue.stop();
    expect(await second).toBe(false);
    expect(await queue.add(row(3))).toBe(false);
  });

  it('sends hidden columns with the first batch, even where there are no rows', () => {
    const sent: Batch[] = [];
    const queue = new BatchQueue(1, [{ first: 2, last: 3 }], new SentBefore([HIDDEN]), (batch) => sent.push(batch));
    queue.end();
    expect(sent).toStrictEqual([{ kind: 'batch', walk: 1, rows: [], hiddenColumns: [{ first: 2, last: 3 }], strings: new Map(), findings: [HIDDEN], end: true }]);
  });

  it('sends a long shared string once for all walks, and leaves its cells to whoever takes the rows', async () => {
    const sent: Batch[] = [];
    const before = new SentBefore([]);
    const text = 'x'.repeat(100);
    for (const walk of [1, 2]) {
      const queue = new BatchQueue(walk, [], before, (batch) => sent.push(batch));
      await queue.add({ cells: [1, text, text], shared: [1, 7, 2, 7] });
      queue.end();
    }
    expect(sent.map(({ rows, strings }) => [rows, [...strings]])).toStrictEqual([
      [[{ cells: [1, null, null], shared: [1, 7, 2, 7] }], [[7, text]]],
      [[{ cells: [1, null, null], shared: [1, 7, 2, 7] }], []],
    ]);
  });
});
