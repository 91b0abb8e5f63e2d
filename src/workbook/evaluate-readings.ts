import type { BaselineComparison } from '../fleet/baseline-comparison.js';
import { compareFleets } from '../fleet/compare-fleets.js';
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
import { countedRow } from '../util/continued-sheets.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { askedPeriod, type PeriodOptions } from './asked-period.js';
import type { BaselineInfo } from './baseline-info.js';
import { evaluateBaseline, withDates, type EvaluatedBaseline } from './evaluate-baseline.js';
import type { EvaluatedStrokes } from './evaluated-strokes.js';
import { openReadings, type OpenOptions } from './open-readings.js';
import { openStrokes, strokesOfBook, type OpenedStrokes } from './open-strokes.js';
import { isCounted, periodCounts } from './period-counts.js';
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
  /** This period beside an earlier table; null where none was given. */
  readonly baseline: BaselineComparison | null;
  /** What is known of that table; null where none was given. */
  readonly baselineInfo: BaselineInfo | null;
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
 * Every inspection is evaluated, whatever the period; the summaries count those in it.
 *
 * @throws TreadlebookError as {@link openReadings}; `input_empty` when there is no inspection below the header; `usage` for
 *   a period that is none; what is wrong with a baseline says that it is the baseline
 * @example
 * const fleet = await evaluateReadings('samples/invented-fleet.csv');
 * console.log(fleet.summary.units[0].unit);
 * @example
 * const fleet = await evaluateReadings('2026.csv', { from: '2026-04-01', to: '2026-06-30', by: 'month', baseline: '2025.xlsx' });
 * console.log(fleet.baseline.rates[0].verdict); // 'better', 'worse', 'no difference shown' or 'not to be compared'
 */
export async function evaluateReadings(input: ReadingsInput, options: EvaluateOptions = {}): Promise<EvaluatedFleet> {
  const period = askedPeriod(options);
  const base = planOf(options.limits);
  const before = options.baseline == null ? null : await evaluateBaseline(options.baseline, base, { name: options.baselineName, dateOrder: options.dateOrder, units: options.units });
  const { reader, source, otherSheets, book } = await openReadings(input, { ...options, dictionary: base.dictionary });
  const plan = planFor(base, reader.columns);
  const evaluator = new RowEvaluator(plan);
  const summariser = new FleetSummariser(plan, period);
  const evaluations: Evaluation[] = [];
  for await (const inspection of reader.inspections) {
    const evaluation = evaluator.evaluate(inspection);
    evaluations.push(evaluation);
    summariser.add(evaluation);
    if (evaluations.length % 1000 === 0) options.onProgress?.(evaluations.length);
  }
  if (evaluations.length === 0) {
    throw new TreadlebookError({ code: 'input_empty', where: source().name, what: 'there is no inspection below the header', mend: 'type or paste at least one row' });
  }
  const strokes = await strokesFor(options, book, source());
  const rowOf = ({ sheet, row }: Problem): number => (row === null ? 0 : countedRow(reader.sheet, { sheet, row }));
  const problems = [...otherSheets.map((sheet) => sheetNotRead(sheet)), ...reader.problems].sort((a, b) => rowOf(a) - rowOf(b)).concat(strokes.problems);
  const now = { summary: summariser.result(), source: source() };
  const beside = before === null ? { baseline: null, baselineInfo: null } : besideBaseline(now, evaluations, before);
  return { plan, source: now.source, columns: reader.columns, evaluations, summary: now.summary, problems, strokes: strokes.strokes, notes: reader.notes, asOf: period.to, ...beside };
}

function besideBaseline({ summary, source }: Pick<EvaluatedFleet, 'summary' | 'source'>, evaluations: readonly Evaluation[], before: EvaluatedBaseline): { readonly baseline: BaselineComparison; readonly baselineInfo: BaselineInfo } {
  const counted = evaluations.filter((evaluation) => isCounted(evaluation, summary.period));
  return {
    baseline: compareFleets({ summary: withDates(summary, periodCounts(counted, summary.period)), source }, before.fleet),
    baselineInfo: { ...before.info, shared: counted.filter((evaluation) => before.seen.has(evaluation)).length },
  };
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
