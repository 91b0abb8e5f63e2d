import { isMeasured } from './is-measured.js';
import { PASCALS_PER_PSI, STANDARD_AIR, ZERO_CELSIUS_K } from './standard-air.js';

/** Part of the ideal flow that goes through a sharp-edged hole (Compressed Air and Gas Institute: 0.65; well rounded: 0.97). */
export const SHARP_EDGED = 0.65;

/**
 * Air before the hole over air behind it at which the flow chokes: below this ratio of the two absolute pressures it no longer
 * depends on the air behind. (2 / 2.4)^3.5 = 0.528.
 */
export const CRITICAL_RATIO = (2 / (STANDARD_AIR.heatRatio + 1)) ** (STANDARD_AIR.heatRatio / (STANDARD_AIR.heatRatio - 1));

/** What air passes a hole under. */
export interface HoleConditions {
  /** Gauge pressure in the tank, psi. */
  readonly gaugePsi: number;
  /** Temperature of the tank and of the free air, degrees Celsius; 20 unless told. */
  readonly temperatureC?: number;
  /** Pressure of the air outside, psi absolute; the standard atmosphere unless told (see `atmosphericPressure`). */
  readonly atmospherePsi?: number;
  /** Part of the ideal flow that passes; 0.65, a sharp edge, unless told. */
  readonly coefficient?: number;
}

/** A flow through one square millimetre of hole, and its kind. */
export interface UnitFlow {
  /** Litres of free air a minute, at 101.325 kPa and the same temperature, for each square millimetre. */
  readonly litresPerMinPerMm2: number;
  /** `choked` at or below the critical ratio, as in every in-cab test above 13.1 psi at sea level. */
  readonly kind: 'choked' | 'subcritical';
}

/**
 * Flow of an ideal gas out of a tank through a hole of one square millimetre.
 *
 * Source: one-dimensional isentropic flow. Choked: C A p0 sqrt(k / (R T)) (2 / (k + 1))^((k + 1) / (2 (k - 1))); the
 * orifice tables of the Compressed Air and Gas Institute (Moss's formula) are within 0.4 % of it. Subcritical: the same with
 * the pressure ratio in the place of the critical one. Assumes that the coefficient is the same in both, and steady flow.
 *
 * @returns null where a number is negative or none
 * @example unitFlow({ gaugePsi: 100, coefficient: 1 }) // { litresPerMinPerMm2: 93.0…, kind: 'choked' }
 */
export function unitFlow({ gaugePsi, temperatureC = 20, atmospherePsi = STANDARD_AIR.pressurePsi, coefficient = SHARP_EDGED }: HoleConditions): UnitFlow | null {
  const kelvin = temperatureC + ZERO_CELSIUS_K;
  if (!isMeasured(gaugePsi, kelvin, atmospherePsi, coefficient) || kelvin === 0) return null;
  const { heatRatio: k, gasConstant, pressureKpa } = STANDARD_AIR;
  const before = gaugePsi + atmospherePsi;
  const ratio = atmospherePsi / before;
  const choked = ratio <= CRITICAL_RATIO;
  const shape = choked ? Math.sqrt(k) * (2 / (k + 1)) ** ((k + 1) / (2 * (k - 1))) : Math.sqrt(((2 * k) / (k - 1)) * (ratio ** (2 / k) - ratio ** ((k + 1) / k)));
  // kg/s through 1e-6 m2, then litres a minute of free air: mass R T / p.
  const mass = (coefficient * 1e-6 * before * PASCALS_PER_PSI * shape) / Math.sqrt(gasConstant * kelvin);
  const litresPerMinPerMm2 = (mass * gasConstant * kelvin * 60) / pressureKpa;
  return Number.isFinite(litresPerMinPerMm2) ? { litresPerMinPerMm2, kind: choked ? 'choked' : 'subcritical' } : null;
}
