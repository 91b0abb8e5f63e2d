import type { PressureUnit } from '../readings/pressure-units.js';

/** The number formats of a loss of pressure by the unit in which it is shown, with about as many digits that tell in each. */
export const LOSS_FORMATS: Readonly<Record<PressureUnit, { readonly brief: string; readonly usual: string; readonly fine: string; readonly change: string }>> = {
  psi: { brief: '0.0', usual: '0.00', fine: '0.000', change: '+0.00;-0.00;0.00' },
  kPa: { brief: '0.0', usual: '0.0', fine: '0.00', change: '+0.0;-0.0;0.0' },
  bar: { brief: '0.00', usual: '0.000', fine: '0.0000', change: '+0.000;-0.000;0.000' },
};
