import { quantileSeq } from '../util/mathjs.js';

/**
 * A quantile by linear interpolation between the sorted values (type 7 of Hyndman and Fan, The American Statistician 50
 * (1996) 361-365; what a spreadsheet's PERCENTILE gives). Null where there are no values, or one is no finite number.
 *
 * @param values in any order, all in one unit
 * @param share from 0 (the least) to 1 (the greatest); 0.5 is the median
 * @returns a value in the same unit
 * @example quantile([1, 2, 3, 10], 0.25) // 1.75
 */
export function quantile(values: readonly number[], share: number): number | null {
  if (values.length === 0 || !values.every(Number.isFinite) || !(share >= 0 && share <= 1)) return null;
  const sorted = [...values].sort((a, b) => a - b);
  const position = share * (sorted.length - 1);
  // Between two equal values the weighted sum can miss them by a rounding.
  return Math.min(Math.max(quantileSeq(sorted, share, true), sorted[Math.floor(position)]!), sorted[Math.ceil(position)]!);
}
