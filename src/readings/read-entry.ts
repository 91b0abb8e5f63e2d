import { plainValue, type RawCell } from '../util/raw-table.js';
import type { Field } from './field.js';
import { formatTime } from './format-time.js';
import type { Entry } from './inspection.js';
import { cleanCellText } from './clean-cell-text.js';
import { dateTimeText } from './date-time-text.js';
import { parseApproximate } from './parse-approximate.js';
import { parseDate } from './parse-date.js';
import { parseNumber } from './parse-number.js';
import { parsePressure, parseWarningPressure } from './parse-pressure.js';
import type { ParseResult } from './parse-result.js';
import { parseTime } from './parse-time.js';
import { parseYesNo } from './parse-yes-no.js';
import { convertPressure, fromPsi, toPsi, type PressureUnit } from './pressure-units.js';

/** What a cell means in the place where it stands. */
export interface EntryContext {
  /** The pressure unit of the row. */
  readonly unit: PressureUnit;
  /** The pressure unit of the column's header, where it names one. */
  readonly columnUnit: PressureUnit | null;
  /** The unit of time of the column's header, where it names one: a bare number is in it. */
  readonly columnTimeUnit?: 'min' | 's' | null;
  readonly dateOrder: 'dmy' | 'mdy' | null;
  readonly date1904: boolean;
}

/** A cell that was understood, was blank, or was not understood. */
export interface ReadEntry {
  readonly entry: Entry;
  readonly halfWidth: number | null;
  /** Set when the cell could not be taken as it stood. */
  readonly trouble: { readonly code: 'not_understood' | 'implausible' | 'date_order_unknown'; readonly expected: string } | null;
}

const BLANK: ReadEntry = { entry: null, halfWidth: null, trouble: null };

/** Reads one cell of a field: what it means, or why it cannot be understood. A value out of its plausible span is kept and named. */
export function readEntry(field: Field, cell: RawCell, context: EntryContext): ReadEntry {
  switch (field.kind) {
    case 'text':
      return readText(cell, context.date1904);
    case 'choice':
      return readChoice(field, cell);
    case 'date':
      return readDate(cell, context);
    case 'yes_no':
      return fromResult(parseYesNo(cell));
    case 'time':
      return readTime(field, context.columnTimeUnit === 'min' ? minutesIfBare(cell) : cell);
    case 'count':
    case 'quantity':
      return readNumber(field, cell);
    case 'pressure':
      return readPressure(field, cell, context);
  }
}

function understood(entry: Entry): ReadEntry {
  return { entry, halfWidth: null, trouble: null };
}

function notUnderstood(expected: string, hint?: string): ReadEntry {
  return { entry: null, halfWidth: null, trouble: { code: 'not_understood', expected: hint ? `${expected}; ${hint}` : expected } };
}

function fromResult(result: ParseResult<Entry> | null): ReadEntry {
  if (result === null) return BLANK;
  return result.ok ? understood(result.value) : notUnderstood(result.expected, result.hint);
}

/** A spreadsheet that took a text for a date or a time keeps a number; the text is what it shows. */
function readText(cell: RawCell, date1904: boolean): ReadEntry {
  const value = cell !== null && typeof cell === 'object' ? (dateTimeText(cell, date1904) ?? cell.value) : cell;
  if (value === null || (typeof value === 'string' && cleanCellText(value) === '')) return BLANK;
  return understood(String(value));
}

function readChoice(field: Field, cell: RawCell): ReadEntry {
  const text = cleanCellText(String(plainValue(cell) ?? ''));
  if (text === '') return BLANK;
  const choice = field.choices?.find((name) => name.toLowerCase() === text.toLowerCase());
  return choice === undefined ? notUnderstood(`one of ${field.choices?.join(', ')}`) : understood(choice);
}

function readDate(cell: RawCell, context: EntryContext): ReadEntry {
  const result = parseDate(cell, { order: context.dateOrder, date1904: context.date1904 });
  if (result === null || result.ok) return fromResult(result);
  const code = result.hint?.includes('--date-order') || result.expected.includes('--date-order') ? 'date_order_unknown' : 'not_understood';
  return { entry: null, halfWidth: null, trouble: { code, expected: result.hint ? `${result.expected}; ${result.hint}` : result.expected } };
}

/** A time out of its plausible span is not used: a minute too many or too few would make a loss of it. */
function readTime(field: Field, cell: RawCell): ReadEntry {
  const { from, to } = timeSpan(field);
  const read = fromResult(parseTime(cell, { shortest: from, longest: to }));
  if (typeof read.entry !== 'number' || (read.entry >= from && read.entry <= to)) return read;
  return { entry: null, halfWidth: null, trouble: { code: 'implausible', expected: `${formatTime(from)} to ${formatTime(to)} (minutes:seconds); check it against the paper and type it again` } };
}

/** A bare number below a header that says minutes is a number of minutes, also one that is only about right. */
function minutesIfBare(cell: RawCell): RawCell {
  const text = typeof cell === 'number' ? String(cell) : typeof cell === 'string' ? cleanCellText(cell) : '';
  const { approximate, rest } = parseApproximate(text);
  return /^(?:\d+(?:[.,]\d+)?|\.\d+)$/.test(rest) ? `${approximate ? '~' : ''}${rest} min` : cell;
}

/** The plausible span of a time field, in seconds. */
export function timeSpan(field: Pick<Field, 'plausible'>): { readonly from: number; readonly to: number } {
  return { from: field.plausible?.from ?? 1, to: field.plausible?.to ?? 3600 };
}

function readNumber(field: Field, cell: RawCell): ReadEntry {
  const result = parseNumber(cell, { whole: field.kind === 'count', commaGroups: field.commaGroups ?? false, unitWords: field.unitWords });
  if (result === null || !result.ok || result.value === null) return fromResult(result);
  return withPlausibility(field, understood(result.value), result.value, '');
}

function readPressure(field: Field, cell: RawCell, context: EntryContext): ReadEntry {
  const unit = context.columnUnit ?? context.unit;
  const result = field.never ? parseWarningPressure(cell, { unit }) : parsePressure(cell, { unit });
  if (result === null) return BLANK;
  if (!result.ok) return notUnderstood(result.expected, result.hint);
  if (result.value === null || result.value === 'never') return understood(result.value);
  const { value, halfWidth } = result.value;
  if (halfWidth !== null && !field.spread) return notUnderstood(`a single pressure in ${context.unit}`);
  const entry = convertPressure(value, unit, context.unit);
  return withPlausibility(
    field,
    { entry, halfWidth: halfWidth === null ? null : convertPressure(halfWidth, unit, context.unit), trouble: null },
    toPsi(entry, context.unit),
    context.unit,
  );
}

/** Highest pressure, in psi, that a cab gauge of an air-brake system can show; common practice, no source. */
export const HIGHEST_PLAUSIBLE_PRESSURE = 200;

function withPlausibility(field: Field, read: ReadEntry, value: number, unit: PressureUnit | ''): ReadEntry {
  const { from, to } = field.plausible ?? (field.kind === 'pressure' ? { from: 0, to: HIGHEST_PLAUSIBLE_PRESSURE } : { from: 0, to: Infinity });
  if (value >= from && value <= to) return read;
  const span = unit === '' ? `${from} to ${to}` : `${roundForWords(fromPsi(from, unit))} to ${roundForWords(fromPsi(to, unit))} ${unit}`;
  return { ...read, trouble: { code: 'implausible', expected: `${span}; ${proposal(value, unit)}` } };
}

/** Pressures that a road vehicle's reservoirs hold in use, in psi: where a slip of the pen lands when it is mended. Common practice, no source. */
const USUAL = { from: 50, to: 150 } as const;

function proposal(psi: number, unit: PressureUnit | ''): string {
  const usual = (value: number): boolean => value >= USUAL.from && value <= USUAL.to;
  const guesses: string[] = [];
  if (unit === 'psi' && usual(toPsi(psi, 'kPa'))) guesses.push('if it was read in kPa, write the unit into the cell or into pressure_unit');
  if (unit !== '' && usual(psi / 10)) guesses.push(`if a zero slipped in, it is ${roundForWords(fromPsi(psi / 10, unit))} ${unit}`);
  return guesses.join('; ') || 'check it against the paper and type it again';
}

function roundForWords(value: number): number {
  return Number(value.toPrecision(4));
}
