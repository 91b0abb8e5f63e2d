import { isMeasured } from './is-measured.js';
import { unitFlow, type HoleConditions, type UnitFlow } from './unit-flow.js';

/** The hole that would leak as much. */
export interface EquivalentHole {
  readonly diameterMm: number;
  readonly areaMm2: number;
  readonly kind: UnitFlow['kind'];
}

/**
 * The one round, sharp-edged hole that would leak as much as was measured: a picture of the leak's size, not of its shape.
 * A worn seat or ten loose fittings together may leak like it.
 *
 * Source and assumptions: see `unitFlow`; the temperature enters as its square root, so that 30 degrees more or less move
 * the diameter by 3 %.
 *
 * @param flowLPerMin litres of free air a minute, from `freeAirFlow`
 * @returns a leak of zero has a hole of zero; null where a number is negative or none, or the tank holds no pressure
 * @example equivalentHole(20.41, { gaugePsi: 100 }) // { diameterMm: 0.655…, areaMm2: 0.337…, kind: 'choked' }
 */
export function equivalentHole(flowLPerMin: number, conditions: HoleConditions): EquivalentHole | null {
  const flow = unitFlow(conditions);
  if (flow === null || !isMeasured(flowLPerMin) || flow.litresPerMinPerMm2 === 0) return null;
  const areaMm2 = flowLPerMin / flow.litresPerMinPerMm2;
  return Number.isFinite(areaMm2) ? { diameterMm: Math.sqrt((4 * areaMm2) / Math.PI), areaMm2, kind: flow.kind } : null;
}
