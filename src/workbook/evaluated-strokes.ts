import type { ColumnRole } from '../readings/find-header.js';
import type { StrokeEvaluation } from '../strokes/evaluate-strokes.js';
import type { TableSource } from './source-info.js';
import type { Stroke } from '../strokes/stroke.js';

/** Where the strokes came from, and how many rows there were: read = blank + set aside + strokes. */
export interface StrokesSource extends TableSource {
  readonly strokes: number;
}

/** A table of strokes as it was read, and what came of it. */
export interface EvaluatedStrokes {
  readonly strokes: readonly Stroke[];
  /** The columns of the table and what each was taken as. */
  readonly columns: readonly ColumnRole[];
  readonly evaluation: StrokeEvaluation;
  readonly source: StrokesSource;
  /** How many strokes a workbook's sheet has no rows for. */
  readonly leftOut?: number;
}
