import jstat from 'jstat';

const { normal } = jstat.jStat;

/**
 * The quantile of the standard normal distribution.
 *
 * @param p between 0 and 1, both excluded
 * @example normalQuantile(0.975) // 1.959963984540054…
 */
export function normalQuantile(p: number): number {
  return normal.inv(p, 0, 1);
}
