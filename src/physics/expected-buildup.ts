import { COMMON_SPAN } from './buildup-over-span.js';
import { deliveryOf, type BuildupTest } from './buildup-test.js';
import { finiteOrNull } from './finite-or-null.js';
import { isMeasured } from './is-measured.js';

/** Over which span, and with what leak now. */
export interface ExpectedBuildupOptions {
  /** Gauge pressures, psi; 85 to 100 unless told. */
  readonly fromPsi?: number;
  readonly toPsi?: number;
  /** The leak as it is now, psi a minute; zero unless told. */
  readonly lossPsiPerMin?: number;
}

/**
 * The build-up time that the same compressor, at the same engine speed and on the same tanks, should take, from an earlier
 * test that was good. What it delivered then, the rise and the leak of that day together, less the leak of today, is the rise
 * to expect.
 *
 * Source: conservation of air; the volume of the tanks drops out. Assumes that delivery and leak do not change with pressure.
 *
 * @param good the earlier test
 * @returns seconds; `never` where the leak takes all that the compressor delivers; null where an end does not lie above its
 *   start, or a number is negative or none
 * @example expectedBuildup({ fromPsi: 85, toPsi: 100, seconds: 30 }) // 30
 * @example expectedBuildup({ fromPsi: 85, toPsi: 100, seconds: 30 }, { lossPsiPerMin: 6 }) // 37.5: 24 psi a minute are left of 30
 */
export function expectedBuildup(good: BuildupTest, { fromPsi = COMMON_SPAN.fromPsi, toPsi = COMMON_SPAN.toPsi, lossPsiPerMin = 0 }: ExpectedBuildupOptions = {}): number | 'never' | null {
  const delivery = deliveryOf(good);
  if (delivery === null || !isMeasured(fromPsi, toPsi, lossPsiPerMin) || toPsi <= fromPsi) return null;
  const rise = delivery - lossPsiPerMin;
  return rise <= 0 ? 'never' : finiteOrNull((60 * (toPsi - fromPsi)) / rise);
}
