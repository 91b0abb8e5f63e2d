import type { LeastSquaresFit } from './least-squares-fit.js';
import { studentTQuantile } from './student-t-quantile.js';

/** Which bound meets the limit, at what level, and from where on. */
export interface BoundCrossingOptions {
  /** `upper`: the upper bound rises to the limit. `lower`: the lower bound falls to it. */
  readonly side: 'upper' | 'lower';
  /** One-sided level; 0.95 unless told. */
  readonly confidence?: number;
  /** The x of today: nothing before it is an answer. */
  readonly from: number;
}

/**
 * Where the one-sided confidence bound of a fitted mean meets a limit (the method of ICH Q1E): the first x, not before
 * `from`, at which intercept + slope x +- t s sqrt(1/n + (x - mean)^2 / sxx) equals the limit. Solved in closed form.
 * `already reached` where the bound lies beyond the limit at `from`; null where it never gets there.
 *
 * With few points a bound meets the limit some day even on a flat line: ask only where a trend is shown.
 *
 * @param fit the line; x and y in its units
 * @param limit in the unit of y
 * @returns x in the unit of the fit
 * @example boundCrossing(fit, 95, { side: 'lower', from: 24 }) // 25.9957631931… (LeBlond, Griffith and Aubuchon 2011)
 */
export function boundCrossing(fit: LeastSquaresFit, limit: number, { side, confidence = 0.95, from }: BoundCrossingOptions): number | 'already reached' | null {
  // A lower bound is an upper bound upside down.
  const sign = side === 'upper' ? 1 : -1;
  const slope = sign * fit.slope;
  const room = sign * (limit - fit.intercept - fit.slope * fit.meanX);
  const t = studentTQuantile(confidence, fit.n - 2) * fit.residualSd;
  const [atMean, perX] = [t / Math.sqrt(fit.n), t / Math.sqrt(fit.sxx)];
  const start = from - fit.meanX;
  if (slope * start + Math.hypot(atMean, perX * start) > room) return 'already reached';
  // Squared: a u^2 + 2 b u + c = 0 with u = x - mean. The bound is convex in u and not above the limit at the start, so
  // it is the root (-b + root) / a that solves the unsquared equation from there on; the other one is either behind the
  // start or belongs to the opposite bound.
  const a = (perX - slope) * (perX + slope);
  const b = slope * room;
  const c = (atMean - room) * (atMean + room);
  if (a <= 0 && slope <= 0) return null;
  const root = t * Math.sqrt(Math.max(0, (room ** 2 + ((slope - perX) * (slope + perX) * fit.sxx) / fit.n) / fit.sxx));
  const u = b > 0 ? -c / (b + root) : (root - b) / a;
  const x = fit.meanX + u;
  return Number.isFinite(x) ? Math.max(from, x) : null;
}
