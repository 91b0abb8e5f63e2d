import type { ColumnRole } from '../readings/find-header.js';
import type { StrokeEvaluation } from '../strokes/evaluate-strokes.js';
import type { Stroke } from '../strokes/stroke.js';

/** Where the strokes came from, and how many rows there were: read = blank + set aside + strokes. */
export interface StrokesSource {
  readonly name: string;
  readonly sheet: string;
  /** SHA-256 of the bytes that were read. */
  readonly sha256: string;
  readonly rows_read: number;
  readonly rows_blank: number;
  readonly rows_set_aside: number;
  readonly strokes: number;
}

/** A table of strokes as it was read, and what came of it. */
export interface EvaluatedStrokes {
  readonly strokes: readonly Stroke[];
  /** The columns of the table and what each was taken as. */
  readonly columns: readonly ColumnRole[];
  readonly evaluation: StrokeEvaluation;
  readonly source: StrokesSource;
}
