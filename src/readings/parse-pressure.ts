import type { RawCell } from '../util/raw-table.js';
import { cleanCellText } from './clean-cell-text.js';
import { parseApproximate } from './parse-approximate.js';
import { parseNotMeasured } from './parse-not-measured.js';
import { parsePressureSpread } from './parse-pressure-spread.js';
import type { ParseResult } from './parse-result.js';
import { notUnderstood, understood } from './parse-result.js';
import type { PressureUnit } from './pressure-units.js';
import { convertPressure } from './pressure-units.js';

/** A gauge pressure as it was written down. */
export interface PressureReading {
  /** In the unit asked for, unrounded; the midpoint of a written range. */
  readonly value: number;
  /** Half the width of a written range, in the unit asked for; null where none was written. */
  readonly halfWidth: number | null;
  /** True for `~104`, `about 104` and the like. */
  readonly approximate: boolean;
  /** The unit written in the cell; null where none was. MPa counts as kPa. */
  readonly writtenUnit: PressureUnit | null;
}

/** How a pressure is to be understood. */
export interface PressureOptions {
  /** The unit of the row: that of a bare number, and that of the value returned. */
  readonly unit: PressureUnit;
}

const MAX_LENGTH = 80;
const NEVER = new Set(['never', 'never came on', 'did not come on', "didn't come on"]);
/** Words that may mean "it never came on" as well as "not tested". */
const DOUBTFUL = new Set(['none', 'no', 'n', 'nil', 'off', 'no light', 'no buzzer', 'no warning', 'dna', 'dnf', 'fail', 'failed']);

/**
 * Reads a gauge pressure as people write it: `104`, `104 psi`, `7.2 bar`, `720kPa`, `~104`, `104-108`,
 * `104±2`, with a decimal point or comma.
 *
 * @returns `null` for a blank cell; an understood `null` for a mark such as `n/a`. Exact where the cell holds
 * a single number in the unit asked for.
 *
 * @example
 * parsePressure('104-108', { unit: 'psi' })
 * // { ok: true, value: { value: 106, halfWidth: 2, approximate: false, writtenUnit: null }, exact: false }
 * parsePressure('7.2 bar', { unit: 'kPa' })
 * // { ok: true, value: { value: 720, halfWidth: null, approximate: false, writtenUnit: 'bar' }, exact: false }
 */
export function parsePressure(cell: RawCell, options: PressureOptions): ParseResult<PressureReading | null> | null {
  const expected = `a pressure in ${options.unit}, such as 104, 104-108 or ~104, or one with its unit, such as 104 psi, 720 kPa or 7.2 bar`;
  if (cell === null) return null;
  if (typeof cell === 'object') {
    return notUnderstood(expected, 'type the pressure again in a cell formatted as text: the spreadsheet turned it into a date or time');
  }
  if (typeof cell === 'boolean') return notUnderstood(expected);
  if (typeof cell === 'number') {
    if (!Number.isFinite(cell)) return notUnderstood(expected);
    if (cell < 0) return notUnderstood(expected, 'read the gauge again: a gauge pressure is not below zero');
    return understood({ value: cell === 0 ? 0 : cell, halfWidth: null, approximate: false, writtenUnit: null }, true);
  }

  const text = cleanCellText(cell);
  if (text === '') return null;
  const mark = parseNotMeasured(text);
  if (mark) return mark;
  if (text.length > MAX_LENGTH) return notUnderstood(expected);
  const { approximate, rest } = parseApproximate(text);
  const spread = parsePressureSpread(rest);
  if (!spread.ok) return notUnderstood(expected, spread.hint);

  const { value, halfWidth, unit } = spread.value;
  const writtenUnit = unit === 'MPa' ? 'kPa' : unit;
  const from = writtenUnit ?? options.unit;
  const inUnit = (written: number): number => convertPressure(unit === 'MPa' ? megapascalsInKPa(written) : written, from, options.unit);
  const reading: PressureReading = {
    value: inUnit(value),
    halfWidth: halfWidth === null ? null : inUnit(halfWidth),
    approximate,
    writtenUnit,
  };
  return understood(reading, spread.exact && !approximate && unit !== 'MPa' && from === options.unit);
}

/** A thousandfold, without the noise of binary fractions. */
function megapascalsInKPa(value: number): number {
  return Number((value * 1000).toPrecision(15));
}

/**
 * Reads the pressure at which a low-air warning came on: a pressure, or `never`.
 *
 * @returns as `parsePressure`, with `'never'` where the warning did not come on
 *
 * @example
 * parseWarningPressure('Never', { unit: 'psi' }) // { ok: true, value: 'never', exact: true }
 */
export function parseWarningPressure(
  cell: RawCell,
  options: PressureOptions,
): ParseResult<PressureReading | 'never' | null> | null {
  const text = typeof cell === 'string' ? cleanCellText(cell).toLowerCase() : '';
  if (NEVER.has(text)) return understood('never', true);
  const pressure = parsePressure(cell, options);
  if (pressure === null || pressure.ok) return pressure;
  const expected = `${pressure.expected}; or never`;
  if (DOUBTFUL.has(text) || cell === false) {
    return notUnderstood(expected, 'write never if the warning did not come on; leave the cell blank if it was not tested');
  }
  return notUnderstood(expected, pressure.hint);
}
