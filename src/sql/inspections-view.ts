import type { SqlDialect } from '../expressions/sql-dialect.js';
import { SqlLayers } from '../expressions/sql-layers.js';
import { sql, sqlConstant, sqlJoin, withBlank, type SqlPart } from '../expressions/sql-part.js';
import { toSql } from '../expressions/to-sql.js';
import { falseIfBlank } from '../limits/check-names.js';
import type { CheckPlan } from '../limits/compile-checks.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { COMPUTED_PREFIX } from '../readings/table-names.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { baseColumns } from './base-columns.js';
import { shortName } from './short-name.js';

/** The column that tells which of the alternatives of a check applied, counted from 1; null for a check that has but one. */
export function alternativeColumn({ check, alternatives }: CheckPlan): string | null {
  return alternatives.length < 2 ? null : `${COMPUTED_PREFIX}${check}_alternative`;
}

/**
 * The query of the view `inspections`: the readings, and every computed column of the plan by the name that it has in a sheet.
 *
 * @throws TreadlebookError `usage` where it has more columns than the dialect takes
 */
export function inspectionsQuery(plan: LimitPlan, table: string, dialect: SqlDialect): string {
  const layers = new SqlLayers(dialect);
  const { query, size, readings, names } = baseColumns(plan, table, layers);
  const known = new Map(names);
  const reference = (name: string): SqlPart => {
    const part = known.get(name);
    if (part === undefined) throw new Error(`no column for ${name}`);
    return part;
  };
  const wanted = [...readings];
  const add = (name: string, part: SqlPart): SqlPart => {
    const column = layers.define(shortName(name, dialect), part);
    wanted.push(column.text);
    return column;
  };
  for (const { id, name, tree } of plan.columns) known.set(id, add(name, tree === null ? withBlank(sql`(${reference(id)})`, reference(id).mayBeBlank) : toSql(tree, reference, layers)));
  for (const check of plan.checks) {
    const name = alternativeColumn(check);
    if (name === null) continue;
    const cases = check.alternatives.map(({ when }, index) => sql`WHEN ${when === null ? sqlConstant(true, dialect) : toSql(falseIfBlank(when), reference, layers)} THEN ${index + 1}`);
    add(name, withBlank(sql`CASE ${sqlJoin(cases, ' ')} ELSE 1 END`, false));
  }
  const columns = size + layers.size;
  if (dialect.mostColumns !== null && columns > dialect.mostColumns) {
    throw new TreadlebookError({ code: 'usage', where: 'sql', what: `a query over ${plan.set.id} would have ${columns} columns; ${dialect.name} takes ${dialect.mostColumns}`, mend: 'name fewer limit sets' });
  }
  return layers.query(query, wanted);
}
