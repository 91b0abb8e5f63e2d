import type { Entry } from '../readings/inspection.js';
import { toPsi, type PressureUnit } from '../readings/pressure-units.js';

/** What the last digits of readings on a gauge can be. */
export interface ExpectedDigits {
  /** The last digits that can be read, all alike probable. */
  readonly possible: readonly number[];
  /** What a step of the last digit is worth, in the unit of the gauge. */
  readonly grid: number;
  readonly gauge: string;
}

/** A step in psi at or below which a gauge is digital; see the facts used by the limit sets. */
const DIGITAL_STEP = 2;

/**
 * The last digits to expect on a gauge. A digital gauge shows multiples of its step. On a dial whole units can be told
 * where a needle's width (0.12 of the step) is under half of ten units; on a coarser one people read in fives and tens,
 * and the last digit says nothing. Null where the gauge is not known or its digits say nothing. Common practice, no source.
 *
 * @example digitsOf('kPa', 5, null) // { possible: [0, 5], … }
 */
export function digitsOf(unit: string, step: Entry, readable: Entry): ExpectedDigits | null {
  if (typeof step !== 'number' || step <= 0) return null;
  const grid = unit === 'bar' ? 0.1 : 1;
  const inGrid = step / grid;
  if (toPsi(step, unit as PressureUnit) <= DIGITAL_STEP) {
    const whole = Math.round(inGrid);
    if (whole < 1 || Math.abs(inGrid - whole) > 1e-6 || 10 % whole !== 0) return null;
    const possible = Array.from({ length: 10 / whole }, (_, index) => index * whole);
    return possible.length < 2 ? null : { possible, grid, gauge: `a digital gauge with steps of ${step} ${unit}` };
  }
  const width = typeof readable === 'number' ? readable : 0.12 * step;
  if (width / grid >= 5) return null;
  return { possible: [0, 1, 2, 3, 4, 5, 6, 7, 8, 9], grid, gauge: `a dial with steps of ${step} ${unit}` };
}
