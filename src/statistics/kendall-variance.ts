/**
 * The variance of the Mann-Kendall statistic S when there is no trend, with the correction for tied values and, where
 * times are given, for tied times (Gilbert, Statistical Methods for Environmental Pollution Monitoring (1987), formulas
 * 16.2 and 16.4).
 *
 * @example kendallVariance([100, 50, 85, 75, 50]) // 15.666…
 */
export function kendallVariance(values: readonly number[], times: readonly number[] = []): number {
  const n = values.length;
  const [tiedValues, tiedTimes] = [tieSizes(values), tieSizes(times)];
  let variance = (spread(n) - sum(tiedValues, spread) - sum(tiedTimes, spread)) / 18;
  if (n > 2) {
    variance += (sum(tiedValues, triples) * sum(tiedTimes, triples)) / (9 * triples(n)) + (sum(tiedValues, pairs) * sum(tiedTimes, pairs)) / (2 * pairs(n));
  }
  return Math.max(0, variance);
}

const pairs = (t: number): number => t * (t - 1);
const triples = (t: number): number => pairs(t) * (t - 2);
const spread = (t: number): number => pairs(t) * (2 * t + 5);
const sum = (sizes: readonly number[], term: (size: number) => number): number => sizes.reduce((total, size) => total + term(size), 0);

/** How many values each group of equal ones has; a group of one adds nothing to any of the sums. */
function tieSizes(values: readonly number[]): number[] {
  const sizes = new Map<number, number>();
  for (const value of values) sizes.set(value, (sizes.get(value) ?? 0) + 1);
  return [...sizes.values()];
}
