import { afterAll, describe, expect, it } from 'vitest';
import { SQL_DIALECTS } from '../../src/expressions/sql-dialect.js';
import { compileLimitSet } from '../../src/limits/compile-limit-set.js';
import { limitSetOf } from '../../src/limits/limit-set-of.js';
import { limitSetIds } from '../../src/limits/load-limit-set.js';
import { TreadlebookError } from '../../src/util/treadlebook-error.js';
import { sqlScript } from '../../src/sql/sql-script.js';
import { ownPlan, SOURCE } from '../support/evaluate-rows.js';
import { openEngine, type SqlEngine } from '../support/sql-engines.js';
import { evaluated, loadRows } from './evaluate-in-sql.js';

const EVIL = ["'; DROP TABLE kept; --", '"quoted" and `ticked`', 'back\\slash \\u0027 \\', 'line\nbreak; DROP TABLE kept;', '$' + '{user.home} $$ $1 :name', '*/ /* -- ä'];

/** A limit set whose every text wants to get out of its quotes. */
const evilPlan = ownPlan({
  title: `Set ${EVIL[0]} ${EVIL[2]}`,
  notice: EVIL.join('\n'),
  measures: [{ measure: 'lost', title: 'Lost', unit: 'psi', expression: 'released_primary_start - released_primary_end', meaning: 'x', says: [{ say: `${EVIL.join(' ').replaceAll(/[{}]/g, '')} {value}` }] }],
  checks: EVIL.map((text, index) => ({ check: `evil_${index}`, title: `${index} ${text}`, measure: 'lost', at_most: 3, unit: 'psi', source: { ...SOURCE, citation: text } })),
});

describe.each(['duckdb', 'postgres'] as const)('a script in %s', (name) => {
  let engine: Promise<SqlEngine> | undefined;
  afterAll(async () => (await engine)?.close());

  it('keeps texts of limit sets and names of tables in their quotes', { timeout: 60_000 }, async (context) => {
    const database = await (engine ??= openEngine(name, context));
    await database.run('CREATE TABLE kept (id INTEGER);');
    const rows = [new Map<string, string | number | null>([['inspection_id', EVIL[0]!], ['unit', EVIL[1]!], ['inspected_on', '2026-03-14'], ['released_primary_start', 110], ['released_primary_end', 105], ['notes', EVIL[4]!]])];
    await loadRows(database, evilPlan, rows, 'all');
    const [evaluation] = evaluated(evilPlan, rows);
    expect((await database.rows('SELECT citation, title, reason FROM checks ORDER BY "check"')).map((row) => ({ ...row }))).toStrictEqual(evaluation!.checks.map(({ citation, reason }, index) => ({ citation, title: evilPlan.checks[index]!.title, reason })));
    expect(await database.rows('SELECT inspection_id, unit, notes, "computed.reason" AS reason FROM inspections')).toStrictEqual([{ inspection_id: EVIL[0], unit: EVIL[1], notes: EVIL[4], reason: evaluation!.reason }]);
    expect(await database.rows('SELECT * FROM kept')).toStrictEqual([]);
  });

  it('stands in the schema of its table, and may be run again for another limit set', { timeout: 60_000 }, async (context) => {
    const database = await (engine ??= openEngine(name, context));
    await database.run('CREATE SCHEMA "north-yard";');
    const table = 'north-yard.Readings of 2026';
    for (const id of ['nz-heavy-vehicle', 'eu-roadworthiness']) await database.run(sqlScript(compileLimitSet(limitSetOf(id)), { dialect: name, table }));
    await database.run(`INSERT INTO "north-yard"."Readings of 2026" (unit, inspected_on) VALUES ('T-1', DATE '2026-03-14');`);
    expect(await database.rows('SELECT unit, "computed.verdict" AS verdict FROM "north-yard"."inspections"')).toStrictEqual([{ unit: 'T-1', verdict: 'not tested' }]);
    expect((await database.rows('SELECT unit, latest_verdict FROM "north-yard".units'))).toStrictEqual([{ unit: 'T-1', latest_verdict: 'not tested' }]);
  });

  it('names in a table what its text columns hold that cannot be understood, and does not pass it', { timeout: 60_000 }, async (context) => {
    const database = await (engine ??= openEngine(name, context));
    const plan = compileLimitSet(limitSetOf('common-practice'));
    await loadRows(database, plan, [], 'all');
    await database.run(`INSERT INTO readings (unit, inspected_on, vehicle_kind, light_on_at, buzzer_on_at) VALUES ('A', DATE '2026-03-14', 'lorry', '7O', 'Never'), ('B', DATE '2026-03-14', 'TRUCK', '70', ' 65.5 ');`);
    expect(await database.rows('SELECT unit, vehicle_kind, "computed.not_understood" AS odd, "computed.warning_on_at" AS warning FROM inspections ORDER BY unit')).toStrictEqual([
      { unit: 'A', vehicle_kind: null, odd: ' [Kind] [Light on at]', warning: 0 },
      { unit: 'B', vehicle_kind: 'truck', odd: null, warning: 65.5 },
    ]);
  });
});

describe('a script', () => {
  it.each(['', 'a;b', "a'b", 'a"b', 'a`b', 'a.b.c.d', 'a b ', '.a', 'a..b', 'a--\nb', 'checks', 'main.UNITS', '$' + '{a}'])('is refused for a table called %j', (table) => {
    expect(() => sqlScript(evilPlan, { dialect: 'duckdb', table })).toThrow(TreadlebookError);
  });

  it('is refused for more limit sets than PostgreSQL has columns for', () => {
    const many = compileLimitSet(limitSetOf(['us-driver-licence-manual', 'us-federal-in-service', 'ca-quebec', 'ca-ontario', 'us-california', 'us-new-hampshire']));
    // PostgreSQL 15, Appendix K: a result set has at most 1,664 columns, a table 1,600.
    expect(() => sqlScript(many, { dialect: 'postgres' })).toThrow(/takes 1600; name fewer limit sets/);
    expect(sqlScript(many, { dialect: 'duckdb' })).toContain('CREATE OR REPLACE VIEW "fail_rates"');
  });

  it.each(SQL_DIALECTS)('is the same for the same limit set, and holds no statement but its own: %s', (dialect) => {
    const script = sqlScript(evilPlan, { dialect });
    expect(sqlScript(evilPlan, { dialect })).toBe(script);
    const statements = bare(script).split(';').map((statement) => statement.trim()).filter((statement) => statement !== '').map((statement) => statement.split(/\s+/).slice(0, 2).join(' '));
    expect([...new Set(statements)].filter((start) => !['SET standard_conforming_strings', 'SET client_min_messages', 'CREATE TABLE', 'CREATE VIEW', 'CREATE OR', 'DROP VIEW'].includes(start))).toStrictEqual([]);
    expect(statements.filter((start) => start.startsWith('CREATE'))).toHaveLength(5);
  });
});

/** A script without comments, texts and quoted names. */
function bare(script: string): string {
  const isSpark = script.startsWith('-- Readings of in-cab air-brake tests, evaluated in spark.');
  const withoutComments = script.replace(/^--.*$/gm, '');
  return withoutComments.replace(isSpark ? /'(?:[^'\\]|\\[^])*'/g : /'(?:[^']|'')*'/g, "''").replace(/"(?:[^"]|"")*"|`(?:[^`]|``)*`/g, 'name');
}

describe('a script for Spark', () => {
  // Built-in functions of the Spark SQL reference (https://spark.apache.org/docs/latest/api/sql/), and the types and functions that its
  // grammar treats as words of their own: CAST, TRIM and POSITION (https://spark.apache.org/docs/latest/sql-ref-ansi-compliance.html).
  const FUNCTIONS = new Set('abs array_sort cast ceil coalesce collect_list concat_ws count date_format datediff decimal exp floor format_string greatest least length ln lower max min nullif percentile_cont position power replace round row_number rtrim sqrt struct sum transform trim'.split(' '));
  // Words of its grammar (https://spark.apache.org/docs/latest/sql-ref-syntax.html), and types (sql-ref-datatypes.html).
  const WORDS = new Set('ADD AND AS BETWEEN BIGINT BOOLEAN BY CASE CREATE CROSS DATE DECIMAL DESC DISTINCT DOUBLE ELSE END EXISTS FALSE FIRST FROM GROUP IF IN IS JOIN LAST LEFT LIKE NOT NULL NULLS ON OR ORDER OVER PARTITION REPLACE RLIKE SELECT STRING TABLE THEN TRAILING TRUE UNION ALL VALUES VIEW WHEN WHERE WITH WITHIN ROW'.split(' '));

  it.each([...limitSetIds(), 'us-nevada,us-new-hampshire'])('uses functions and words of its reference only: %s', (id) => {
    const text = bare(sqlScript(compileLimitSet(limitSetOf(id)), { dialect: 'spark' }));
    const called = new Set([...text.matchAll(/\b([a-z_]+)\(/gi)].map(([, name]) => name!.toLowerCase()));
    expect([...called].filter((name) => !FUNCTIONS.has(name) && name !== 'each_check')).toStrictEqual([]);
    const words = new Set([...text.matchAll(/\b[A-Z]{2,}\b/g)].map(([word]) => word));
    expect([...words].filter((word) => !WORDS.has(word) && !FUNCTIONS.has(word.toLowerCase()))).toStrictEqual([]);
    // Numbers are doubles by their suffix (sql-ref-literals.html); whole numbers are places, counts and decimals.
    expect([...text.matchAll(/(?<![\w.])\d+(?:\.\d+)?e[+-]?\d+(?!\d*D)/g)].map(([number]) => number)).toStrictEqual([]);
  });

  it('writes texts without a character that it would read otherwise', () => {
    const script = sqlScript(evilPlan, { dialect: 'spark' });
    // A backslash begins an escape, and a name in braces behind a dollar sign is replaced (sql-ref-literals.html; spark.sql.variable.substitute).
    expect(script).not.toContain('$' + '{');
    expect(script).toContain(String.raw`'back\\slash \\u0027 \\'`);
    expect(script).toContain(String.raw`\u0027\u003b DROP TABLE kept\u003b --`);
  });
});
