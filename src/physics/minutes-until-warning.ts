import { finiteOrNull } from './finite-or-null.js';
import { isMeasured } from './is-measured.js';

/** A tank that leaks with the engine off. Gauge pressures, psi. */
export interface LeakingDown {
  /** Pressure now. */
  readonly fromPsi: number;
  /** Pressure at which the warning comes on. */
  readonly warningPsi: number;
  /** The leak as it was measured, psi a minute. */
  readonly lossPsiPerMin: number;
}

/**
 * Minutes until the low-air warning comes on, engine off, at the leak rate that was measured.
 *
 * Assumes that the rate stays as it is. A leak slows as the pressure falls, so the true time is longer (by about a
 * quarter from 100 to 60 psi through a hole that chokes): this is the time to count on.
 *
 * @returns minutes; 0 where the warning is on already; `never` without a leak; null where a number is negative or none
 * @example minutesUntilWarning({ fromPsi: 120, warningPsi: 60, lossPsiPerMin: 3 }) // 20
 */
export function minutesUntilWarning({ fromPsi, warningPsi, lossPsiPerMin }: LeakingDown): number | 'never' | null {
  if (!isMeasured(fromPsi, warningPsi, lossPsiPerMin)) return null;
  if (fromPsi <= warningPsi) return 0;
  return lossPsiPerMin === 0 ? 'never' : finiteOrNull((fromPsi - warningPsi) / lossPsiPerMin);
}
