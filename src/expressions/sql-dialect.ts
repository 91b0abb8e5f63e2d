import { TreadlebookError } from '../util/treadlebook-error.js';

/** The dialects of SQL that are written. */
export const SQL_DIALECTS = ['duckdb', 'spark', 'postgres'] as const;
/** The name of a dialect of SQL. */
export type SqlDialectName = (typeof SQL_DIALECTS)[number];

/** All that differs between the dialects. */
export interface SqlDialect {
  readonly name: SqlDialectName;
  /** The types of a double, a text and a whole number. */
  readonly double: string;
  readonly text: string;
  readonly whole: string;
  /** A double as a constant. */
  readonly number: (value: number) => string;
  /** A text as a constant. */
  readonly quote: (text: string) => string;
  /** A name, quoted. */
  readonly identifier: (name: string) => string;
  /** The 15 leading digits of a double, as something that a cast to DECIMAL rounds as decimals. */
  readonly fifteenDigits: (x: string) => string;
  /** A double with too many digits for that, as a text that JavaScript would write. */
  readonly hugeText: (x: string) => string;
  /** A text as a double where it is a plain number, else NULL. */
  readonly plainNumber: (text: string) => string;
  /** The month of a date, as `2026-03`. */
  readonly month: (date: string) => string;
  /** Days from one date to another. */
  readonly daysBetween: (from: string, to: string) => string;
  /** The texts of a group, in their order, with `; ` between them. */
  readonly listed: (text: string, order: string) => string;
  /** Put behind a subquery, it keeps the planner from writing a column out wherever it is mentioned. */
  readonly fence: string;
  /** The most characters of a name; null where there is no bound that matters. */
  readonly longestName: number | null;
  /** The most columns of a query; null where there is no bound that matters. */
  readonly mostColumns: number | null;
  /** Statements before all others. */
  readonly opening: readonly string[];
  /** Whether a view can be replaced by one with other columns. */
  readonly replacesViews: boolean;
}

const doubledQuotes = (text: string): string => `'${withoutNul(text).replaceAll("'", "''")}'`;
const doubleQuoted = (name: string): string => `"${withoutNul(name).replaceAll('"', '""')}"`;
const PLAIN_NUMBER = '^[0-9]+([.][0-9]+)?([eE][+-]?[0-9]{1,2})?$';
/** So few characters, with an exponent of two digits, cannot overflow. */
const LONGEST_NUMBER = 40;

/** Each dialect. DuckDB and PostgreSQL run in the tests; Spark is written by its published grammar. */
export const DIALECTS: Readonly<Record<SqlDialectName, SqlDialect>> = {
  duckdb: {
    name: 'duckdb',
    double: 'DOUBLE',
    text: 'VARCHAR',
    whole: 'BIGINT',
    number: (value) => bracketed(value, exponential(value)),
    quote: doubledQuotes,
    identifier: doubleQuoted,
    // DuckDB 1.5 rounds a text with an exponent wrongly where few decimals are kept, so it keeps many at first.
    fifteenDigits: (x) => `CAST(printf('%.14e', ${x}) AS DECIMAL(38,22))`,
    hugeText: (x) => `CASE WHEN abs(${x}) < 1e21 THEN rtrim(rtrim(CAST(CAST(CAST(${x} AS VARCHAR) AS DECIMAL(38,4)) AS VARCHAR), '0'), '.') ELSE CAST(${x} AS VARCHAR) END`,
    plainNumber: (text) => `CASE WHEN length(${text}) <= ${LONGEST_NUMBER} AND regexp_matches(${text}, '${PLAIN_NUMBER}') THEN CAST(${text} AS DOUBLE) END`,
    month: (date) => `strftime(${date}, '%Y-%m')`,
    daysBetween: (from, to) => `CAST(${to} - ${from} AS DOUBLE)`,
    listed: (text, order) => `string_agg(${text}, '; ' ORDER BY ${order})`,
    fence: '',
    longestName: null,
    mostColumns: null,
    opening: [],
    replacesViews: true,
  },
  postgres: {
    name: 'postgres',
    double: 'DOUBLE PRECISION',
    text: 'TEXT',
    whole: 'BIGINT',
    number: (value) => `float8 '${value}'`,
    quote: doubledQuotes,
    identifier: doubleQuoted,
    fifteenDigits: (x) => `CAST(${x} AS NUMERIC)`,
    hugeText: (x) => `CASE WHEN abs(${x}) < 1e21 THEN CAST(CAST(CAST(${x} AS TEXT) AS NUMERIC) AS TEXT) ELSE CAST(${x} AS TEXT) END`,
    plainNumber: (text) => `CASE WHEN length(${text}) <= ${LONGEST_NUMBER} AND ${text} ~ '${PLAIN_NUMBER}' THEN CAST(${text} AS DOUBLE PRECISION) END`,
    month: (date) => `to_char(${date}, 'YYYY-MM')`,
    daysBetween: (from, to) => `CAST(${to} - ${from} AS DOUBLE PRECISION)`,
    listed: (text, order) => `string_agg(${text}, '; ' ORDER BY ${order})`,
    fence: ' OFFSET 0',
    longestName: 63,
    mostColumns: 1600,
    opening: ['SET standard_conforming_strings = on;', 'SET client_min_messages = warning;'],
    replacesViews: false,
  },
  spark: {
    name: 'spark',
    double: 'DOUBLE',
    text: 'STRING',
    whole: 'BIGINT',
    number: (value) => bracketed(value, `${value}D`),
    quote: sparkQuoted,
    identifier: (name) => `\`${withoutNul(name).replaceAll('`', '``')}\``,
    fifteenDigits: (x) => `format_string('%.14e', ${x})`,
    hugeText: (x) => `CASE WHEN abs(${x}) < 1e21D THEN rtrim('.', rtrim('0', CAST(CAST(CAST(${x} AS STRING) AS DECIMAL(38,4)) AS STRING))) ELSE replace(replace(CAST(${x} AS STRING), '.0E', 'E'), 'E', 'e+') END`,
    plainNumber: (text) => `CASE WHEN length(${text}) <= ${LONGEST_NUMBER} AND ${text} RLIKE '${PLAIN_NUMBER}' THEN CAST(${text} AS DOUBLE) END`,
    month: (date) => `date_format(${date}, 'yyyy-MM')`,
    daysBetween: (from, to) => `CAST(datediff(${to}, ${from}) AS DOUBLE)`,
    listed: (text, order) => `concat_ws('; ', transform(array_sort(collect_list(struct(${order} AS place, ${text} AS words))), one -> one.words))`,
    fence: '',
    longestName: null,
    mostColumns: null,
    opening: [],
    replacesViews: true,
  },
};

/** A number with an exponent, which makes a double of it: `3e0`, `1e-7`. */
function exponential(value: number): string {
  const text = String(value);
  return text.includes('e') ? text : `${text}e0`;
}

/** Two minus signs would begin a comment. */
function bracketed(value: number, text: string): string {
  return value < 0 || Object.is(value, -0) ? `(${text})` : text;
}

/** Spark reads escapes in a text, puts adjacent texts together, and replaces `${name}` before it parses. */
function sparkQuoted(text: string): string {
  const escaped = withoutNul(text).replace(/[\\'"$\n\r;`]/g, (character) => (character === '\\' ? '\\\\' : `\\u${character.charCodeAt(0).toString(16).padStart(4, '0')}`));
  return `'${escaped}'`;
}

function withoutNul(text: string): string {
  if (!text.includes('\0')) return text;
  throw new TreadlebookError({ code: 'usage', what: 'a text holds the character NUL, which SQL cannot', mend: 'take it out of the limit set or the name' });
}
