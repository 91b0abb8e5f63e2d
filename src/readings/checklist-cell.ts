import { plainValue, type RawCell } from '../util/raw-table.js';
import { cleanCellText } from './clean-cell-text.js';
import type { Field } from './field.js';
import { parseApproximate } from './parse-approximate.js';
import { parsePressure } from './parse-pressure.js';
import { parseTime } from './parse-time.js';
import type { PressureUnit } from './pressure-units.js';
import { timeSpan } from './read-entry.js';

/** True where a cell holds nothing but spaces. */
export function isBlankCell(cell: RawCell | undefined): boolean {
  const value = plainValue(cell);
  return value === null || (typeof value === 'string' && cleanCellText(value) === '');
}

/** What a cell holds, as clean text. */
export function cellText(cell: RawCell | undefined): string {
  return cleanCellText(String(plainValue(cell) ?? ''));
}

/** True where two cells say the same, whatever the case and the spaces. */
export function sameCell(a: RawCell, b: RawCell): boolean {
  const formatA = typeof a === 'object' && a !== null ? a.format : '';
  const formatB = typeof b === 'object' && b !== null ? b.format : '';
  return formatA === formatB && cellText(a).toLowerCase() === cellText(b).toLowerCase();
}

/** True where a cell is a pressure without a unit, so that a unit beside it is that of the pressure. */
export function isBarePressure(cell: RawCell): boolean {
  const read = parsePressure(cell, { unit: 'psi' });
  return read?.ok === true && read.value !== null && read.value.writtenUnit === null;
}

/**
 * A pressure with its unit behind it; a cell that has a unit already, or is no pressure, as it stands.
 *
 * @example withPressureUnit(720, 'kPa') // '720 kPa'
 */
export function withPressureUnit(cell: RawCell, unit: PressureUnit): RawCell {
  return isBarePressure(cell) ? `${cellText(cell)} ${unit}` : cell;
}

/**
 * A time with its unit behind it, where it is a bare number. A number of seconds that is understood without one
 * stays as it stands.
 *
 * @example withTimeUnit(4.2, 'min', buildUpTime) // '4.2 min'
 */
export function withTimeUnit(cell: RawCell, unit: 'min' | 's', field: Field): RawCell {
  const text = cellText(cell);
  const { rest } = parseApproximate(text);
  if (typeof cell === 'object' || typeof cell === 'boolean' || !/^(?:\d+(?:[.,]\d+)?|[.,]\d+)$/.test(rest)) return cell;
  const { from, to } = timeSpan(field);
  if (unit === 's' && !text.includes('.') && !text.includes(',') && parseTime(cell, { shortest: from, longest: to })?.ok) return cell;
  return `${text.endsWith(rest) ? text : `~${rest}`} ${unit}`;
}

/** The unit of time that a word names. */
export function timeUnitOf(text: string): 'min' | 's' | null {
  const word = text.toLowerCase().replace(/\.$/, '');
  if (/^(?:m|mins?|minutes?)$/.test(word)) return 'min';
  return /^(?:s|secs?|seconds?)$/.test(word) ? 's' : null;
}
