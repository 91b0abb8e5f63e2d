import type { Field } from '../readings/field.js';
import type { ColumnRole } from '../readings/find-header.js';
import { AS_FOUND, COMPUTED_PREFIX } from '../readings/table-names.js';
import { strokeDictionary } from '../strokes/stroke-dictionary.js';
import { strokeLimits } from '../strokes/stroke-limits.js';
import type { StrokeField } from '../strokes/stroke.js';
import { columnLetters } from '../util/column-letters.js';
import { STROKE_BLOCKS, type StrokeBlock, type StrokeColumnId, type StrokeComputedColumn } from './strokes-columns.js';

/** The sheet's name. */
export const STROKES_SHEET = 'Strokes';

/** One column of the sheet Strokes. */
export type StrokesSheetColumn =
  | { readonly part: 'entry'; readonly field: Field; readonly name: StrokeField }
  | { readonly part: 'extra'; readonly header: string; readonly index: number }
  | { readonly part: 'as_found' }
  | { readonly part: 'gap' }
  | { readonly part: 'computed'; readonly column: StrokeComputedColumn; readonly block: StrokeBlock };

/** The columns of the sheet Strokes, from the left, and where things stand. */
export interface StrokesLayout {
  readonly columns: readonly StrokesSheetColumn[];
  readonly titleRow: number;
  /** Row of the names, which is the header for reading back; data begin below it. */
  readonly nameRow: number;
  readonly firstRow: number;
  /** Rows for chambers, blank ones included. The other tables of the sheet stand beside them and fit in as well. */
  readonly rowCount: number;
  /** The letters of a column. */
  readonly lettersOf: (name: StrokeField | StrokeColumnId | typeof AS_FOUND) => string;
  /** First and last column of each block that is printed. */
  readonly spanOf: (block: StrokeBlock | 'entries') => { readonly first: string; readonly last: string };
}

/** Rows of a blank sheet. */
export const BLANK_STROKES = 60;
const TITLE_ROW = 6;

/** How many lines the table of limits has, the rules below it included. */
export function strokeLimitLines(): number {
  const { limits, rules } = strokeLimits();
  return limits.length + rules.length;
}

/**
 * Lays out the sheet Strokes: the verdict, the entry columns in the order of the file with those it lacks at their usual place, what is
 * computed of each chamber, the texts as found; then beside them the vehicles, the positions, the limits, and the working columns.
 */
export function layOutStrokes(fileColumns: readonly ColumnRole[], rowCount: number): StrokesLayout {
  const computed = (block: StrokeBlock): StrokesSheetColumn[] => STROKE_BLOCKS[block].map((column) => ({ part: 'computed', column, block }));
  const gap: StrokesSheetColumn = { part: 'gap' };
  const columns: StrokesSheetColumn[] = [
    ...computed('verdict'), ...entryColumns(fileColumns), ...computed('result'), { part: 'as_found' },
    gap, ...computed('vehicles'), gap, ...computed('positions'), gap, ...computed('limits'), gap, ...computed('working'),
  ];
  const letters = new Map<string, string>();
  for (const [index, column] of columns.entries()) {
    if (column.part === 'entry') letters.set(column.name, columnLetters(index));
    if (column.part === 'computed') letters.set(column.column.id, columnLetters(index));
    if (column.part === 'as_found') letters.set(AS_FOUND, columnLetters(index));
  }
  return {
    columns,
    titleRow: TITLE_ROW,
    nameRow: TITLE_ROW + 1,
    firstRow: TITLE_ROW + 2,
    rowCount,
    lettersOf: (name) => letters.get(name)!,
    spanOf: (block) => {
      const ids = block === 'entries' ? ['verdict', STROKE_BLOCKS.result.at(-1)!.id] : [STROKE_BLOCKS[block][0]!.id, STROKE_BLOCKS[block].at(-1)!.id];
      return { first: letters.get(ids[0]!)!, last: letters.get(ids[1]!)! };
    },
  };
}

/** The name of a column in the row of names. */
export function strokesColumnName(column: StrokesSheetColumn): string {
  switch (column.part) {
    case 'entry':
      return column.name;
    case 'extra':
      return column.header;
    case 'as_found':
      return AS_FOUND;
    case 'gap':
      return '';
    case 'computed':
      return COMPUTED_PREFIX + column.column.id;
  }
}

function entryColumns(fileColumns: readonly ColumnRole[]): StrokesSheetColumn[] {
  const { fields } = strokeDictionary();
  const columns: StrokesSheetColumn[] = [];
  let extras = 0;
  for (const column of fileColumns) {
    if (column.role === 'field') columns.push(entry(fields[column.position]!));
    if (column.role === 'extra') columns.push({ part: 'extra', header: column.header, index: extras++ });
  }
  for (const [position, field] of fields.entries()) {
    if (columns.some((column) => column.part === 'entry' && column.field === field)) continue;
    const before = columns.findIndex((column) => column.part === 'entry' && column.field === fields[position - 1]);
    columns.splice(before + 1, 0, entry(field));
  }
  return columns;
}

function entry(field: Field): StrokesSheetColumn {
  return { part: 'entry', field, name: field.name as StrokeField };
}
