import { writeCsv } from '../formats/write-csv.js';
import type { Evaluation } from '../fleet/evaluation.js';
import { RowEvaluator } from '../fleet/row-evaluator.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import type { LimitsGiven } from '../limits/limit-set-of.js';
import { entryText } from '../readings/entry-text.js';
import type { ColumnRole } from '../readings/find-header.js';
import type { Inspection } from '../readings/inspection.js';
import { computedCell, extraCell } from './cell-values.js';
import { planOf } from './plan-for.js';

type CsvCell = string | number | boolean | null;

/**
 * The readings as CSV, with the computed columns behind them: columns in the order of the file, texts as they were found.
 *
 * @param delimiter a comma when left out
 * @example for await (const line of evaluatedCsv(fleet.plan, fleet.columns, fleet.evaluations)) process.stdout.write(line);
 */
export function evaluatedCsv(plan: LimitPlan, columns: readonly ColumnRole[], evaluations: Iterable<Evaluation> | AsyncIterable<Evaluation>, delimiter = ','): AsyncIterable<string> {
  return writeCsv(rows(plan, columns, evaluations), { delimiter });
}

async function* rows(plan: LimitPlan, columns: readonly ColumnRole[], evaluations: Iterable<Evaluation> | AsyncIterable<Evaluation>): AsyncGenerator<CsvCell[]> {
  const kept = columns.filter(({ role }) => role === 'field' || role === 'extra');
  const fields = plan.dictionary.fields;
  yield [...kept.map((column) => (column.role === 'field' ? fields[column.position]!.name : column.header)), ...plan.columns.map(({ name }) => name)];
  for await (const { inspection, computed } of evaluations) {
    yield [...entryCells(plan, kept, inspection), ...computed.map((value) => computedCell(value)), ...beyond(kept, inspection)];
  }
}

function entryCells(plan: LimitPlan, kept: readonly ColumnRole[], inspection: Inspection): CsvCell[] {
  let extras = 0;
  return kept.map((column): CsvCell => {
    if (column.role !== 'field') return extraCell(inspection.extra[extras++]);
    const field = plan.dictionary.fields[column.position]!;
    return inspection.asFound.get(field.name) ?? entryText(field, inspection.values[column.position] ?? null);
  });
}

/** The cells that stood beyond the header stand beyond it again. */
function beyond(kept: readonly ColumnRole[], { extra }: Inspection): CsvCell[] {
  return extra.slice(kept.filter(({ role }) => role === 'extra').length).map(extraCell);
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
