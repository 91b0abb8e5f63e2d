import type { ShardFile } from './shard-messages.js';

/**
 * Shares files out to threads, so that each has about as much to read: the largest first, each to the thread that has least.
 *
 * @param sizes the bytes of each file
 * @returns for each thread its files, in their order
 * @example shareOut(['a', 'b', 'c'], [10, 40, 20], 2) // [[b], [a, c]], each with its index
 */
export function shareOut(paths: readonly string[], sizes: readonly number[], threads: number): ShardFile[][] {
  const loads = Array.from({ length: Math.min(threads, paths.length) }, () => ({ bytes: 0, files: [] as ShardFile[] }));
  const bySize = paths.map((path, index) => ({ path, index })).sort((a, b) => sizes[b.index]! - sizes[a.index]!);
  for (const file of bySize) {
    const least = loads.reduce((one, other) => (other.bytes < one.bytes ? other : one));
    least.files.push(file);
    least.bytes += sizes[file.index]!;
  }
  return loads.map(({ files }) => files.sort((a, b) => a.index - b.index));
}
