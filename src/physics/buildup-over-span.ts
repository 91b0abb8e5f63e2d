import { riseOf, type BuildupTest } from './buildup-test.js';
import { finiteOrNull } from './finite-or-null.js';
import { isMeasured } from './is-measured.js';

/** The span that build-ups are brought to: the one of 49 CFR 571.121, S5.1.1, psi. */
export const COMMON_SPAN = { fromPsi: 85, toPsi: 100 } as const;

/**
 * The time that a build-up would have taken over another span, so that tests with different ends compare: in proportion to
 * the pressure gained.
 *
 * Assumes the same rise at every pressure. A piston compressor delivers somewhat less against a higher pressure, so a test from
 * low pressures gives a time that is a little short; the nearer the spans, the better. Pressures may be gauge or absolute, in
 * any unit, so long as all are the same: only their differences count.
 *
 * @returns seconds; null where an end does not lie above its start, or a number is negative or none
 * @example buildupOverSpan({ fromPsi: 50, toPsi: 90, seconds: 160 }) // 60 s from 85 to 100 psi
 */
export function buildupOverSpan(test: BuildupTest, { fromPsi, toPsi }: Pick<BuildupTest, 'fromPsi' | 'toPsi'> = COMMON_SPAN): number | null {
  if (riseOf(test) === null || !isMeasured(fromPsi, toPsi) || toPsi <= fromPsi) return null;
  return finiteOrNull((test.seconds * (toPsi - fromPsi)) / (test.toPsi - test.fromPsi));
}
