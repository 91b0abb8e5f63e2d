import { DIALECTS, type SqlDialect, type SqlDialectName } from '../expressions/sql-dialect.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { checksQuery } from './checks-view.js';
import { failRatesQuery } from './fail-rates-view.js';
import { inspectionsQuery } from './inspections-view.js';
import { createReadingsTable, notReadColumn } from './readings-columns.js';
import { unitsQuery } from './units-view.js';

/** The views that a script makes, each from those before it. */
export const SQL_VIEWS = ['inspections', 'checks', 'units', 'fail_rates'] as const;

/** How to write a script. */
export interface SqlScriptOptions {
  readonly dialect: SqlDialectName;
  /** The readings table, with its schema before it where it has one: `fleet.readings`; `readings` when left out. The views stand in the same schema. */
  readonly table?: string;
}

/** A name of letters, digits, underscores, hyphens and spaces, and schemas before it. */
const TABLE_NAME = /^[\p{L}\p{N}_-]+(?: [\p{L}\p{N}_-]+)*(?:\.[\p{L}\p{N}_-]+(?: [\p{L}\p{N}_-]+)*){0,2}$/u;

/**
 * A script of SQL that evaluates a whole table of readings inside a database: it makes the table where there is none, and the views
 * `inspections`, `checks`, `units` and `fail_rates` over it.
 *
 * @throws TreadlebookError `usage` for a table's name that is none, or that is the name of a view
 * @example sqlScript(compileLimitSet(loadLimitSet('us-nevada')), { dialect: 'duckdb' })
 */
export function sqlScript(plan: LimitPlan, { dialect: dialectName, table = 'readings' }: SqlScriptOptions): string {
  const dialect = DIALECTS[dialectName];
  const parts = partsOf(table);
  const quoted = (name: string): string => [...parts.slice(0, -1), name].map((part) => dialect.identifier(part)).join('.');
  const readings = quoted(parts.at(-1)!);
  const [inspections, checks, units, failRates] = SQL_VIEWS.map(quoted) as [string, string, string, string];
  const sources = { inspections, checks };
  const view = (name: string, query: string): string => `CREATE ${dialect.replacesViews ? 'OR REPLACE ' : ''}VIEW ${name} AS\n${query};`;
  const drops = dialect.replacesViews ? [] : SQL_VIEWS.toReversed().map((name) => `DROP VIEW IF EXISTS ${quoted(name)};`);
  return `${[
    notes(plan, dialect),
    ...dialect.opening,
    createReadingsTable(plan, readings, dialect),
    ...drops,
    view(inspections, inspectionsQuery(plan, readings, dialect)),
    view(checks, checksQuery(plan, inspections, dialect)),
    view(units, unitsQuery(plan, sources, dialect)),
    view(failRates, failRatesQuery(plan, sources, dialect)),
  ].join('\n\n')}\n`;
}

function partsOf(table: string): string[] {
  if (!TABLE_NAME.test(table)) throw usage(`${JSON.stringify(table.slice(0, 60))} is no name of a table`, 'use letters, digits, underscores, hyphens and spaces, with the schema and a point before it');
  const parts = table.split('.');
  const view = SQL_VIEWS.find((name) => name === parts.at(-1)!.toLowerCase());
  if (view) throw usage(`the table cannot be called ${view}: a view is`, 'give the table another name');
  return parts;
}

function notes(plan: LimitPlan, dialect: SqlDialect): string {
  const lines = [
    `Readings of in-cab air-brake tests, evaluated in ${dialect.name}.`,
    `Limit set: ${plan.set.id}, SHA-256 ${plan.sha256}`,
    '',
    'The table of readings is a clean one, as evaluate -o clean.parquet writes it: dates are dates, yes and no are true and false,',
    'pressures are in the unit of their row (pressure_unit, psi where blank), times are in seconds. What may read never is a text:',
    `a number, or never. Blank is NULL. ${notReadColumn(plan)} names the cells that could not be read; such an inspection does not pass.`,
    '',
    'inspections  one row for each, with every computed column by the name that it has in the sheet Readings',
    'checks       one row for each inspection and check that applies; a yes is 1 and a no is 0 under value and limit',
    'units        one row for each unit',
    'fail_rates   by check, circuit, site, kind of vehicle, inspector, limit set and month',
    '',
    'Columns named step.N are what is computed once and used several times; each level reads the one before it.',
    '',
    plan.set.notice,
  ];
  // Some programs split a script at semicolons and quotes without regard to comments.
  const plain = (line: string): string => line.replace(/[\p{Cc}\u2028\u2029]+/gu, ' ').replaceAll("'", '’').replace(/[;"`$\\]/g, '');
  return lines.map((line) => `-- ${plain(line)}`.trimEnd()).join('\n');
}

function usage(what: string, mend: string): TreadlebookError {
  return new TreadlebookError({ code: 'usage', where: 'sql', what, mend });
}
