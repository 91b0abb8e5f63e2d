import { PSI_PER } from '../readings/pressure-units.js';

/** A unit that a limit may be printed in: the unit of measures that it converts to, and what a number in it is multiplied by. */
export interface LimitUnit {
  readonly measureUnit: string;
  /** A number, or a fact used. */
  readonly factor: number | 'psi_per_kPa' | 'psi_per_bar';
  /** A power of ten that the factor is multiplied by; 1 where it is left out. */
  readonly times?: number;
  /** Minutes over which the limit is printed; 1 where it is left out. */
  readonly minutes?: number;
}

/** Every unit of limits and measures. */
export const LIMIT_UNITS: ReadonlyMap<string, LimitUnit> = new Map<string, LimitUnit>([
  ['psi', { measureUnit: 'psi', factor: 1 }],
  ['kPa', { measureUnit: 'psi', factor: 'psi_per_kPa' }],
  ['bar', { measureUnit: 'psi', factor: 'psi_per_bar' }],
  ['MPa', { measureUnit: 'psi', factor: 'psi_per_kPa', times: 1000 }],
  ['psi/min', { measureUnit: 'psi/min', factor: 1 }],
  ['kPa/min', { measureUnit: 'psi/min', factor: 'psi_per_kPa' }],
  ['bar/min', { measureUnit: 'psi/min', factor: 'psi_per_bar' }],
  ['psi in 5 min', { measureUnit: 'psi/min', factor: 1, minutes: 5 }],
  ['MPa in 15 min', { measureUnit: 'psi/min', factor: 'psi_per_kPa', times: 1000, minutes: 15 }],
  ['MPa in 30 min', { measureUnit: 'psi/min', factor: 'psi_per_kPa', times: 1000, minutes: 30 }],
  ['s', { measureUnit: 's', factor: 1 }],
  ['min', { measureUnit: 's', factor: 60 }],
  ['psi/s', { measureUnit: 'psi/s', factor: 1 }],
  ['kPa/s', { measureUnit: 'psi/s', factor: 'psi_per_kPa' }],
  ['bar/s', { measureUnit: 'psi/s', factor: 'psi_per_bar' }],
  ['share', { measureUnit: 'share', factor: 1 }],
  ['%', { measureUnit: 'share', factor: 0.01 }],
  ['', { measureUnit: '', factor: 1 }],
]);

/** What a number in a unit is multiplied by for the unit of the measure. */
export function unitFactorNumber(unit: string): number {
  const { factor, times = 1, minutes = 1 } = LIMIT_UNITS.get(unit)!;
  const one = factor === 'psi_per_kPa' ? PSI_PER.kPa : factor === 'psi_per_bar' ? PSI_PER.bar : factor;
  return (one * times) / minutes;
}
