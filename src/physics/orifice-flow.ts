import { finiteOrNull } from './finite-or-null.js';
import { isMeasured } from './is-measured.js';
import { unitFlow, type HoleConditions } from './unit-flow.js';

/**
 * The flow through a round hole, as an orifice table gives it.
 *
 * @param diameterMm diameter of the hole, millimetres
 * @returns litres of free air a minute; null where a number is negative or none
 * @example orificeFlow(1, { gaugePsi: 100 }) // 47.5 L/min: a one millimetre hole with a sharp edge
 */
export function orificeFlow(diameterMm: number, conditions: HoleConditions): number | null {
  const flow = unitFlow(conditions);
  if (flow === null || !isMeasured(diameterMm)) return null;
  const litres = (flow.litresPerMinPerMm2 * Math.PI * diameterMm ** 2) / 4;
  return finiteOrNull(litres);
}
