import { statSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { extname } from 'node:path';
import type { LimitPlan } from '../../limits/compile-limit-set.js';
import type { AskedPeriod } from '../asked-period.js';
import type { OpenFleetOptions } from '../opened-fleet.js';
import type { ReadingsInput } from '../readings-input.js';
import { FleetInShards } from './fleet-in-shards.js';
import { shareOut } from './share-out.js';

/** Smaller files are read before a thread has started. */
export const LEAST_BYTES = 8 << 20;
const TEXT_TABLES = new Set(['.csv', '.tsv']);

/**
 * Opens several files to be evaluated in threads, where that pays and each can be evaluated apart: text tables, large together,
 * without folded units, a baseline, or a workbook that they are added to.
 *
 * @param leastBytes of all files together
 * @returns null where they are to be evaluated in one go
 * @throws TreadlebookError as `openReadings`
 */
export async function openShards(inputs: readonly ReadingsInput[], base: LimitPlan, period: AskedPeriod, options: OpenFleetOptions, leastBytes = LEAST_BYTES): Promise<FleetInShards | null> {
  const paths = inputs.filter((input) => typeof input === 'string');
  const isApart = paths.length === inputs.length && paths.every((path) => TEXT_TABLES.has(extname(path).toLowerCase())) && !options.format && options.units !== 'folded' && options.appendTo == null && options.baseline == null && options.sheet === undefined;
  if (!isApart || paths.length < 2 || availableParallelism() < 2) return null;
  const sizes = paths.map(sizeOf);
  const size = sizes.reduce((sum, one) => sum + one, 0);
  if (size < leastBytes) return null;
  return FleetInShards.open(shareOut(paths, sizes, availableParallelism()), size, base, period, options);
}

/** The size of a file; 0 for what is none, of which the reader tells. */
function sizeOf(path: string): number {
  return statSync(path, { throwIfNoEntry: false })?.size ?? 0;
}
