import { expect, it } from 'vitest';
import { shareBytes } from '../../../src/formats/xlsx-worker/share-bytes.js';

it('joins pieces in shared memory, and leaves as they are bytes that stand there', () => {
  const joined = shareBytes([Uint8Array.of(1, 2), new Uint8Array(), Buffer.from([3])]);
  expect([...joined]).toStrictEqual([1, 2, 3]);
  expect(joined.buffer).toBeInstanceOf(SharedArrayBuffer);
  expect(shareBytes([joined])).toBe(joined);
  expect(shareBytes([])).toHaveLength(0);
});
