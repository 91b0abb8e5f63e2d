import { toPsi, type PressureUnit } from '../readings/pressure-units.js';
import { FACTS_USED } from './facts-used.js';

/** A gauge as it is marked. */
export interface GaugeScale {
  /** The pressure between two marks. */
  readonly step: number;
  /** The unit of the step; psi unless told. */
  readonly unit?: PressureUnit;
  /** Whether it shows figures; unless told, a gauge with a step of 2 psi or finer is taken to. */
  readonly digital?: boolean;
}

/** What can be told on a gauge, in the unit of its step. */
export interface Readability {
  readonly readableTo: number;
  readonly digital: boolean;
}

/**
 * The smallest pressure difference that can be told on a gauge: the step of a digital one; of a dial 0.12 of the step, about one
 * needle's width (common practice, no source).
 *
 * @returns null where the step is not above zero
 * @example readableTo({ step: 25 }) // { readableTo: 3, digital: false }
 * @example readableTo({ step: 10, unit: 'kPa' }) // { readableTo: 10, digital: true }
 */
export function readableTo({ step, unit = 'psi', digital = toPsi(step, unit) <= factUsed('digital_step') }: GaugeScale): Readability | null {
  if (!(step > 0 && Number.isFinite(step))) return null;
  return { readableTo: digital ? step : step * factUsed('needle_share'), digital };
}

function factUsed(name: string): number {
  return FACTS_USED.find(({ fact }) => fact === name)!.value;
}
