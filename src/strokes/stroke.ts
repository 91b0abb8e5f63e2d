import type { RawCell } from '../util/raw-table.js';

/** The columns of the table of strokes, in order. */
export const STROKE_FIELDS = ['inspection_id', 'unit', 'inspected_on', 'position', 'chamber_type', 'chamber_size', 'stroke_kind', 'rated_stroke', 'stroke', 'stroke_unit'] as const;

/** The name of a column of the table of strokes. */
export type StrokeField = (typeof STROKE_FIELDS)[number];

/** What stands in an entry cell: what was understood, or the text that was not. */
export type StrokeEntry = string | number | null;

/**
 * The entries of one brake chamber. A text in `stroke` or `rated_stroke` is one that was not understood; `inspected_on` is
 * `yyyy-mm-dd`.
 */
export type StrokeEntries = Readonly<Record<StrokeField, StrokeEntry>>;

/** One brake chamber: one row of the table of strokes. */
export interface Stroke {
  /** Row of the sheet, line of the file, or position in a JSON list. */
  readonly row: number;
  readonly entries: StrokeEntries;
  /** The text as found, by field, where it says more than the entry. */
  readonly asFound: ReadonlyMap<string, string>;
  /** The cells of the columns that are not ours, in the order of those columns. */
  readonly extra: readonly RawCell[];
}

/** Entries with nothing in them. */
export const NO_ENTRIES: StrokeEntries = Object.fromEntries(STROKE_FIELDS.map((field) => [field, null])) as Record<StrokeField, null>;
