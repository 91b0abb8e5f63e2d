import { parseNumberText } from './parse-number-text.js';
import type { ParseResult } from './parse-result.js';
import { notUnderstood, understood } from './parse-result.js';
import type { PressureUnit } from './pressure-units.js';
import { parsePressureUnit } from './pressure-units.js';

/** One number with the unit written behind it, if any. */
export interface WrittenPressure {
  readonly value: number;
  readonly unit: PressureUnit | 'MPa' | null;
}

const QUANTITY = /^(\.?\d(?:[\d.,' ]*\d)?\.?) ?([^\d\s.,'].*)?$/u;
const EXPECTED = 'a pressure such as 104, 104 psi, 7.2 bar or 104-108';
const LOOSE_UNIT = '(?:psig?|p\\.s\\.i\\.?|kpa|bars?|lbs?|#)?';
const LOOSE_NUMBER = `\\d{1,4}(?:[.,]\\d{1,2})? ?${LOOSE_UNIT}`;
const TWO_NEEDLES = new RegExp(`^${LOOSE_NUMBER} ?(?:[ /,;&|\\\\+]|\\band\\b) ?${LOOSE_NUMBER}$`, 'iu');

/**
 * Reads one number with an optional unit. Two pressures side by side, as of two needles, are not understood.
 *
 * @param text a text cleaned by `cleanCellText`, without a mark of approximation
 *
 * @example
 * parsePressureText('720kPa') // { ok: true, value: { value: 720, unit: 'kPa' }, exact: true }
 */
export function parsePressureText(text: string): ParseResult<WrittenPressure> {
  const [, digits, unitText] = QUANTITY.exec(text) ?? [];
  if (digits === undefined) return notUnderstood(EXPECTED, hintFor(text));
  // `104 108` is two needles rather than a hundred thousand; `1 034` (kPa) is one number.
  if (/^\d{2,} /.test(digits)) return notUnderstood(EXPECTED, hintFor(text));
  const number = parseNumberText(digits);
  if (!number.ok) return notUnderstood(EXPECTED, number.hint ?? hintFor(text));
  if (unitText === undefined) return understood({ value: number.value, unit: null }, number.exact);
  const unit = /^(?:mpa|megapascals?)$/iu.test(unitText) ? 'MPa' : parsePressureUnit(unitText);
  if (unit === null) return notUnderstood(EXPECTED, hintFor(text) ?? hintForUnit(unitText));
  return understood({ value: number.value, unit }, number.exact);
}

function hintFor(text: string): string | undefined {
  if (TWO_NEEDLES.test(text)) return 'put each needle in its own column: there are two needles in one cell';
  if (/^[-–]/u.test(text)) return 'read the gauge again: a gauge pressure is not below zero';
  if (/^[<>≤≥]|\d ?\+$/u.test(text)) return 'write the pressure that was read: a bound is not a reading';
  return undefined;
}

function hintForUnit(unit: string): string {
  if (/^kgf?\/? ?cm ?[2²]$/iu.test(unit)) return 'write the pressure in psi, kPa or bar (1 kgf/cm2 is 98.0665 kPa)';
  return 'write the pressure in psi, kPa or bar';
}
