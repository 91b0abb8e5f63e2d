import { csvRecord, writeCsv, type CsvCell } from '../formats/write-csv.js';
import type { Evaluation } from '../fleet/evaluation.js';
import { RowEvaluator } from '../fleet/row-evaluator.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import type { LimitsGiven } from '../limits/limit-set-of.js';
import { entryText } from '../readings/entry-text.js';
import type { ColumnRole } from '../readings/find-header.js';
import type { Inspection } from '../readings/inspection.js';
import { computedCell, extraCell } from './cell-values.js';
import { planOf } from './plan-for.js';

/**
 * The readings as CSV, with the computed columns behind them: columns in the order of the file, texts as they were found.
 *
 * @param delimiter a comma when left out
 * @example for await (const line of evaluatedCsv(fleet.plan, fleet.columns, fleet.evaluations)) process.stdout.write(line);
 */
export async function* evaluatedCsv(plan: LimitPlan, columns: readonly ColumnRole[], evaluations: Iterable<Evaluation> | AsyncIterable<Evaluation>, delimiter = ','): AsyncGenerator<string> {
  yield evaluatedHeader(plan, columns, delimiter);
  const lineOf = evaluatedLines(plan, columns, delimiter);
  for await (const evaluation of evaluations) yield lineOf(evaluation);
}

/** The first line of {@link evaluatedCsv}. */
export function evaluatedHeader({ dictionary, columns: computed }: LimitPlan, columns: readonly ColumnRole[], delimiter: string): string {
  const names = keptOf(columns).map((column) => (column.role === 'field' ? dictionary.fields[column.position]!.name : column.header));
  return csvRecord([...names, ...computed.map(({ name }) => name)], { delimiter });
}

/** Makes the further lines of {@link evaluatedCsv}, one of each evaluation. */
export function evaluatedLines({ dictionary: { fields } }: LimitPlan, columns: readonly ColumnRole[], delimiter: string): (evaluation: Evaluation) => string {
  const kept = keptOf(columns);
  const extraCount = kept.filter(({ role }) => role === 'extra').length;
  return ({ inspection, computed }) => {
    const { values, extra, asFound } = inspection;
    let extras = 0;
    const cells: CsvCell[] = [];
    for (const column of kept) {
      if (column.role !== 'field') cells.push(extraCell(extra[extras++]));
      else cells.push(asFound.get(fields[column.position]!.name) ?? entryText(fields[column.position]!, values[column.position] ?? null));
    }
    for (const value of computed) cells.push(computedCell(value));
    // The cells that stood beyond the header stand beyond it again.
    for (const cell of extra.slice(extraCount)) cells.push(extraCell(cell));
    return csvRecord(cells, { delimiter });
  };
}

function keptOf(columns: readonly ColumnRole[]): readonly Exclude<ColumnRole, { role: 'as_found' }>[] {
  return columns.filter((column) => column.role === 'field' || column.role === 'extra') as Exclude<ColumnRole, { role: 'as_found' }>[];
}

/** A blank table for entry: the header alone. */
export function blankCsv(limits: LimitsGiven | undefined, delimiter = ','): AsyncIterable<string> {
  const { dictionary, optionalColumns } = planOf(limits, { optionalColumns: new Set() });
  const { fields, sheetOrder, standardCount } = dictionary;
  return writeCsv([sheetOrder.filter((position) => position < standardCount || optionalColumns.has(fields[position]!.name)).map((position) => fields[position]!.name)], { delimiter });
}

/** Evaluates inspections one after the other, in bounded memory. */
export async function* evaluateInspections(plan: LimitPlan, inspections: Iterable<Inspection> | AsyncIterable<Inspection>): AsyncGenerator<Evaluation> {
  const evaluator = new RowEvaluator(plan);
  for await (const inspection of inspections) yield evaluator.evaluate(inspection);
}
