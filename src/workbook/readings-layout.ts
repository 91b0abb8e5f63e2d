import { COMPUTED_BANDS, type ComputedColumn } from '../limits/computed-column.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { OVERALL_VERDICT } from '../limits/overall-trees.js';
import { fieldPosition } from '../readings/dictionary.js';
import type { Field } from '../readings/field.js';
import type { ColumnRole } from '../readings/find-header.js';
import { AS_FOUND } from '../readings/table-names.js';
import { columnLetters } from '../util/column-letters.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { continuedSheet, ROWS_OF_SHEET } from '../util/continued-sheets.js';

/** The sheet's name. */
export const READINGS_SHEET = 'Readings';

/** Row of the names; data begin below it. */
const NAME_ROW = 3;
/** The most rows of data on one sheet. */
const MOST_ROWS = ROWS_OF_SHEET - NAME_ROW;

/** A sheet of readings: the first, or one on which they go on. */
export interface ReadingsPart {
  readonly sheet: string;
  /** 1 for the sheet Readings, 2 for Readings 2, and so on. */
  readonly part: number;
  /** How many inspections stand on the sheets before it. */
  readonly before: number;
  /** How many rows of data it has. */
  readonly rowCount: number;
  readonly lastRow: number;
}

/** One column of the sheet Readings. */
export type SheetColumn =
  | { readonly part: 'entry'; readonly field: Field; readonly position: number }
  | { readonly part: 'extra'; readonly header: string; readonly index: number }
  | { readonly part: 'as_found' }
  | { readonly part: 'computed'; readonly column: ComputedColumn; readonly index: number };

/** The columns of the sheet Readings, from the left, and where things stand. */
export interface ReadingsLayout {
  readonly columns: readonly SheetColumn[];
  /** Row of the names, which is the header for reading back; data begin below it. */
  readonly nameRow: number;
  readonly firstRow: number;
  /** How many rows of data there are, on all sheets together. */
  readonly rowCount: number;
  /** The sheets that they stand on, all with the same columns and the same rows above. */
  readonly parts: readonly ReadingsPart[];
  /** Letters of the column that holds a field, a computed column (by id) or `as_found`. */
  readonly lettersOf: (name: string) => string | null;
  /** The field of a name that has an entry column. */
  readonly fieldOf: (name: string) => Field;
  /** Letters of the first and last entry column. */
  readonly entrySpan: { readonly first: string; readonly last: string };
}

/** What a layout is made for. */
export interface LayoutOptions {
  readonly plan: LimitPlan;
  /** The columns of the file that was read; empty for a blank workbook. */
  readonly fileColumns: readonly ColumnRole[];
  /** Columns without a header that rows ran over into. */
  readonly overflow: number;
  readonly rowCount: number;
  /** The most rows of data on one sheet; as many as it holds when left out. */
  readonly rowsPerSheet?: number;
  /** Names of computed columns that are not shown. */
  readonly hidden?: ReadonlySet<string>;
}

/**
 * Lays out the sheet Readings: the verdict first, so that it is in sight while typing; then the entry columns in the
 * order of the file, with the columns it lacks at their usual place; then the computed columns by band.
 */
export function layOutReadings({ plan, fileColumns, overflow, rowCount, rowsPerSheet, hidden }: LayoutOptions): ReadingsLayout {
  const { dictionary } = plan;
  const entries = entryColumns(plan, fileColumns, overflow);
  const computed = plan.columns.map((column, index): SheetColumn => ({ part: 'computed', column, index })).filter((column) => column.part !== 'computed' || !hidden?.has(column.column.id));
  const isVerdict = (column: SheetColumn): boolean => column.part === 'computed' && column.column.id === OVERALL_VERDICT;
  const inBand = COMPUTED_BANDS.flatMap((band) => computed.filter((column) => column.part === 'computed' && column.column.band === band && !isVerdict(column)));
  const columns: SheetColumn[] = [...computed.filter(isVerdict), ...entries, { part: 'as_found' }, ...inBand];
  const letters = new Map<string, string>();
  for (const [index, column] of columns.entries()) {
    if (column.part === 'entry') letters.set(dictionary.fields[column.position]!.name, columnLetters(index));
    if (column.part === 'computed') letters.set(column.column.id, columnLetters(index));
    if (column.part === 'as_found') letters.set(AS_FOUND, columnLetters(index));
  }
  return {
    columns,
    nameRow: NAME_ROW,
    firstRow: NAME_ROW + 1,
    rowCount,
    parts: readingsParts(rowCount, rowsPerSheet),
    lettersOf: (name) => letters.get(name) ?? null,
    fieldOf: (name) => dictionary.fields[fieldPosition(dictionary, name)]!,
    entrySpan: { first: columnLetters(1), last: columnLetters(entries.length + 1) },
  };
}

/** The sheets that so many rows stand on: each is full but the last. */
function readingsParts(rowCount: number, rowsPerSheet = MOST_ROWS): ReadingsPart[] {
  if (!Number.isInteger(rowsPerSheet) || rowsPerSheet < 1 || rowsPerSheet > MOST_ROWS) {
    throw new TreadlebookError({ code: 'usage', where: 'rowsPerSheet', what: `${rowsPerSheet} is no number of rows for a sheet of readings`, mend: `give a whole number from 1 to ${MOST_ROWS}` });
  }
  return Array.from({ length: Math.max(1, Math.ceil(rowCount / rowsPerSheet)) }, (_, index) => {
    const rows = Math.min(rowsPerSheet, rowCount - index * rowsPerSheet);
    return { sheet: continuedSheet(READINGS_SHEET, index + 1), part: index + 1, before: index * rowsPerSheet, rowCount: rows, lastRow: NAME_ROW + rows };
  });
}

function entryColumns(plan: LimitPlan, fileColumns: readonly ColumnRole[], overflow: number): SheetColumn[] {
  const { fields, standardCount, sheetOrder } = plan.dictionary;
  const columns: SheetColumn[] = [];
  let extras = 0;
  for (const column of fileColumns) {
    if (column.role === 'field') columns.push({ part: 'entry', field: fields[column.position]!, position: column.position });
    if (column.role === 'extra') columns.push({ part: 'extra', header: column.header, index: extras++ });
  }
  for (let more = 0; more < overflow; more++) columns.push({ part: 'extra', header: '', index: extras++ });
  let before = -1;
  for (const position of sheetOrder) {
    const field = fields[position]!;
    const there = columns.some((column) => column.part === 'entry' && column.position === position);
    if (!there && position >= standardCount && !plan.optionalColumns.has(field.name)) continue;
    if (!there) {
      const after = columns.findIndex((column) => column.part === 'entry' && column.position === before);
      columns.splice(after + 1, 0, { part: 'entry', field, position });
    }
    before = position;
  }
  return columns;
}
