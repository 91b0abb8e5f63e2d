/** d2 of ranges of two, as the handbook prints it. */
const D2 = 1.128;

/** The lines of a control chart of single values, in their unit. */
export interface IndividualsChart {
  readonly centre: number;
  /** The standard deviation, from the mean moving range. */
  readonly sigma: number;
  readonly upper: number;
  readonly lower: number;
  readonly meanMovingRange: number;
}

/**
 * A control chart of individuals and moving ranges: the mean, and limits three sigma to both sides, with sigma the mean
 * moving range by 1.128 (NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2). A value exactly on a limit is not
 * outside. Null for fewer than two values, or where one is no finite number.
 *
 * @param values in the order of time
 * @example individualsChart([49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]) // centre 50.81, upper 55.8041, lower 45.8159
 */
export function individualsChart(values: readonly number[]): IndividualsChart | null {
  const n = values.length;
  if (n < 2 || !values.every(Number.isFinite)) return null;
  const ranges = values.slice(1).reduce((sum, value, i) => sum + Math.abs(value - values[i]!), 0);
  // Equal values have themselves as their mean, without a rounding.
  const centre = ranges === 0 ? values[0]! : values.reduce((sum, value) => sum + value, 0) / n;
  const meanMovingRange = ranges / (n - 1);
  const sigma = meanMovingRange / D2;
  return { centre, sigma, upper: centre + 3 * sigma, lower: centre - 3 * sigma, meanMovingRange };
}
