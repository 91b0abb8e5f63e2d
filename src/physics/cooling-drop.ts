import { finiteOrNull } from './finite-or-null.js';
import { isMeasured } from './is-measured.js';
import { STANDARD_AIR, ZERO_CELSIUS_K } from './standard-air.js';

/** A closed tank that changes its temperature. */
export interface CoolingTank {
  /** Gauge pressure at the first temperature, psi. */
  readonly gaugePsi: number;
  /** Temperature of the air in the tank before and after, degrees Celsius. */
  readonly fromC: number;
  readonly toC: number;
  /** Pressure of the air outside, psi absolute; the standard atmosphere unless told. */
  readonly atmospherePsi?: number;
}

/**
 * What a tank without any leak loses by cooling: its absolute pressure is in proportion to its absolute temperature. So much
 * of a loss may be faked by a tank that the compressor has just warmed.
 *
 * Source: the gas law at constant volume (Gay-Lussac), p2 = p1 T2 / T1. Assumes dry air and a rigid tank.
 *
 * @returns psi lost; below zero where the tank warms; null where the pressure is negative, a temperature is at or below
 *   absolute zero, or a number is none
 * @example coolingDrop({ gaugePsi: 100, fromC: 30, toC: 20 }) // 3.78 psi
 */
export function coolingDrop({ gaugePsi, fromC, toC, atmospherePsi = STANDARD_AIR.pressurePsi }: CoolingTank): number | null {
  const [before, after] = [fromC + ZERO_CELSIUS_K, toC + ZERO_CELSIUS_K];
  if (!isMeasured(gaugePsi, before, after, atmospherePsi) || before === 0 || after === 0) return null;
  return finiteOrNull((gaugePsi + atmospherePsi) * ((before - after) / before));
}
