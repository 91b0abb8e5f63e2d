import { cleanCellText } from '../readings/clean-cell-text.js';
import { dateFormatKind } from '../readings/date-format-kind.js';
import { parseApproximate } from '../readings/parse-approximate.js';
import { parseNotMeasured } from '../readings/parse-not-measured.js';
import { notUnderstood, understood, type ParseResult } from '../readings/parse-result.js';
import type { RawCell } from '../util/raw-table.js';
import { parseLengthUnit, type LengthUnit } from './length-units.js';

/** A stroke as it was written down. */
export interface StrokeReading {
  /** In the unit written in the cell, else in that of the row. */
  readonly value: number;
  /** The unit written in the cell; null where none was. Centimetres count as millimetres. */
  readonly writtenUnit: LengthUnit | null;
}

const EXPECTED = 'a stroke such as 1 3/4, 1.75, 1-3/4 in or 44 mm';
const MAX_LENGTH = 40;
const FRACTIONS: Readonly<Record<string, string>> = { '¼': '1/4', '½': '1/2', '¾': '3/4', '⅛': '1/8', '⅜': '3/8', '⅝': '5/8', '⅞': '7/8' };
const DECIMAL = /^(?:\d{1,3}(?:[.,]\d{1,6})?|[.,]\d{1,6})$/u;
const MIXED = /^(?:(\d{1,2})(?: ?- ?| and | ))?(\d{1,2}) ?\/ ?(2|4|8|16|32|64)$/u;
/** A number, then its unit. */
const QUANTITY = /^(.*?\d) ?([^\d\s/.,-][^\d]*)?$/u;

/**
 * Reads a pushrod stroke as people write it: `1 3/4`, `1-3/4"`, `1¾`, `1.75`, `1,75 in`, `44 mm`, `4.4 cm`. A fraction is a
 * tape's: halves to sixty-fourths. It may stand in inches only.
 *
 * @returns `null` for a blank cell; an understood `null` for a mark such as `n/a`. Exact where the cell holds a plain number.
 *
 * @example
 * parseStroke('1 3/4"') // { ok: true, value: { value: 1.75, writtenUnit: 'in' }, exact: false }
 * parseStroke('44 mm') // { ok: true, value: { value: 44, writtenUnit: 'mm' }, exact: false }
 */
export function parseStroke(cell: RawCell): ParseResult<StrokeReading | null> | null {
  if (cell === null) return null;
  if (typeof cell === 'boolean') return notUnderstood(EXPECTED);
  if (typeof cell === 'object') {
    const { date, time } = dateFormatKind(cell.format);
    if (date || time) return notUnderstood(EXPECTED, 'type it again as 1.75 in a cell formatted as text: the spreadsheet turned it into a date');
    return fromNumber(cell.value);
  }
  if (typeof cell === 'number') return fromNumber(cell);
  const text = cleanCellText(cell);
  if (text === '') return null;
  const mark = parseNotMeasured(text);
  if (mark) return mark;
  if (text.length > MAX_LENGTH) return notUnderstood(EXPECTED);
  const { approximate, rest } = parseApproximate(text);
  const [, number = '', unitText] = QUANTITY.exec(withPlainFractions(rest)) ?? [];
  const unit = unitText === undefined ? null : parseLengthUnit(unitText.trim());
  if (number === '' || (unitText !== undefined && unit === null)) return notUnderstood(EXPECTED, hintFor(rest));
  const fraction = MIXED.exec(number);
  if (fraction) return unit === 'mm' || unit === 'cm' ? notUnderstood(EXPECTED, 'write millimetres as a decimal, such as 44.5 mm') : fromFraction(fraction, unit);
  if (!DECIMAL.test(number)) return notUnderstood(EXPECTED, hintFor(rest));
  const value = Number(number.replace(',', '.'));
  return understood({ value: unit === 'cm' ? Number((value * 10).toPrecision(15)) : value, writtenUnit: unit === 'cm' ? 'mm' : unit }, !approximate && unit === null);
}

function fromNumber(value: number): ParseResult<StrokeReading> {
  if (!Number.isFinite(value)) return notUnderstood(EXPECTED);
  if (value < 0) return notUnderstood(EXPECTED, 'measure again: a stroke is not below zero');
  return understood({ value: value === 0 ? 0 : value, writtenUnit: null }, true);
}

function fromFraction([, whole, above, below]: RegExpExecArray, unit: LengthUnit | null): ParseResult<StrokeReading> {
  const [top, bottom] = [Number(above), Number(below)];
  if (top >= bottom) return notUnderstood(EXPECTED, 'write a fraction of an inch below one, such as 3/4');
  return understood({ value: Number(whole ?? 0) + top / bottom, writtenUnit: unit }, false);
}

/** `1¾` as `1 3/4`. */
function withPlainFractions(text: string): string {
  return text
    .replace(/\u2044/gu, '/')
    .replace(/(\d)? ?([¼½¾⅛⅜⅝⅞])/gu, (_, whole: string | undefined, fraction: string) => `${whole === undefined ? '' : `${whole} `}${FRACTIONS[fraction]!}`);
}

function hintFor(text: string): string | undefined {
  if (/^-/u.test(text)) return 'measure again: a stroke is not below zero';
  if (/\d ?(?:-|–|to) ?\d/iu.test(text)) return 'write the one stroke that was measured';
  if (/^[<>≤≥]|\d ?\+$/u.test(text)) return 'write the stroke that was measured: a bound is not a reading';
  return undefined;
}
