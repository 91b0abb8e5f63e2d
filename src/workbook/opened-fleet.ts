import type { BaselineComparison } from '../fleet/baseline-comparison.js';
import type { Evaluation } from '../fleet/evaluation.js';
import type { FleetSummary } from '../fleet/summary.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import type { LimitsGiven } from '../limits/limit-set-of.js';
import type { Verdict } from '../limits/verdict.js';
import type { ColumnRole } from '../readings/find-header.js';
import type { Problem } from '../readings/problem.js';
import type { PeriodOptions } from './asked-period.js';
import type { BaselineInfo } from './baseline-info.js';
import type { EvaluatedStrokes } from './evaluated-strokes.js';
import type { OpenOptions } from './open-readings.js';
import type { PeriodCounts } from './period-counts.js';
import type { ReadingsInput } from './readings-input.js';
import type { SourceInfo } from './source-info.js';

/** How to evaluate readings. */
export interface EvaluateOptions extends Omit<OpenOptions, 'dictionary'>, PeriodOptions {
  /** The limit set: an identifier, a path to a JSON file, or the set itself; a list of them, the main one first, or a text with commas, for a fleet that crosses borders. */
  readonly limits?: LimitsGiven;
  /**
   * An earlier table to set this one beside: an evaluated workbook or any readings, evaluated with the same limits. Of a
   * workbook whose summaries count a period, that period is counted; else all inspections.
   */
  readonly baseline?: ReadingsInput | null;
  /** The baseline's name for messages and Provenance; a path's own name when left out. */
  readonly baselineName?: string;
  /** A table of pushrod strokes of its own: a path, bytes or a stream. When left out, the sheet Strokes of the same workbook. */
  readonly strokes?: string | Uint8Array | AsyncIterable<Uint8Array>;
  /**
   * What is read first, before the input: a workbook or any readings that the input is added to. Of the input, inspections that
   * stand in it already, the same in every entry, are passed over.
   */
  readonly appendTo?: ReadingsInput | null;
  /** The name of what is appended to, for messages and Provenance; a path's own name when left out. */
  readonly appendToName?: string;
  /** Called now and then with the number of inspections so far. */
  readonly onProgress?: (inspections: number) => void;
}

/** How to open a fleet. */
export interface OpenFleetOptions extends EvaluateOptions {
  /** Whether the figures of the fleet are wanted, for which something is kept of every inspection; true when left out. */
  readonly summarise?: boolean;
}

/** The inspections of a fleet in numbers, whatever the period. */
export interface FleetCounts {
  readonly inspections: number;
  readonly verdicts: Readonly<Record<Verdict, number>>;
  /** Where their dates lie. */
  readonly period: PeriodCounts;
}

/** What was read of a fleet and how much of it passed, and what could not be taken as it stood. */
export interface FleetTally {
  readonly plan: LimitPlan;
  readonly source: SourceInfo;
  readonly columns: readonly ColumnRole[];
  readonly counts: FleetCounts;
  readonly problems: readonly Problem[];
  /** What was taken how when the table was put together from another shape, in sentences. */
  readonly notes: readonly string[];
  /** The pushrod strokes; null where there are none. */
  readonly strokes?: EvaluatedStrokes | null;
  /** Inspections that were passed over because what they were appended to holds them; left out where nothing was appended to. */
  readonly passedOver?: number;
}

/** What came of a fleet, without its inspections. */
export interface FleetOutcome extends FleetTally {
  readonly summary: FleetSummary;
  /** The date up to which the summaries go; null when they hold every inspection. */
  readonly asOf: string | null;
  /** This period beside an earlier table; null where none was given. */
  readonly baseline: BaselineComparison | null;
  /** What is known of that table; null where none was given. */
  readonly baselineInfo: BaselineInfo | null;
}

/** A fleet that is evaluated as its inspections are taken. */
export interface OpenedFleet {
  readonly plan: LimitPlan;
  readonly columns: readonly ColumnRole[];
  /** In the order of the table. They are evaluated as they are taken, and can be taken once. An error of the input comes out here. */
  readonly evaluations: AsyncIterable<Evaluation>;
  /** The evaluations as CSV, as `evaluatedCsv` makes it, in their place: they are taken with it. */
  csv(delimiter: string): AsyncIterable<string | Uint8Array>;
  /** Evaluates everything and keeps nothing of the rows, in the place of taking them. */
  drain(): Promise<void>;
  /** What was read, once the evaluations have been taken to their end. */
  tally(): FleetTally;
  /** What came of it, figures of the fleet included, once the evaluations have been taken to their end. */
  outcome(): FleetOutcome;
}
