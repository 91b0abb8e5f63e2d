import { COMPUTED_PREFIX } from '../readings/table-names.js';

/** The defined name of a cell of the sheet Limits: `limit:released_loss:1` is `limit_released_loss_1`. */
export function cellName(name: string): string {
  return name.replaceAll(':', '_');
}

/**
 * The defined name of the data of a column of the sheet Readings: `unit` is `readings_unit`, `computed.verdict` is `computed_verdict`. On a sheet on
 * which the readings go on it bears that sheet's number: `readings_2_unit`, `computed_2_verdict`.
 */
export function columnRangeName(column: string, part = 1): string {
  const number = part === 1 ? '' : `${part}_`;
  return column.startsWith(COMPUTED_PREFIX) ? `computed_${number}${column.slice(COMPUTED_PREFIX.length)}` : `readings_${number}${column}`;
}
