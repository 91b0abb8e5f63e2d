import type { Workbook } from 'exceljs';
import type { ChartPart, DefinedName, SheetFill } from '../formats/xlsx-package/assemble-xlsx.js';
import type { BaselineComparison } from '../fleet/baseline-comparison.js';
import type { Evaluation } from '../fleet/evaluation.js';
import type { FleetSummary } from '../fleet/summary.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import type { ColumnRole } from '../readings/find-header.js';
import type { Problem } from '../readings/problem.js';
import type { BaselineInfo } from './baseline-info.js';
import type { EvaluatedStrokes } from './evaluated-strokes.js';
import type { ReadingsLayout } from './readings-layout.js';
import type { SourceInfo } from './source-info.js';

/** What a sheet is made from. */
export interface SheetContext {
  readonly book: Workbook;
  readonly plan: LimitPlan;
  readonly layout: ReadingsLayout;
  /** Null for a blank workbook. */
  readonly fleet: EvaluatedRows | null;
  /** True when the summary sheets are live formulas over Readings. */
  readonly live: boolean;
  /** The most lines of a list that does not go on; as many as a sheet holds when left out. */
  readonly mostLines?: number;
}

/** The evaluated inspections and what was found on the way. */
export interface EvaluatedRows {
  readonly evaluations: readonly Evaluation[];
  readonly summary: FleetSummary;
  readonly problems: readonly Problem[];
  readonly source: SourceInfo;
  /** The columns of the file and what each was taken as. */
  readonly columns: readonly ColumnRole[];
  /** The date up to which the summaries go; null when they hold every inspection. */
  readonly asOf: string | null;
  /** What was taken how when the table was put together from another shape. */
  readonly notes: readonly string[];
  /** This period beside an earlier table, and what is known of that; null or left out where none was given. */
  readonly baseline?: BaselineComparison | null;
  readonly baselineInfo?: BaselineInfo | null;
  /** The table of pushrod strokes; null or left out where there is none. */
  readonly strokes?: EvaluatedStrokes | null;
}

/** What a sheet leaves to the assembler: rows to be streamed, and charts. */
export interface SheetParts {
  readonly fill?: SheetFill;
  /** The rows of the sheets on which this one goes on. */
  readonly continued?: readonly SheetFill[];
  readonly charts?: readonly ChartPart[];
  readonly definedNames?: readonly DefinedName[];
}

/** Lays out one sheet of the workbook. */
export type SheetBuilder = (context: SheetContext) => SheetParts;
