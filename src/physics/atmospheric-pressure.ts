import { PASCALS_PER_PSI } from './standard-air.js';

/** Sea level and the layer above it: pascals, kelvin, kelvin by metre, and g M / (R L). */
const SEA_LEVEL = { pascals: 101_325, kelvin: 288.15, lapse: 0.0065, exponent: (9.80665 * 28.9644) / (8314.32 * 0.0065) } as const;
/** The radius of the earth in metres that the standard turns an altitude into one of even gravity with. */
const EARTH = 6_356_766;
/** Bottom and top of the layer for which the formula is made, in metres of even gravity. */
const [LOWEST, HIGHEST] = [-5000, 11_000];

/**
 * The pressure of the air at an altitude, for turning a gauge pressure into an absolute one: a gauge shows the pressure
 * above the air around it, and high up there is less of that.
 *
 * Source: U.S. Standard Atmosphere, 1976, the layer up to 11 km. The weather moves it by a few per cent.
 *
 * @param altitudeM metres above the sea, as a map gives it: -4996 to 11 019
 * @returns psi, absolute; null outside that layer
 * @example atmosphericPressure(1524) // 12.228 psi, at 5000 ft
 */
export function atmosphericPressure(altitudeM: number): number | null {
  const height = (EARTH * altitudeM) / (EARTH + altitudeM);
  if (!(height >= LOWEST && height <= HIGHEST)) return null;
  const { pascals, kelvin, lapse, exponent } = SEA_LEVEL;
  return (pascals * (1 - (lapse * height) / kelvin) ** exponent) / PASCALS_PER_PSI;
}
