import { finiteOrNull } from './finite-or-null.js';
import { isMeasured } from './is-measured.js';
import { STANDARD_AIR } from './standard-air.js';

/** A leak as the gauge shows it. */
export interface LeakInTank {
  /** Loss of pressure, psi a minute. A difference of gauge readings: no atmosphere is added. */
  readonly lossPsiPerMin: number;
  /** All tanks that lose it together, litres. */
  readonly tankLitres: number;
}

/**
 * The leak as a flow of free air: litres a minute at 101.325 kPa and the temperature of the tank.
 *
 * Source: the pressure-drop test, flow = volume x drop / (atmosphere x time) (NAVFAC MO-209, section 5; 40 CFR 1065.644).
 * Assumes an ideal gas, tanks that stay as warm as they are, and that the volume holds all the air that is lost.
 *
 * @returns litres of free air a minute; null where a number is negative or none, or the volume is zero
 * @example freeAirFlow({ lossPsiPerMin: 3, tankLitres: 100 }) // 20.41 L/min
 */
export function freeAirFlow({ lossPsiPerMin, tankLitres }: LeakInTank): number | null {
  if (!isMeasured(lossPsiPerMin, tankLitres) || tankLitres === 0) return null;
  return finiteOrNull((tankLitres * lossPsiPerMin) / STANDARD_AIR.pressurePsi);
}
