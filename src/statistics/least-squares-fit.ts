/** A straight line fitted by least squares, with what its confidence bound needs. */
export interface LeastSquaresFit {
  /** In units of y for one unit of x. */
  readonly slope: number;
  /** The height of the line at x = 0, in units of y. */
  readonly intercept: number;
  /** The standard deviation of y about the line, with n - 2 degrees of freedom. */
  readonly residualSd: number;
  readonly meanX: number;
  /** The sum of squares of x about its mean. */
  readonly sxx: number;
  readonly n: number;
}

/**
 * The least-squares line of y on x, with sums taken about the means. Null for fewer than three points, where all x are
 * equal, or where a value is no finite number.
 *
 * @param x the times
 * @param y the values, one for each x
 * @example leastSquaresFit([0, 1, 2], [1, 2, 3]) // { slope: 1, intercept: 1, residualSd: 0, meanX: 1, sxx: 2, n: 3 }
 */
export function leastSquaresFit(x: readonly number[], y: readonly number[]): LeastSquaresFit | null {
  const n = x.length;
  if (n < 3 || y.length !== n || x.every((value) => value === x[0])) return null;
  const [meanX, meanY] = [mean(x), mean(y)];
  let [sxx, sxy] = [0, 0];
  x.forEach((value, i) => {
    sxx += (value - meanX) ** 2;
    sxy += (value - meanX) * (y[i]! - meanY);
  });
  const slope = sxy / sxx;
  const squares = x.reduce((total, value, i) => total + (y[i]! - meanY - slope * (value - meanX)) ** 2, 0);
  const fit = { slope, intercept: meanY - slope * meanX, residualSd: Math.sqrt(squares / (n - 2)), meanX, sxx, n };
  return Object.values(fit).every(Number.isFinite) ? fit : null;
}

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
