import { plainValue, type RawCell, type RawRow } from '../util/raw-table.js';
import { cleanCellText } from './clean-cell-text.js';
import type { Dictionary } from './dictionary.js';
import { parsePressureUnit, type PressureUnit } from './pressure-units.js';
import { AS_FOUND, COMPUTED_PREFIX } from './table-names.js';

/** What a column of the file is. */
export type ColumnRole =
  | { readonly role: 'field'; readonly header: string; readonly position: number; readonly unit: PressureUnit | null }
  | { readonly role: 'extra'; readonly header: string }
  | { readonly role: 'as_found'; readonly header: string }
  | { readonly role: 'computed'; readonly header: string };

/** The header row of a table and what its columns are. */
export interface Header {
  readonly row: number;
  readonly columns: readonly ColumnRole[];
  /** Positions of columns that repeat a field which an earlier column holds; they are kept as columns that are not ours. */
  readonly repeated: readonly number[];
}

/**
 * Reads a row as a header: a cell that is a field's name, its title or an accepted spelling (whatever its case and
 * punctuation, with or without a unit in brackets) is that field; every other cell heads a column of its own.
 */
export function readHeader(row: RawRow, dictionary: Dictionary): Header {
  const spellings = spellingsOf(dictionary);
  const taken = new Set<number>();
  const repeated: number[] = [];
  const ours = row.cells.some((cell) => headerText(cell).startsWith(COMPUTED_PREFIX));
  const columns = row.cells.map((cell, index): ColumnRole => {
    const header = headerText(cell);
    if (header.startsWith(COMPUTED_PREFIX)) return { role: 'computed', header };
    if (header === AS_FOUND && ours) return { role: 'as_found', header };
    const { plain, unit } = splitUnit(header);
    const position = spellings.get(foldHeader(header)) ?? spellings.get(foldHeader(plain));
    if (position === undefined) return { role: 'extra', header };
    if (taken.has(position)) {
      repeated.push(index);
      return { role: 'extra', header };
    }
    taken.add(position);
    return { role: 'field', header, position, unit: dictionary.fields[position]!.kind === 'pressure' ? unit : null };
  });
  return { row: row.number, columns, repeated };
}

/**
 * How well a row serves as the header: 0 when it names no unit; otherwise the count of its fields, with a field
 * called by its very name counting double.
 */
export function headerScore(header: Header, dictionary: Dictionary): number {
  let score = 0;
  let namesUnit = false;
  for (const column of header.columns) {
    if (column.role !== 'field') continue;
    const { name } = dictionary.fields[column.position]!;
    namesUnit ||= name === 'unit';
    score += column.header === name ? 2 : 1;
  }
  return namesUnit ? score : 0;
}

function headerText(cell: RawCell): string {
  return cleanCellText(String(plainValue(cell) ?? ''));
}

/** A header without case, spaces and punctuation, so that `Unit No.` and `unit_no` are one. */
export function foldHeader(header: string): string {
  return header
    .toLowerCase()
    .replace(/#/g, ' no ')
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();
}

function splitUnit(header: string): { plain: string; unit: PressureUnit | null } {
  const match = /^(.*?)\s*[([]\s*([^()[\]]+?)\s*[)\]]$/u.exec(header.slice(0, 200));
  if (!match) return { plain: header, unit: null };
  return { plain: match[1]!, unit: parsePressureUnit(match[2]!) };
}

function spellingsOf(dictionary: Dictionary): Map<string, number> {
  const spellings = new Map<string, number>();
  for (const [position, field] of dictionary.fields.entries()) {
    for (const spelling of [field.name, field.title, ...field.spellings]) {
      const folded = foldHeader(spelling);
      if (!spellings.has(folded)) spellings.set(folded, position);
    }
  }
  for (const [position, field] of dictionary.fields.entries()) spellings.set(foldHeader(field.name), position);
  return spellings;
}
