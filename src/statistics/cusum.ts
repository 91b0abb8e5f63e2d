/** What a CUSUM is judged against, in the unit of its values. */
export interface CusumDesign {
  readonly target: number;
  /** The slack: a departure of less than this gathers nothing. */
  readonly k: number;
  /** The decision limit: a sum above it is a signal. */
  readonly h: number;
}

/** The two sums after each value, and where they signal. */
export interface Cusum {
  readonly high: readonly number[];
  readonly low: readonly number[];
  /** Indices, from 0, of the values after which a sum lies above `h`. */
  readonly signals: readonly number[];
}

/** What floating point may add to a sum that stands exactly on the limit. */
const ROUNDING = 1e-12;

/**
 * The tabular CUSUM of a series: sums of what lies more than `k` above and below the target, never below 0
 * (NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.3). A sum exactly on `h` is no signal.
 *
 * @param values in the order of time
 * @example cusum([1, 4, 4], { target: 1, k: 1, h: 3 }) // { high: [0, 2, 4], low: [0, 0, 0], signals: [2] }
 */
export function cusum(values: readonly number[], { target, k, h }: CusumDesign): Cusum {
  const [high, low, signals]: [number[], number[], number[]] = [[], [], []];
  const above = h + ROUNDING * (Math.abs(h) + Math.abs(target) + Math.abs(k));
  let [up, down] = [0, 0];
  values.forEach((value, i) => {
    up = Math.max(0, up + (value - target) - k);
    down = Math.max(0, down - (value - target) - k);
    high.push(up);
    low.push(down);
    if (up > above || down > above) signals.push(i);
  });
  return { high, low, signals };
}
