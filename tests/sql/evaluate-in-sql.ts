import { RowEvaluator } from '../../src/fleet/row-evaluator.js';
import type { Evaluation } from '../../src/fleet/evaluation.js';
import { DIALECTS } from '../../src/expressions/sql-dialect.js';
import type { Value } from '../../src/expressions/value.js';
import type { LimitPlan } from '../../src/limits/compile-limit-set.js';
import type { Entry } from '../../src/readings/inspection.js';
import { inspectionsQuery } from '../../src/sql/inspections-view.js';
import { createReadingsTable, readingsFields, readingType } from '../../src/sql/readings-columns.js';
import { sqlScript } from '../../src/sql/sql-script.js';
import type { SqlEngine } from '../support/sql-engines.js';
import { inspectionOf, type TableRow } from './random-inspections.js';

const ROWS_AT_ONCE = 100;

/** Makes the readings table anew with these rows, and the view `inspections` over it, or all views. */
export async function loadRows(engine: SqlEngine, plan: LimitPlan, rows: readonly TableRow[], views: 'inspections' | 'all' = 'inspections'): Promise<void> {
  const dialect = DIALECTS[engine.dialect];
  await engine.run('DROP VIEW IF EXISTS fail_rates; DROP VIEW IF EXISTS units; DROP VIEW IF EXISTS checks; DROP VIEW IF EXISTS inspections; DROP TABLE IF EXISTS readings;');
  if (views === 'all') await engine.run(sqlScript(plan, { dialect: engine.dialect }));
  else await engine.run(`${createReadingsTable(plan, 'readings', dialect)} CREATE VIEW inspections AS ${inspectionsQuery(plan, 'readings', dialect)};`);
  const fields = readingsFields(plan);
  const cell = (entry: Entry, type: string): string => {
    if (entry === null) return 'NULL';
    if (typeof entry === 'boolean') return String(entry);
    if (typeof entry === 'number') return type === dialect.text ? dialect.quote(String(entry)) : dialect.number(entry);
    return type === 'DATE' ? `DATE '${entry}'` : dialect.quote(entry);
  };
  for (let start = 0; start < rows.length; start += ROWS_AT_ONCE) {
    const values = rows.slice(start, start + ROWS_AT_ONCE).map((row) => `(${fields.map((field) => cell(row.get(field.name) ?? null, readingType(field, dialect))).join(', ')})`);
    await engine.run(`INSERT INTO readings (${fields.map(({ name }) => dialect.identifier(name)).join(', ')}) VALUES ${values.join(',\n')};`);
  }
}

/** The same rows, evaluated by the program. */
export function evaluated(plan: LimitPlan, rows: readonly TableRow[]): Evaluation[] {
  const evaluator = new RowEvaluator(plan);
  return rows.map((row, index) => evaluator.evaluate(inspectionOf(plan, row, index + 2)));
}

/** Whether a database holds what the program computed: texts and truths the same, numbers to 9 digits. */
export function isSame(expected: Value | readonly Value[], found: unknown): boolean {
  if (typeof expected !== 'number') return found === expected;
  return typeof found === 'number' && Math.abs(found - expected) <= 1e-9 * Math.max(1e-3, Math.abs(expected));
}
