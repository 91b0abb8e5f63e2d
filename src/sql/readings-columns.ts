import type { SqlDialect } from '../expressions/sql-dialect.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { NOT_READ } from '../limits/working-columns.js';
import type { Field } from '../readings/field.js';

/** The fields of a readings table that take part in a plan, in the order of a sheet. */
export function readingsFields({ dictionary, optionalColumns }: Pick<LimitPlan, 'dictionary' | 'optionalColumns'>): Field[] {
  const { fields, sheetOrder, standardCount } = dictionary;
  return sheetOrder.filter((position) => position < standardCount || optionalColumns.has(fields[position]!.name)).map((position) => fields[position]!);
}

/** The name of the column that tells which cells were not understood: one that `evaluate` writes. */
export function notReadColumn({ columns }: Pick<LimitPlan, 'columns'>): string {
  return columns.find(({ id }) => id === NOT_READ)!.name;
}

/** The type of a reading's column: a pressure or quantity is a double, a time is in seconds, what may read `never` is a text. */
export function readingType(field: Pick<Field, 'kind' | 'never'>, dialect: Pick<SqlDialect, 'double' | 'text' | 'whole'>): string {
  if (field.never) return dialect.text;
  switch (field.kind) {
    case 'text':
    case 'choice':
      return dialect.text;
    case 'date':
      return 'DATE';
    case 'yes_no':
      return 'BOOLEAN';
    case 'count':
      return dialect.whole;
    case 'pressure':
    case 'time':
    case 'quantity':
      return dialect.double;
  }
}

/** The statement that makes an empty readings table where there is none: with every column that is known, so that it serves any limit set. */
export function createReadingsTable(plan: LimitPlan, table: string, dialect: SqlDialect): string {
  const { fields, sheetOrder } = plan.dictionary;
  const columns = sheetOrder.map((position) => fields[position]!).map((field) => `  ${dialect.identifier(field.name)} ${readingType(field, dialect)}`);
  return `CREATE TABLE IF NOT EXISTS ${table} (\n${[...columns, `  ${dialect.identifier(notReadColumn(plan))} ${dialect.text}`].join(',\n')}\n);`;
}
