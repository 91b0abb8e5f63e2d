import { finiteOrNull } from './finite-or-null.js';
import { isMeasured } from './is-measured.js';
import { lossMargin, type LeakTest } from './loss-margin.js';

/**
 * How long to hold a leak test until a loss at that rate is told from its limit with 95 % confidence: a pass below the limit,
 * a fail above it.
 *
 * Source and assumptions: see {@link lossMargin}; the hold is margin / |limit - loss|. The rate is taken as steady: over a long
 * hold it falls with the pressure.
 *
 * @param lossPerMin the rate a minute; 0 asks after which time a needle that has not moved is a pass
 * @returns minutes; null at the limit itself, which no hold decides, or where a number is negative or none
 * @example holdToDecide(0, { limitPerMin: 3, readableTo: 3 }) // 0.67 minutes
 * @example holdToDecide(2.4, { limitPerMin: 3, readableTo: 3 }) // 3.36 minutes
 */
export function holdToDecide(lossPerMin: number, { limitPerMin, ...gauge }: LeakTest): number | null {
  const margin = lossMargin(gauge);
  if (margin === null || !isMeasured(lossPerMin, limitPerMin)) return null;
  return finiteOrNull(margin / Math.abs(limitPerMin - lossPerMin));
}
