import type { CellOrigin, RawRow, RawTable } from '../util/raw-table.js';
import type { UnplacedCell } from './checklist-reshaped-table.js';
import { findHeader, HEADER_SEARCH_ROWS } from './choose-header.js';
import type { Dictionary } from './dictionary.js';
import { recogniseShape, type Shape } from './recognise-shape.js';
import { reshapeChecklist } from './reshape-checklist.js';
import { reshapeLongForm } from './reshape-long-form.js';
import { needlePairs, splitNeedlePairs } from './split-needle-pairs.js';
import { UNSTORED, UNSTORED_MEND } from './unstored-words.js';

/** A cell of the input that has no place in the table, with its sheet. */
export interface UnplacedOnSheet extends UnplacedCell {
  readonly sheet: string;
}

/** A table with one row per inspection, whatever shape it came in. */
export interface ShapedTable {
  readonly table: RawTable;
  readonly shape: Shape | null;
  readonly unplaced: readonly UnplacedOnSheet[];
  /** What was taken how, in plain sentences. */
  readonly notes: readonly string[];
  /** Headers of the columns that are not ours, where the table was put together. */
  readonly extras: readonly string[];
}

/** Rows that are looked at to tell the shape. */
const ROWS_LOOKED_AT = 60;

/**
 * Brings a table to one row per inspection: a list with one row per test, a form of labels and values, and a table on its
 * side are put together; a table that has that shape already goes through, row by row.
 */
export async function shapeTable(table: RawTable, dictionary: Dictionary): Promise<ShapedTable> {
  const rows = table.rows[Symbol.asyncIterator]();
  const top: RawRow[] = [];
  while (top.length < ROWS_LOOKED_AT) {
    const next = await rows.next();
    if (next.done) break;
    top.push(next.value);
  }
  const rest = async function* (): AsyncGenerator<RawRow> {
    yield* top;
    for (let next = await rows.next(); !next.done; next = await rows.next()) yield next.value;
  };
  const shape = recogniseShape(top, dictionary);
  if (shape === null || shape === 'table') return withNeedlePairs({ ...table, rows: rest() }, top, shape, dictionary);
  const all: RawRow[] = [];
  for await (const row of rest()) all.push(row);
  const reshaped = shape === 'long' ? reshapeLongForm(all, dictionary, { date1904: table.date1904 }) : reshapeChecklist(all, dictionary, shape);
  if (reshaped.rows.length === 0) return { table: { ...table, rows: walk(all) }, shape: null, unplaced: [], notes: [], extras: [] };
  return {
    table: { ...table, rows: walk([{ number: 0, cells: [...reshaped.header] }, ...numberedApart(reshaped.rows)]) },
    shape,
    unplaced: [...reshaped.unplaced, ...unstoredIn(all)].map((cell) => ({ ...cell, sheet: table.sheet })),
    notes: [SHAPE_WORDS[shape], ...reshaped.notes],
    extras: reshaped.header.slice(reshaped.fieldCount),
  };
}

/** Cells whose formulas have no stored value; what they mean cannot be told, wherever they stand. */
function unstoredIn(rows: readonly RawRow[]): UnplacedCell[] {
  return rows.flatMap(({ number, unstored = [] }) => unstored.map((column) => ({ row: number, column, header: '', found: UNSTORED, expected: UNSTORED_MEND })));
}

/** A plain table, with columns that hold both needles made into two. */
function withNeedlePairs(table: RawTable, top: readonly RawRow[], shape: 'table' | null, dictionary: Dictionary): ShapedTable {
  const header = findHeader(top.slice(0, HEADER_SEARCH_ROWS), dictionary);
  const pairs = header === null ? [] : needlePairs(header, dictionary);
  if (header === null || pairs.length === 0) return { table, shape, unplaced: [], notes: [], extras: [] };
  const rows = async function* (): AsyncGenerator<RawRow> {
    for await (const row of table.rows) yield splitNeedlePairs(row, pairs, header.row);
  };
  const notes = pairs.map(({ header: title, primary, secondary }) => `${JSON.stringify(title)} names no circuit: a pair such as 115/112 was taken as ${primary} and ${secondary}, a single number as ${primary}.`);
  return { table: { ...table, rows: rows() }, shape, unplaced: [], notes, extras: [] };
}

/** Rows whose numbers say which is which: where several have one number, as on a table on its side, they are numbered through. */
function numberedApart(rows: readonly RawRow[]): readonly RawRow[] {
  if (new Set(rows.map(({ number }) => number)).size === rows.length) return rows;
  return rows.map((row, index) => ({ ...row, number: index + 1 }));
}

const SHAPE_WORDS: Readonly<Record<Exclude<Shape, 'table'>, string>> = {
  long: 'The sheet has one row per test; the rows of one unit and date were put together.',
  checklist: 'The sheet is a form of labels and values; each form was taken as one inspection.',
  transposed: 'The sheet is a table on its side; each column was taken as one inspection.',
};

/** Puts several forms, each on a sheet of its own, into one table. Its rows are numbered through. */
export async function joinShapedTables(tables: readonly ShapedTable[]): Promise<ShapedTable> {
  const headers: string[] = [];
  const at = new Map<string, number>();
  const joined: RawRow[] = [];
  for (const { table } of tables) {
    let header: readonly string[] | null = null;
    for await (const row of table.rows) {
      if (header === null) {
        header = row.cells.map(String);
        for (const name of header) if (!at.has(name)) at.set(name, headers.push(name) - 1);
        continue;
      }
      const cells: RawRow['cells'][number][] = [];
      const origins: (CellOrigin | null)[] = [];
      for (const [index, name] of header.entries()) {
        const origin = row.origins ? row.origins[index] : { row: row.number, column: index };
        cells[at.get(name)!] = row.cells[index] ?? null;
        origins[at.get(name)!] = origin ? { ...origin, sheet: table.sheet } : null;
      }
      joined.push({ number: joined.length + 1, cells, origins });
    }
  }
  const rows = joined.map(({ number, cells, origins }) => ({ number, cells: headers.map((_, index) => cells[index] ?? null), origins: headers.map((_, index) => origins?.[index] ?? null) }));
  const [first] = tables as [ShapedTable];
  return {
    table: { ...first.table, rows: walk([{ number: 0, cells: headers }, ...rows]) },
    shape: first.shape,
    unplaced: tables.flatMap(({ unplaced }) => unplaced),
    extras: [...new Set(tables.flatMap(({ extras }) => extras))],
    notes: [...first.notes, `One inspection per sheet: ${tables.map(({ table }) => table.sheet).join(', ')}.`],
  };
}

async function* walk(rows: readonly RawRow[]): AsyncGenerator<RawRow> {
  yield* rows;
}

