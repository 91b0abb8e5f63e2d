import type { Evaluation } from '../fleet/evaluation.js';
import { FleetSummariser } from '../fleet/fleet-summariser.js';
import { RowEvaluator } from '../fleet/row-evaluator.js';
import type { FleetSummary } from '../fleet/summary.js';
import { compileLimitSet, type CompileOptions, type LimitPlan } from '../limits/compile-limit-set.js';
import type { LimitSet } from '../limits/limit-set.js';
import { loadLimitSet } from '../limits/load-limit-set.js';
import type { ColumnRole } from '../readings/find-header.js';
import type { Problem } from '../readings/problem.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { openReadings, type OpenOptions } from './open-readings.js';
import type { SourceInfo } from './source-info.js';

/** How to evaluate readings. */
export interface EvaluateOptions extends Omit<OpenOptions, 'dictionary'> {
  /** The limit set: an identifier, a path to a JSON file, or the set itself. */
  readonly limits?: string | LimitSet;
  /** Inspections after this date (`yyyy-mm-dd`) are left out of the summaries. */
  readonly asOf?: string | null;
  /** Called now and then with the number of inspections so far. */
  readonly onProgress?: (inspections: number) => void;
}

/** An evaluated fleet. */
export interface EvaluatedFleet {
  readonly plan: LimitPlan;
  readonly source: SourceInfo;
  readonly columns: readonly ColumnRole[];
  readonly evaluations: readonly Evaluation[];
  readonly summary: FleetSummary;
  readonly problems: readonly Problem[];
  /** What was taken how when the table was put together from another shape, in sentences. */
  readonly notes: readonly string[];
  /** The date up to which the summaries go; null when they hold every inspection. */
  readonly asOf: string | null;
}

/**
 * The limit set that an option names, compiled.
 *
 * @throws TreadlebookError `limit_set_unknown`, `limit_set_invalid`, with the file that it was read from
 */
export function planOf(limits: string | LimitSet | undefined, options: CompileOptions = {}): LimitPlan {
  if (typeof limits === 'object') return compileLimitSet(limits, options);
  const set = loadLimitSet(limits);
  try {
    return compileLimitSet(set, options);
  } catch (cause) {
    if (!(cause instanceof TreadlebookError) || limits === undefined) throw cause;
    const { code, what, where, mend } = cause;
    throw new TreadlebookError({ code, what, mend, where: where === undefined ? limits : `${limits}, ${where}`, cause });
  }
}

/**
 * Reads a table and evaluates every inspection: the main job. What it returns can be written as a workbook, CSV or JSON.
 *
 * @throws TreadlebookError as {@link openReadings}, and `input_empty` when there is no inspection below the header
 * @example
 * const fleet = await evaluateReadings('samples/invented-fleet.csv');
 * console.log(fleet.summary.units[0].unit);
 */
export async function evaluateReadings(input: string | Uint8Array | AsyncIterable<Uint8Array>, options: EvaluateOptions = {}): Promise<EvaluatedFleet> {
  const plan = planOf(options.limits);
  const { reader, source, otherSheets } = await openReadings(input, { ...options, dictionary: plan.dictionary });
  const evaluator = new RowEvaluator(plan);
  const summariser = new FleetSummariser(plan);
  const evaluations: Evaluation[] = [];
  for await (const inspection of reader.inspections) {
    const evaluation = evaluator.evaluate(inspection);
    evaluations.push(evaluation);
    if (!options.asOf || (evaluation.inspected_on ?? '') <= options.asOf) summariser.add(evaluation);
    if (evaluations.length % 1000 === 0) options.onProgress?.(evaluations.length);
  }
  if (evaluations.length === 0) {
    throw new TreadlebookError({ code: 'input_empty', where: source().name, what: 'there is no inspection below the header', mend: 'type or paste at least one row' });
  }
  return { plan, source: source(), columns: reader.columns, evaluations, summary: summariser.result(), problems: [...otherSheets.map(sheetNotRead), ...reader.problems].sort((a, b) => (a.row ?? 0) - (b.row ?? 0)), notes: reader.notes, asOf: options.asOf ?? null };
}

function sheetNotRead(sheet: string): Problem {
  return { code: 'sheet_not_read', sheet, row: null, column: '', cell: '', found: 'a sheet with a header of its own', expected: 'one sheet of readings; name this one with --sheet to read it instead' };
}
