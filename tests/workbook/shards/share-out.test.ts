import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shareOut } from '../../../src/workbook/shards/share-out.js';

describe('sharing files out to threads', () => {
  it('gives each about as much to read', () => {
    expect(shareOut(['a', 'b', 'c'], [10, 40, 20], 2).map((files) => files.map(({ path }) => path))).toStrictEqual([['b'], ['a', 'c']]);
  });

  it('gives every file to one thread, in their order, and no thread more than the mean and one file', () => {
    fc.assert(
      fc.property(fc.array(fc.nat(1000), { minLength: 1, maxLength: 30 }), fc.integer({ min: 1, max: 8 }), (sizes, threads) => {
        const paths = sizes.map((_, index) => `${index}.csv`);
        const shares = shareOut(paths, sizes, threads);
        expect(shares).toHaveLength(Math.min(threads, paths.length));
        expect(shares.flat().map(({ index }) => index).sort((a, b) => a - b)).toStrictEqual(sizes.map((_, index) => index));
        const mean = sizes.reduce((sum, size) => sum + size, 0) / shares.length;
        for (const files of shares) {
          expect(files.map(({ index }) => index)).toStrictEqual(files.map(({ index }) => index).toSorted((a, b) => a - b));
          expect(files.reduce((sum, { index }) => sum + sizes[index]!, 0)).toBeLessThanOrEqual(mean + Math.max(...sizes));
        }
      }),
    );
  });
});
