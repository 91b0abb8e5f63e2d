import { isMeasured } from './is-measured.js';
import { lossMargin, type LeakTest } from './loss-margin.js';

/** What may be lost over the whole hold for either verdict to be sure. */
export interface SureLosses {
  /** A pass is sure when no more than this was lost; null where even an unmoved needle does not make it sure. */
  readonly passAtMost: number | null;
  /** A fail is sure when at least this was lost. */
  readonly failAtLeast: number;
}

/**
 * The losses that decide a test held for so long: at most the one is a sure pass, at least the other a sure fail; between
 * them the gauge is too coarse.
 *
 * Source and assumptions: see {@link lossMargin}.
 *
 * @param minutes how long the test is held
 * @returns in the unit of the limit, over the whole hold; null where a number is negative or none, or the time is zero
 * @example sureLosses(2, { limitPerMin: 3, readableTo: 3 }) // { passAtMost: 3.99, failAtLeast: 8.01 }
 */
export function sureLosses(minutes: number, { limitPerMin, ...gauge }: LeakTest): SureLosses | null {
  const margin = lossMargin(gauge);
  if (margin === null || !isMeasured(minutes, limitPerMin) || minutes === 0) return null;
  const atLimit = limitPerMin * minutes;
  const failAtLeast = atLimit + margin;
  if (!Number.isFinite(failAtLeast)) return null;
  return { passAtMost: atLimit >= margin ? atLimit - margin : null, failAtLeast };
}
