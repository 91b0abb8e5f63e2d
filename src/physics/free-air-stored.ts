import { finiteOrNull } from './finite-or-null.js';
import { isMeasured } from './is-measured.js';
import { STANDARD_AIR } from './standard-air.js';

/** Air let into tanks, or out of them. */
export interface PressureStep {
  /** Gauge pressure before and after, psi, in either order. */
  readonly fromPsi: number;
  readonly toPsi: number;
  /** All tanks together, litres. */
  readonly tankLitres: number;
}

/**
 * The free air, in litres at 101.325 kPa and the temperature of the tank, between two gauge pressures: the tank's volume
 * times the step by the atmosphere. The difference of two gauge pressures needs no atmosphere added.
 *
 * Source: the receiver capacity formula, volume = free air x atmosphere / pressure drop (Compressed Air and Gas
 * Institute; US DOE MEASUR). Assumes an ideal gas and that the tank is as warm after as before.
 *
 * @returns litres of free air, not below zero; null where a number is negative or none
 * @example freeAirStored({ fromPsi: 100, toPsi: 110, tankLitres: 100 }) // 68.05 litres
 */
export function freeAirStored({ fromPsi, toPsi, tankLitres }: PressureStep): number | null {
  if (!isMeasured(fromPsi, toPsi, tankLitres)) return null;
  return finiteOrNull((tankLitres * Math.abs(toPsi - fromPsi)) / STANDARD_AIR.pressurePsi);
}
