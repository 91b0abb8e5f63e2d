import { columnLetters } from '../util/column-letters.js';
import { plainValue, type RawCell } from '../util/raw-table.js';
import type { Dictionary } from './dictionary.js';
import { HALF_WIDTH, type Field } from './field.js';
import { foldHeader, type ColumnRole } from './find-header.js';
import type { Inspection } from './inspection.js';

/** The columns and inspections of one keying. */
export interface Keying {
  readonly columns: readonly ColumnRole[];
  readonly inspections: readonly Inspection[];
  /** Where the cells beyond the header stand, by row, in the order in which they end `extra`. */
  readonly cellsBeyond?: ReadonlyMap<number, readonly string[]>;
  /** The sheet that the table begins on; empty, or left out, for a table without one. */
  readonly sheet?: string;
}

/** Where a column stands in one keying. */
export interface ColumnPlace {
  /** The spreadsheet's letters of the column; empty where this keying has no such column or no one place for it. */
  readonly letters: string;
  /** Position among the cells that are not ours, or -1. */
  readonly extra: number;
}

/** A column that is compared, by the field it holds or by its header. */
export interface ComparedColumn {
  /** The field's name, or the header of a column that is not ours. */
  readonly name: string;
  readonly field: Field | null;
  /** Position of the field in the dictionary, and of its half-width; -1 without. */
  readonly position: number;
  readonly halfWidth: number;
  readonly a: ColumnPlace;
  readonly b: ColumnPlace;
}

/** What cells below no header are listed as. */
export const NO_HEADER = '(no header)';

const ABSENT: ColumnPlace = { letters: '', extra: -1 };

/**
 * The columns of two keyings, side by side, in the order of the first: ours by the field that they hold, others by their
 * header without case and punctuation; several of one header, or of none, in their order. A half-width is part of its reading.
 */
export function comparedColumns(dictionary: Dictionary, a: Keying, b: Keying): ComparedColumn[] {
  const [left, right] = [columnsOf(dictionary, a), columnsOf(dictionary, b)];
  const keys = new Set([...left.keys(), ...right.keys()]);
  return [...keys].map((key) => {
    const [inA, inB] = [left.get(key), right.get(key)];
    return { ...(inA ?? inB)!.column, a: inA?.place ?? ABSENT, b: inB?.place ?? ABSENT };
  });
}

interface Placed {
  readonly column: Pick<ComparedColumn, 'name' | 'field' | 'position' | 'halfWidth'>;
  readonly place: ColumnPlace;
}

function columnsOf(dictionary: Dictionary, keying: Keying): Map<string, Placed> {
  const found = new Map<string, Placed>();
  const seen = new Map<string, number>();
  let extras = 0;
  for (const [index, column] of keying.columns.entries()) {
    const letters = columnLetters(index);
    if (column.role === 'field') {
      const position = basePosition(dictionary, column.position);
      const own = position === column.position;
      if (own || !found.has(`field ${position}`)) found.set(`field ${position}`, { column: fieldColumn(dictionary, position), place: { letters, extra: -1 } });
    } else if (column.role === 'extra') {
      const extra = extras++;
      if (column.header === '' && keying.inspections.every((inspection) => isBlank(inspection.extra[extra]))) continue;
      const folded = foldHeader(column.header) || column.header;
      const nth = (seen.get(folded) ?? 0) + 1;
      seen.set(folded, nth);
      found.set(`extra ${nth} ${folded}`, { column: extraColumn(column.header || NO_HEADER), place: { letters, extra } });
    }
  }
  const widest = keying.inspections.reduce((most, { extra }) => Math.max(most, extra.length), extras);
  for (let extra = extras; extra < widest; extra++) {
    const nth = (seen.get('') ?? 0) + 1;
    seen.set('', nth);
    found.set(`extra ${nth} `, { column: extraColumn(NO_HEADER), place: { letters: '', extra } });
  }
  return found;
}

function fieldColumn(dictionary: Dictionary, position: number): Placed['column'] {
  const field = dictionary.fields[position]!;
  return { name: field.name, field, position, halfWidth: dictionary.position.get(field.name + HALF_WIDTH) ?? -1 };
}

function extraColumn(name: string): Placed['column'] {
  return { name, field: null, position: -1, halfWidth: -1 };
}

/** The position of the field that a half-width belongs to; any other field's own. */
function basePosition(dictionary: Dictionary, position: number): number {
  const { name } = dictionary.fields[position]!;
  return name.endsWith(HALF_WIDTH) ? (dictionary.position.get(name.slice(0, -HALF_WIDTH.length)) ?? position) : position;
}

function isBlank(cell: RawCell | undefined): boolean {
  return String(plainValue(cell) ?? '').trim() === '';
}
