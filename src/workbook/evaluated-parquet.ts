import type { Evaluation } from '../fleet/evaluation.js';
import { writeParquet, type ParquetCell, type ParquetColumn } from '../formats/write-parquet.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { formatAsFound } from '../readings/as-found-text.js';
import { HALF_WIDTH, type Field } from '../readings/field.js';
import type { ColumnRole } from '../readings/find-header.js';
import type { Inspection } from '../readings/inspection.js';
import { AS_FOUND } from '../readings/table-names.js';
import { extraCell } from './cell-values.js';

/** A column, and what it holds of each inspection. */
interface Column extends ParquetColumn {
  readonly cell: (evaluation: Evaluation) => ParquetCell;
}

/**
 * The readings as Parquet, with the computed columns behind them: those of the evaluated CSV, with types. Pressures are in the unit of
 * their row, times in seconds. The half-width of a reading written as a range has a column of its own, and what cells said beyond
 * their value stands in the column `as_found`.
 *
 * @param name for messages
 * @throws TreadlebookError `output_unwritable`, also where the package `@duckdb/node-api` is not installed
 * @example await writeFileAtomically('fleet.parquet', evaluatedParquet(fleet.plan, fleet.columns, fleet.evaluations), true);
 */
export function evaluatedParquet(plan: LimitPlan, columns: readonly ColumnRole[], evaluations: readonly Evaluation[], name = 'the Parquet file'): AsyncIterable<Uint8Array> {
  const all = withDistinctNames([...entryColumns(plan, columns, evaluations), ...computedColumns(plan)]);
  const rows = function* (): Generator<ParquetCell[]> {
    for (const evaluation of evaluations) yield all.map(({ cell }) => cell(evaluation));
  };
  return writeParquet(all, rows(), name);
}

function entryColumns(plan: LimitPlan, roles: readonly ColumnRole[], evaluations: readonly Evaluation[]): Column[] {
  const { fields, position } = plan.dictionary;
  const kept = roles.filter(({ role }) => role === 'field' || role === 'extra');
  const named = new Set(kept.flatMap((column) => (column.role === 'field' ? [fields[column.position]!.name] : [])));
  let extras = 0;
  const columns = kept.flatMap((column): Column[] => {
    if (column.role !== 'field') {
      const at = extras++;
      return [{ name: column.header, type: 'VARCHAR', cell: ({ inspection }) => textOf(inspection, at) }];
    }
    const field = fields[column.position]!;
    const halfWidth = position.get(field.name + HALF_WIDTH);
    const own = fieldColumn(field, column.position);
    if (halfWidth === undefined || named.has(fields[halfWidth]!.name) || evaluations.every(({ inspection }) => (inspection.values[halfWidth] ?? null) === null)) return [own];
    return [own, fieldColumn(fields[halfWidth]!, halfWidth)];
  });
  const beyond = evaluations.reduce((most, { inspection }) => Math.max(most, inspection.extra.length), extras);
  for (let at = extras; at < beyond; at++) columns.push({ name: `beyond_header_${at - extras + 1}`, type: 'VARCHAR', cell: ({ inspection }) => textOf(inspection, at) });
  return [...columns, { name: AS_FOUND, type: 'VARCHAR', cell: ({ inspection: { asFound } }) => (asFound.size === 0 ? null : formatAsFound(asFound)) }];
}

function textOf({ extra }: Inspection, at: number): string | null {
  const cell = extraCell(extra[at]);
  return cell === null ? null : String(cell);
}

function fieldColumn(field: Field, position: number): Column {
  return { name: field.name, type: typeOf(field), cell: ({ inspection }) => inspection.values[position] ?? null };
}

function typeOf({ kind, never }: Field): ParquetColumn['type'] {
  if (never) return 'VARCHAR';
  switch (kind) {
    case 'text':
    case 'choice':
      return 'VARCHAR';
    case 'date':
      return 'DATE';
    case 'yes_no':
      return 'BOOLEAN';
    case 'count':
      return 'BIGINT';
    case 'pressure':
    case 'time':
    case 'quantity':
      return 'DOUBLE';
  }
}

function computedColumns({ columns }: LimitPlan): Column[] {
  const types = { number: 'DOUBLE', text: 'VARCHAR', truth: 'BOOLEAN' } as const;
  return columns.map(({ name, type }, index) => ({ name, type: types[type], cell: ({ computed }) => computed[index] ?? null }));
}

/** A column without a name gets one, and one whose name stands before it a number behind it. */
function withDistinctNames(columns: readonly Column[]): Column[] {
  const taken = new Set<string>();
  return columns.map((column, index) => {
    const wanted = column.name.replaceAll('\0', '').trim() === '' ? `column_${index + 1}` : column.name.replaceAll('\0', '');
    let name = wanted;
    for (let again = 2; taken.has(name.toLowerCase()); again++) name = `${wanted} (${again})`;
    taken.add(name.toLowerCase());
    return { ...column, name };
  });
}
