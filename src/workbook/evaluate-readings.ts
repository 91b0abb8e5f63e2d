import type { Evaluation } from '../fleet/evaluation.js';
import { FleetSummariser } from '../fleet/fleet-summariser.js';
import { RowEvaluator } from '../fleet/row-evaluator.js';
import type { FleetSummary } from '../fleet/summary.js';
import type { XlsxBook } from '../formats/read-xlsx.js';
import { compileLimitSet, type CompileOptions, type LimitPlan } from '../limits/compile-limit-set.js';
import { diagnosisFor } from '../limits/diagnosis-for.js';
import { limitSetOf, type LimitsGiven } from '../limits/limit-set-of.js';
import { HALF_WIDTH } from '../readings/field.js';
import type { ColumnRole } from '../readings/find-header.js';
import { optionalColumnsOf } from '../readings/optional-columns.js';
import type { Problem } from '../readings/problem.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import type { EvaluatedStrokes } from './evaluated-strokes.js';
import { openReadings, type OpenOptions } from './open-readings.js';
import { openStrokes, strokesOfBook, type OpenedStrokes } from './open-strokes.js';
import type { SourceInfo } from './source-info.js';

/** How to evaluate readings. */
export interface EvaluateOptions extends Omit<OpenOptions, 'dictionary'> {
  /** The limit set: an identifier, a path to a JSON file, or the set itself; a list of them, the main one first, or a text with commas, for a fleet that crosses borders. */
  readonly limits?: LimitsGiven;
  /** Inspections after this date (`yyyy-mm-dd`) are left out of the summaries. */
  readonly asOf?: string | null;
  /** A table of pushrod strokes of its own: a path, bytes or a stream. When left out, the sheet Strokes of the same workbook. */
  readonly strokes?: string | Uint8Array | AsyncIterable<Uint8Array>;
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
  /** The pushrod strokes; null where there are none. */
  readonly strokes?: EvaluatedStrokes | null;
}

/**
 * The limit set that an option names, compiled.
 *
 * @throws TreadlebookError `limit_set_unknown`, `limit_set_invalid`, with the file that it was read from
 */
export function planOf(limits: LimitsGiven | undefined, options: CompileOptions = {}): LimitPlan {
  const set = limitSetOf(limits);
  try {
    return compileLimitSet(set, options);
  } catch (cause) {
    if (!(cause instanceof TreadlebookError) || typeof limits !== 'string') throw cause;
    const { code, what, where, mend } = cause;
    throw new TreadlebookError({ code, what, mend, where: where === undefined ? limits : `${limits}, ${where}`, cause });
  }
}

/** The plan of a limit set for a table: with the measures of the optional columns that the table has, and those for diagnosis. */
export function planFor(plan: LimitPlan, columns: readonly ColumnRole[]): LimitPlan {
  const optional = optionalColumnsOf(columns, plan.dictionary);
  const diagnosis = diagnosisFor(plan.set, optional);
  if (diagnosis.size === 0 && [...optional].every((name) => plan.optionalColumns.has(name))) return plan;
  return compileLimitSet(plan.set, { optionalColumns: new Set([...plan.optionalColumns, ...halfWidthsOf(optional), ...optional]), diagnosis });
}

/** A range may be written for a reading whose half-width has no column yet. */
function halfWidthsOf(columns: ReadonlySet<string>): string[] {
  return [...columns].filter((name) => !name.endsWith(HALF_WIDTH)).map((name) => name + HALF_WIDTH);
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
  const base = planOf(options.limits);
  const { reader, source, otherSheets, book } = await openReadings(input, { ...options, dictionary: base.dictionary });
  const plan = planFor(base, reader.columns);
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
  const { strokes, problems } = await strokesFor(options, book, source());
  return { plan, source: source(), columns: reader.columns, evaluations, summary: summariser.result(), problems: [...otherSheets.map((sheet) => sheetNotRead(sheet)), ...reader.problems].sort((a, b) => (a.row ?? 0) - (b.row ?? 0)).concat(problems), strokes, notes: reader.notes, asOf: options.asOf ?? null };
}

/** The strokes of the file that was named for them, else of the workbook that the readings stand in. */
async function strokesFor({ strokes, dateOrder }: EvaluateOptions, book: XlsxBook | undefined, { name, sha256 }: SourceInfo): Promise<OpenedStrokes> {
  if (strokes === undefined) return book ? strokesOfBook(book, { name, dateOrder }, sha256) : { strokes: null, problems: [] };
  const opened = await openStrokes(strokes, { dateOrder });
  const others = book ? await strokesOfBook(book, { name, dateOrder }, sha256) : null;
  return others?.strokes ? { ...opened, problems: [sheetNotRead(others.strokes.source.sheet, 'strokes', 'strokes in one place; those of the file named with --strokes were read'), ...opened.problems] } : opened;
}

function sheetNotRead(sheet: string, found = 'a sheet with a header of its own', expected = 'one sheet of readings; name this one with --sheet to read it instead'): Problem {
  return { code: 'sheet_not_read', sheet, row: null, column: '', cell: '', found, expected };
}
