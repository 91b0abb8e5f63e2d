/** A unit that a limit may be printed in: the unit of measures that it converts to, and the factor, a number or a fact used. */
export interface LimitUnit {
  readonly measureUnit: string;
  readonly factor: number | 'psi_per_kPa' | 'psi_per_bar';
}

/** Every unit of limits and measures. */
export const LIMIT_UNITS: ReadonlyMap<string, LimitUnit> = new Map<string, LimitUnit>([
  ['psi', { measureUnit: 'psi', factor: 1 }],
  ['kPa', { measureUnit: 'psi', factor: 'psi_per_kPa' }],
  ['bar', { measureUnit: 'psi', factor: 'psi_per_bar' }],
  ['psi/min', { measureUnit: 'psi/min', factor: 1 }],
  ['kPa/min', { measureUnit: 'psi/min', factor: 'psi_per_kPa' }],
  ['bar/min', { measureUnit: 'psi/min', factor: 'psi_per_bar' }],
  ['s', { measureUnit: 's', factor: 1 }],
  ['min', { measureUnit: 's', factor: 60 }],
  ['psi/s', { measureUnit: 'psi/s', factor: 1 }],
  ['kPa/s', { measureUnit: 'psi/s', factor: 'psi_per_kPa' }],
  ['share', { measureUnit: 'share', factor: 1 }],
  ['%', { measureUnit: 'share', factor: 0.01 }],
  ['', { measureUnit: '', factor: 1 }],
]);
