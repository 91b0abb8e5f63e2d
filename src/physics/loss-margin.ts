import { finiteOrNull } from './finite-or-null.js';
import { isMeasured } from './is-measured.js';

/** The one-sided 95 % quantile of the normal distribution (JCGM 106:2012, Table 1: 1.64). */
export const SURE_Z = 1.6448536269514722;

/** A leak test and the gauge that it is read on. Pressures in any unit, so long as all are in the same. */
export interface LeakTest {
  /** The most that may be lost a minute. */
  readonly limitPerMin: number;
  /** The smallest difference that can be told on the gauge (see `readableTo`). */
  readonly readableTo: number;
  /** Standard deviations that make a verdict sure; 1.645, for 95 %, unless told. */
  readonly sureZ?: number;
}

/**
 * By how much the two readings of a loss may miss it, at the level asked for: z times r / sqrt(6). It does not grow with the
 * time, which is why a longer hold decides. Null where a number is negative or none.
 *
 * Source: each reading is uniform over its readability r, u = r / sqrt(12) (JCGM 100:2008, 4.3.7 and F.2.2.1), and two of them
 * are independent; the level is the normal one of JCGM 106:2012.
 *
 * @returns in the unit of `readableTo`
 * @example lossMargin({ readableTo: 3 }) // 2.01
 */
export function lossMargin({ readableTo, sureZ = SURE_Z }: Pick<LeakTest, 'readableTo' | 'sureZ'>): number | null {
  return isMeasured(readableTo, sureZ) ? finiteOrNull((sureZ * readableTo) / Math.sqrt(6)) : null;
}
