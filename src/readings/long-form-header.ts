import type { RawCell, RawRow } from '../util/raw-table.js';
import { cellText, isBlankCell, timeUnitOf } from './checklist-cell.js';
import { NO_CONTEXT } from './checklist-facet-fields.js';
import { foldLabel } from './checklist-fold-label.js';
import type { CircuitName, Moment } from './checklist-label-facets.js';
import type { LabelReader } from './checklist-label-reader.js';
import { LONG_FORM_WORDS } from './long-form-words.js';
import { parsePressureUnit, type PressureUnit } from './pressure-units.js';

/** What a column of a list with one row per test is. */
export type LongFormColumn =
  | { readonly role: 'key'; readonly field: 'inspection_id' | 'unit' | 'inspected_on' }
  | { readonly role: 'test' | 'circuit' | 'measure' | 'blank' }
  | LongFormReading
  | { readonly role: 'field'; readonly field: string; readonly unit: PressureUnit | null }
  | { readonly role: 'extra' };

/** A column of readings. */
export interface LongFormReading {
  readonly role: 'reading';
  readonly moment: Moment | 'value';
  readonly circuit: CircuitName | null;
  readonly unit: PressureUnit | null;
  readonly timeUnit: 'min' | 's' | null;
}

/** The header of a list with one row per test. */
export interface LongFormHeader {
  readonly row: number;
  readonly headers: readonly string[];
  readonly columns: readonly LongFormColumn[];
}

const KEYS = ['inspection_id', 'unit', 'inspected_on'] as const;
/** How many rows below the header show what a column holds. */
const LOOK_DOWN = 200;

/**
 * Reads a row as the header of a list with one row per test: it must name the unit, the test, and either a start and an
 * end or a value.
 *
 * @param below the rows below it; what they hold tells a unit of pressure from the unit that is a vehicle
 * @returns null where the row is no such header
 */
export function readLongFormHeader(row: RawRow, below: () => readonly RawRow[], labels: LabelReader): LongFormHeader | null {
  if (row.cells.some((cell) => !isBlankCell(cell) && (typeof cell !== 'string' || /^\s*[\d.]/.test(cell)))) return null;
  const headers = row.cells.map(cellText);
  if (!headers.some((header) => LONG_FORM_WORDS.test.has(foldLabel(header)))) return null;
  const sample = below().slice(0, LOOK_DOWN);
  const seen = new Set<string>();
  const hasClock = headers.some((header) => /\b(?:min(?:ute)?s?|sec(?:ond)?s?|duration)\b/i.test(header));
  const columns = headers.map((header, index): LongFormColumn => {
    const column = columnOf(header, () => sample.map(({ cells }) => cells[index] ?? null).filter((cell) => !isBlankCell(cell)), labels, hasClock);
    const key = keyOf(column);
    if (key === null) return column;
    if (seen.has(key)) return { role: 'extra' };
    seen.add(key);
    return column;
  });
  const reads = (moment: string): boolean => columns.some((column) => column.role === 'reading' && column.moment === moment);
  const serves = seen.has('unit') && seen.has('test') && (reads('value') || (reads('start') && reads('end')));
  return serves ? { row: row.number, headers: distinct(headers, columns), columns } : null;
}

/** What no two columns may be; null for a column that may stand twice. */
function keyOf(column: LongFormColumn): string | null {
  switch (column.role) {
    case 'key':
    case 'field':
      return column.field;
    case 'reading':
      return `${column.moment} ${column.circuit ?? ''}`;
    case 'extra':
    case 'blank':
      return null;
    default:
      return column.role;
  }
}

function columnOf(header: string, cells: () => readonly RawCell[], labels: LabelReader, hasClock: boolean): LongFormColumn {
  const folded = foldLabel(header);
  if (folded === '') return { role: 'blank' };
  const named = labels.named(header);
  if ((named?.name === 'unit' || named?.name === 'pressure_unit') && holdsOnlyUnits(cells())) return { role: 'measure' };
  if (LONG_FORM_WORDS.test.has(folded)) return { role: 'test' };
  if (LONG_FORM_WORDS.circuit.has(folded)) return { role: 'circuit' };
  if (named?.name === 'pressure_unit') return { role: 'measure' };
  const key = KEYS.find((name) => name === named?.name);
  if (key) return { role: 'key', field: key };
  if (named) return { role: 'field', field: named.name, unit: named.unit };
  return readingOf(header, folded, cells, labels, hasClock);
}

function readingOf(header: string, folded: string, cells: () => readonly RawCell[], labels: LabelReader, hasClock: boolean): LongFormColumn {
  const { facets } = labels.read(header, NO_CONTEXT);
  const value = { role: 'reading', moment: 'value', circuit: null, unit: null, timeUnit: timeUnitOf(header) } as const;
  if (folded === 'time' && hasClock) return { role: 'extra' };
  if (timeUnitOf(header)) return { ...value, moment: 'time' };
  if (LONG_FORM_WORDS.value.has(folded)) return value;
  if (LONG_FORM_WORDS.result.has(folded)) return holdsMostlyNumbers(cells()) ? value : { role: 'extra' };
  if (!facets || facets.test !== null || facets.span !== null) return { role: 'extra' };
  const { moment, circuit, unit, timeUnit } = facets;
  if (moment === null && circuit === null && unit === null) return { role: 'extra' };
  return { role: 'reading', moment: moment ?? 'value', circuit, unit, timeUnit };
}

function holdsOnlyUnits(cells: readonly RawCell[]): boolean {
  return cells.length > 0 && cells.every((cell) => parsePressureUnit(cellText(cell)) !== null || timeUnitOf(cellText(cell)) !== null || /^(?:rpm|km|mi|miles|-)$/i.test(cellText(cell)));
}

function holdsMostlyNumbers(cells: readonly RawCell[]): boolean {
  return cells.filter((cell) => /^[~≈]? ?\d/u.test(cellText(cell))).length * 2 > cells.length;
}

/** Columns that are not ours are kept apart by their names. */
function distinct(headers: readonly string[], columns: readonly LongFormColumn[]): string[] {
  const times = new Map<string, number>();
  return headers.map((header, index) => {
    if (columns[index]!.role !== 'extra') return header;
    const key = foldLabel(header);
    const time = (times.get(key) ?? 0) + 1;
    times.set(key, time);
    return time === 1 ? header : `${header} (${time})`;
  });
}
