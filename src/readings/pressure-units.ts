import { cleanCellText } from './clean-cell-text.js';

/** A unit a gauge of ours may be marked in. Every pressure is a gauge pressure. */
export type PressureUnit = 'psi' | 'kPa' | 'bar';

/**
 * How many psi make one of each unit. From the exact definitions lb = 0.45359237 kg, g = 9.80665 m/s² and
 * in = 0.0254 m (NIST SP 811, Appendix B); 1 bar = 100 kPa.
 */
export const PSI_PER: Readonly<Record<PressureUnit, number>> = {
  psi: 1,
  kPa: 0.14503773773020923,
  bar: 14.50377377302092,
};

const SPELLINGS: ReadonlyMap<string, PressureUnit> = new Map<string, PressureUnit>([
  ...(['psi', 'psig', 'psi(g)', 'lb', 'lbs', 'lbf', '#', 'pound', 'pounds', 'lb/in2', 'lbs/in2', 'lbf/in2', 'lb/in²', 'lbs/in²',
    'lbf/in²', 'lb/sqin', 'lbs/sqin', 'poundspersquareinch'] as const).map((spelling) => [spelling, 'psi'] as const),
  ...(['kpa', 'kpag', 'kpa(g)', 'kilopascal', 'kilopascals'] as const).map((spelling) => [spelling, 'kPa'] as const),
  ...(['bar', 'bars', 'barg', 'bar(g)'] as const).map((spelling) => [spelling, 'bar'] as const),
]);

/**
 * Converts a gauge pressure, or a difference of pressures, to psi.
 *
 * @example
 * toPsi(100, 'kPa') // 14.503773773020923
 */
export function toPsi(value: number, unit: PressureUnit): number {
  return value * PSI_PER[unit];
}

/**
 * Converts a gauge pressure, or a difference of pressures, from psi.
 *
 * @example
 * fromPsi(14.50377377302092, 'bar') // 1
 */
export function fromPsi(psi: number, unit: PressureUnit): number {
  return psi / PSI_PER[unit];
}

/**
 * Converts a gauge pressure, or a difference of pressures, from one unit to another, without rounding.
 *
 * @example
 * convertPressure(7.2, 'bar', 'kPa') // 720
 */
export function convertPressure(value: number, from: PressureUnit, to: PressureUnit): number {
  if (from === to) return value;
  if (from === 'bar' && to === 'kPa') return value * 100;
  if (from === 'kPa' && to === 'bar') return value / 100;
  return fromPsi(toPsi(value, from), to);
}

/**
 * Reads the name of a pressure unit in its usual spellings (`PSI`, `p.s.i.`, `lbs`, `#`, `KPA`, `bars`).
 *
 * @returns `null` where the text is no unit of ours, such as `MPa`, `kgf/cm2` or `psia`
 *
 * @example
 * parsePressureUnit('p.s.i.') // 'psi'
 */
export function parsePressureUnit(text: string): PressureUnit | null {
  return SPELLINGS.get(cleanCellText(text).toLowerCase().replace(/[ .]/g, '')) ?? null;
}
