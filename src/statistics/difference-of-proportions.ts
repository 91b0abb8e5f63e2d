import type { Proportion } from './proportion.js';
import { wilsonInterval } from './wilson-interval.js';

/** A difference of two proportions and its 95 % interval, each between -1 and 1. */
export interface DifferenceOfProportions {
  readonly difference: number;
  readonly low: number;
  readonly high: number;
}

/**
 * The difference a - b of two failure rates with a 95 % interval, by Newcombe's hybrid score method without continuity
 * correction (Statistics in Medicine 17 (1998) 873-890, method 10). Null where either has no tests.
 *
 * @example differenceOfProportions({ failed: 56, tested: 70 }, { failed: 48, tested: 80 }) // { difference: 0.2, low: 0.0524…, high: 0.3339… }
 */
export function differenceOfProportions(a: Proportion, b: Proportion): DifferenceOfProportions | null {
  const [ofA, ofB] = [wilsonInterval(a.failed, a.tested), wilsonInterval(b.failed, b.tested)];
  if (!ofA || !ofB) return null;
  const [rateA, rateB] = [a.failed / a.tested, b.failed / b.tested];
  const difference = rateA - rateB;
  return {
    difference,
    low: Math.max(-1, difference - Math.hypot(rateA - ofA.low, ofB.high - rateB)),
    high: Math.min(1, difference + Math.hypot(ofA.high - rateA, rateB - ofB.low)),
  };
}
