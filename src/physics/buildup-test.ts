import { isMeasured } from './is-measured.js';

/** A timed build-up. Pressures are gauge pressures in psi. */
export interface BuildupTest {
  readonly fromPsi: number;
  readonly toPsi: number;
  readonly seconds: number;
  /** The leak of the same tanks, psi a minute; zero unless told. */
  readonly lossPsiPerMin?: number;
}

/** The rise of a build-up in psi a minute; null for one that does not rise, or a number that is negative or none. */
export function riseOf({ fromPsi, toPsi, seconds }: BuildupTest): number | null {
  if (!isMeasured(fromPsi, toPsi, seconds)) return null;
  const rise = (60 * (toPsi - fromPsi)) / seconds;
  return Number.isFinite(rise) && rise > 0 ? rise : null;
}

/**
 * What the compressor would raise the tanks by if nothing leaked, psi a minute: the rise that was seen and the leak.
 * Null as for {@link riseOf}, or for a negative leak.
 */
export function deliveryOf(test: BuildupTest): number | null {
  const rise = riseOf(test);
  const { lossPsiPerMin = 0 } = test;
  return rise === null || !isMeasured(lossPsiPerMin) ? null : rise + lossPsiPerMin;
}
