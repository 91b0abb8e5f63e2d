import { riseOf, type BuildupTest } from './buildup-test.js';
import { finiteOrNull } from './finite-or-null.js';
import { isMeasured } from './is-measured.js';

/**
 * How much of a slow build-up the leak that was measured explains. The rise of pressure is what the compressor delivers less
 * what leaks; so the rise that was lost since the good test is delivery lost and leak gained, and the leak's part is
 * (leak now - leak then) / (rise then - rise now), all in psi a minute.
 *
 * Source: conservation of air. Assumes the same engine speed and tanks in both tests, and that delivery and leak do not change
 * with pressure. The volume of the tanks drops out.
 *
 * @param good an earlier test that was good, with its leak
 * @param now the slow test, with the leak of today
 * @returns 0.6 where it explains 60 %; above 1 where it would explain more than was lost, below 0 where it leaked more when
 *   it was good; null where the build-up is no slower than it was, or a test has no rise
 * @example leakShareOfSlowBuildup({ fromPsi: 85, toPsi: 100, seconds: 30, lossPsiPerMin: 0 }, { fromPsi: 85, toPsi: 100, seconds: 45, lossPsiPerMin: 6 }) // 0.6
 */
export function leakShareOfSlowBuildup(good: BuildupTest, now: BuildupTest): number | null {
  const [before, after] = [riseOf(good), riseOf(now)];
  const { lossPsiPerMin: leakBefore = 0 } = good;
  const { lossPsiPerMin: leakNow = 0 } = now;
  if (before === null || after === null || before <= after || !isMeasured(leakBefore, leakNow)) return null;
  return finiteOrNull((leakNow - leakBefore) / (before - after));
}
