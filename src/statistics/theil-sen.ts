import { kendallVariance } from './kendall-variance.js';
import { normalQuantile } from './normal-quantile.js';
import { quantile } from './quantile.js';

/** A line through the middle of the slopes of all pairs. */
export interface TheilSen {
  /** The median slope, in units of y for one unit of x. */
  readonly slope: number;
  /** Conover's: the median of y less the slope times the median of x. */
  readonly intercept: number;
  /** The interval of the slope; both null where there are too few points for one. */
  readonly low: number | null;
  readonly high: number | null;
}

/**
 * The Theil-Sen line and the interval of its slope (Sen, Journal of the American Statistical Association 63 (1968)
 * 1379-1389; Gilbert (1987) 16.5 and p. 218, with ranks interpolated). Pairs of equal x are left out. The interval is
 * null where its ranks lie outside the slopes (at 95 % that is below six points), and where all y are equal. The whole
 * is null with fewer than two different x, or where a value is no finite number.
 *
 * @param x the times
 * @param y the values, one for each x
 * @param confidence two-sided level of the interval, between 0 and 1
 * @example theilSen([1, 2, 3, 4, 10, 12, 18], [9, 15, 19, 20, 45, 55, 78], 0.93) // { slope: 4, intercept: 4, low: 3.730…, high: 4.284… }
 */
export function theilSen(x: readonly number[], y: readonly number[], confidence = 0.95): TheilSen | null {
  if (x.length !== y.length || !x.every(Number.isFinite) || !y.every(Number.isFinite)) return null;
  const slopes: number[] = [];
  for (let j = 1; j < x.length; j++) {
    for (let i = 0; i < j; i++) if (x[i] !== x[j]) slopes.push((y[j]! - y[i]!) / (x[j]! - x[i]!));
  }
  const slope = quantile(slopes, 0.5);
  if (slope === null) return null;
  const intercept = quantile(y, 0.5)! - slope * quantile(x, 0.5)!;
  if (!Number.isFinite(intercept)) return null;
  return { slope, intercept, ...interval(slopes, kendallVariance(y, x), confidence) };
}

function interval(slopes: readonly number[], variance: number, confidence: number): { low: number | null; high: number | null } {
  const width = normalQuantile((1 + confidence) / 2) * Math.sqrt(variance);
  const lower = (slopes.length - width) / 2;
  if (!(lower >= 1) || variance === 0) return { low: null, high: null };
  const sorted = [...slopes].sort((a, b) => a - b);
  return { low: atRank(sorted, lower), high: atRank(sorted, (slopes.length + width) / 2 + 1) };
}

/** The value at a rank, counted from 1, interpolated between whole ranks. */
function atRank(sorted: readonly number[], rank: number): number {
  const below = Math.min(Math.floor(rank), sorted.length);
  const value = sorted[below - 1]!;
  const above = sorted[below] ?? value;
  return value + (rank - below) * (above - value);
}
