import jstat from 'jstat';

const { chisquare } = jstat.jStat;

/** The least expected count for which the test holds (Cochran, Biometrics 10 (1954) 417-451). */
const LEAST_EXPECTED = 5;

/**
 * Pearson's chi-squared test that counts come from equally likely classes. Null when the expected count is under 5.
 *
 * @param counts how often each class was seen, two classes or more
 * @returns the statistic and the probability of one as large or larger
 * @example chiSquaredTest([10, 10, 10]) // { statistic: 0, p: 1 }
 */
export function chiSquaredTest(counts: readonly number[]): { readonly statistic: number; readonly p: number } | null {
  const expected = counts.reduce((sum, count) => sum + count, 0) / counts.length;
  if (counts.length < 2 || expected < LEAST_EXPECTED) return null;
  const statistic = counts.reduce((sum, count) => sum + (count - expected) ** 2 / expected, 0);
  return { statistic, p: Math.max(0, 1 - chisquare.cdf(statistic, counts.length - 1)) };
}
