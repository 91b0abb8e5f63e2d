import { afterAll, describe, expect, it } from 'vitest';
import { DIALECTS, SQL_DIALECTS, type SqlDialect } from '../../src/expressions/sql-dialect.js';
import { openDuckdb, type SqlEngine } from '../support/sql-engines.js';

const { duckdb, postgres, spark } = DIALECTS;

describe('a constant in SQL', () => {
  // A number with an exponent is a double (DuckDB, Literal Types); `float8 '1'` is a constant of that type (PostgreSQL 4.1.2.7); a number with D is a double (Spark SQL, Literals).
  it.each<[number, string, string, string]>([
    [3, '3e0', "float8 '3'", '3D'],
    [0.25, '0.25e0', "float8 '0.25'", '0.25D'],
    [1e-7, '1e-7', "float8 '1e-7'", '1e-7D'],
    [1e21, '1e+21', "float8 '1e+21'", '1e+21D'],
    // Two minus signs in a row would begin a comment.
    [-2, '(-2e0)', "float8 '-2'", '(-2D)'],
    [-0, '(0e0)', "float8 '0'", '(0D)'],
    [0, '0e0', "float8 '0'", '0D'],
  ])('%d', (value, inDuckdb, inPostgres, inSpark) => {
    expect([duckdb, postgres, spark].map(({ number }) => number(value))).toStrictEqual([inDuckdb, inPostgres, inSpark]);
  });

  // The standard doubles a quote; Spark reads escapes in a text instead (Spark SQL, Literals).
  it.each([
    ["it's", "'it''s'", "'it\\u0027s'"],
    ["''", "''''''", "'\\u0027\\u0027'"],
    ['a\\b', "'a\\b'", "'a\\\\b'"],
    ['say "so"', "'say \"so\"'", "'say \\u0022so\\u0022'"],
    ['$' + '{x}; `y`', "'$" + "{x}; `y`'", "'\\u0024{x}\\u003b \\u0060y\\u0060'"],
    ['a\n\rb', "'a\n\rb'", "'a\\u000a\\u000db'"],
  ])('%j', (text, doubled, escaped) => {
    expect([duckdb, postgres, spark].map(({ quote }) => quote(text))).toStrictEqual([doubled, doubled, escaped]);
  });

  it('is refused with the character NUL, and so is a name', () => {
    for (const name of SQL_DIALECTS) {
      for (const write of [DIALECTS[name].quote, DIALECTS[name].identifier]) expect(() => write('a\0b')).toThrow('a text holds the character NUL, which SQL cannot; take it out of the limit set or the name');
    }
  });
});

describe('a name in SQL', () => {
  it('keeps the quotes that it holds by doubling them', () => {
    expect([duckdb, postgres, spark].map(({ identifier }) => identifier('a"b"`c`'))).toStrictEqual(['"a""b""`c`"', '"a""b""`c`"', '`a"b"``c```']);
  });
});

describe('a dialect in itself', () => {
  it('bears the name under which it is found', () => {
    expect(SQL_DIALECTS.map((name) => DIALECTS[name].name)).toStrictEqual([...SQL_DIALECTS]);
  });

  // PostgreSQL 4.1.1 (63 bytes), Appendix K (1,600 columns of a table); the others set no bound that a limit set comes near.
  it('has the bounds that its database sets', () => {
    const bounds = ({ longestName, mostColumns, replacesViews }: SqlDialect): unknown[] => [longestName, mostColumns, replacesViews];
    expect([duckdb, postgres, spark].map(bounds)).toStrictEqual([[null, null, true], [63, 1600, false], [null, null, true]]);
  });

  it('begins with settings only where a setting could change what a text means or show notices', () => {
    expect([duckdb.opening, spark.opening]).toStrictEqual([[], []]);
    expect(postgres.opening).toStrictEqual(['SET standard_conforming_strings = on;', 'SET client_min_messages = warning;']);
  });
});

describe('what DuckDB makes of the pieces', () => {
  let engine: Promise<SqlEngine> | undefined;
  afterAll(async () => (await engine)?.close());
  const valueOf = async (expression: string): Promise<unknown> => (await (await (engine ??= openDuckdb())).rows(`SELECT ${expression} AS value`))[0]!['value'];

  it.each<[string, number | null]>([
    ['12', 12],
    ['12.5', 12.5],
    ['1e5', 100_000],
    ['1E+05', 100_000],
    ['25e-1', 2.5],
    ['1'.repeat(40), Number('1'.repeat(40))],
    ['1'.repeat(41), null],
    ['', null],
    ['.5', null],
    ['5.', null],
    ['-1', null],
    ['1e100', null],
    ['x1', null],
    ['1x', null],
    ['nan', null],
  ])('the text %j as a plain number', async (text, expected) => {
    expect(await valueOf(duckdb.plainNumber(duckdb.quote(text)))).toBe(expected);
  });

  // Beyond 2^52 a double has at most one decimal left; from 1e21 on JavaScript writes an exponent (ECMA-262, Number::toString).
  it.each([4_503_599_627_370_497.5, 9_007_199_254_740_991, 123_456_789_012_345_680_000, 1e20, 1e21, 1.5e300, -1e20])('%d as JavaScript writes it', async (value) => {
    expect(await valueOf(duckdb.hugeText(duckdb.number(value)))).toBe(String(value));
  });

  it('the month of a date, and the days between two', async () => {
    expect(await valueOf(duckdb.month("DATE '2026-03-14'"))).toBe('2026-03');
    expect(await valueOf(duckdb.daysBetween("DATE '2026-02-14'", "DATE '2026-03-14'"))).toBe(28);
    expect(await valueOf(duckdb.daysBetween("DATE '2026-03-14'", "DATE '2026-02-14'"))).toBe(-28);
  });

  it('the texts of a group in their order', async () => {
    const rows = await (await (engine ??= openDuckdb())).rows(`SELECT ${duckdb.listed('word', 'place')} AS value FROM (VALUES ('c', 3), ('a', 1), ('b', 2)) AS said (word, place)`);
    expect(rows).toStrictEqual([{ value: 'a; b; c' }]);
  });

  it('the types of its columns', async () => {
    for (const [type, name] of [[duckdb.double, 'DOUBLE'], [duckdb.text, 'VARCHAR'], [duckdb.whole, 'BIGINT']] as const) expect(await valueOf(`typeof(CAST(NULL AS ${type}))`)).toBe(name);
  });
});

/*
 * PostgreSQL runs in tests of its own; Spark in none. Their pieces stand here as their manuals have them:
 * https://www.postgresql.org/docs/current/functions.html and https://spark.apache.org/docs/latest/api/sql/.
 */
describe('the pieces of the other dialects', () => {
  it('as PostgreSQL has them', () => {
    expect([postgres.double, postgres.text, postgres.whole, postgres.fence]).toStrictEqual(['DOUBLE PRECISION', 'TEXT', 'BIGINT', ' OFFSET 0']);
    expect(postgres.month('d')).toBe("to_char(d, 'YYYY-MM')");
    expect(postgres.daysBetween('a', 'b')).toBe('CAST(b - a AS DOUBLE PRECISION)');
    expect(postgres.listed('t', 'o')).toBe("string_agg(t, '; ' ORDER BY o)");
    expect(postgres.plainNumber('t')).toBe("CASE WHEN length(t) <= 40 AND t ~ '^[0-9]+([.][0-9]+)?([eE][+-]?[0-9]{1,2})?$' THEN CAST(t AS DOUBLE PRECISION) END");
    // A double as NUMERIC keeps 15 digits.
    expect(postgres.fifteenDigits('x')).toBe('CAST(x AS NUMERIC)');
    expect(postgres.hugeText('x')).toBe('CASE WHEN abs(x) < 1e21 THEN CAST(CAST(CAST(x AS TEXT) AS NUMERIC) AS TEXT) ELSE CAST(x AS TEXT) END');
  });

  it('as Spark has them', () => {
    expect([spark.double, spark.text, spark.whole, spark.fence]).toStrictEqual(['DOUBLE', 'STRING', 'BIGINT', '']);
    expect(spark.month('d')).toBe("date_format(d, 'yyyy-MM')");
    // datediff takes the end first.
    expect(spark.daysBetween('a', 'b')).toBe('CAST(datediff(b, a) AS DOUBLE)');
    expect(spark.listed('t', 'o')).toBe("concat_ws('; ', transform(array_sort(collect_list(struct(o AS place, t AS words))), one -> one.words))");
    expect(spark.plainNumber('t')).toBe("CASE WHEN length(t) <= 40 AND t RLIKE '^[0-9]+([.][0-9]+)?([eE][+-]?[0-9]{1,2})?$' THEN CAST(t AS DOUBLE) END");
    expect(spark.fifteenDigits('x')).toBe("format_string('%.14e', x)");
  });
});
