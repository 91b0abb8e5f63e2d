import { COMPUTED_PREFIX } from '../readings/table-names.js';

/** The defined name of a cell of the sheet Limits: `limit:released_loss:1` is `limit_released_loss_1`. */
export function cellName(name: string): string {
  return name.replaceAll(':', '_');
}

/** The defined name of the data of a column of the sheet Readings: `unit` is `readings_unit`, `computed.verdict` is `computed_verdict`. */
export function columnRangeName(column: string): string {
  return column.startsWith(COMPUTED_PREFIX) ? column.replace('.', '_') : `readings_${column}`;
}
