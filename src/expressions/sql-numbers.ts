import { roundHalfAway } from '../util/round-half-away.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { sql, sqlConstant, type SqlContext, type SqlPart } from './sql-part.js';

/** From here on a double times a power of ten has no decimals left to round. */
const NO_DECIMALS_LEFT = 2 ** 52;

/**
 * A number rounded as {@link roundHalfAway} does it: by its 15 leading decimal digits, a half away from zero.
 *
 * @param decimals 0 to 15
 */
export function roundSql(part: SqlPart, decimals: number, context: SqlContext): SqlPart {
  if (part.number !== undefined) return sqlConstant(roundHalfAway(part.number, decimals), context.dialect);
  const x = context.once(part);
  return context.once(sql`CASE WHEN abs(${x}) < ${bound(decimals, context)} THEN CAST(${decimalSql(x, decimals, context)} AS ${context.dialect.double}) ELSE ${x} END`);
}

/** A number as a text with so many decimals at most, as JavaScript writes it. */
export function numberTextSql(part: SqlPart, decimals: number, context: SqlContext): SqlPart {
  const x = context.once(part);
  const text = sql`CAST(${decimalSql(x, decimals, context)} AS ${context.dialect.text})`;
  const short = decimals === 0 ? text : sql`${trimmed(trimmed(text, '0', context), '.', context)}`;
  return sql`CASE WHEN abs(${x}) < ${bound(decimals, context)} THEN ${short} ELSE ${{ ...x, text: context.dialect.hugeText(x.text) }} END`;
}

/** Seconds as a mechanic says them: as `durationWords` does. */
export function durationSql(part: SqlPart, context: SqlContext): SqlPart {
  const x = context.once(part);
  const number = (value: number): SqlPart => sqlConstant(value, context.dialect);
  const whole = roundSql(x, 0, context);
  const minutes = context.once(sql`floor(${whole} / ${number(60)})`);
  const rest = context.once(sql`(${whole} - ${number(60)} * ${minutes})`);
  const seconds = sql`CASE WHEN ${rest} > ${number(0)} THEN ' ' || ${numberTextSql(rest, 0, context)} || ' s' ELSE '' END`;
  return sql`CASE WHEN ${whole} < ${number(120)} THEN ${numberTextSql(x, 1, context)} || ' s' ELSE ${numberTextSql(minutes, 0, context)} || ' min' || ${seconds} END`;
}

/** The decimals that an operator was given; they are always written out. */
export function decimalsOf({ number }: SqlPart): number {
  if (number === undefined) throw new TreadlebookError({ code: 'defect', what: 'the decimals of a rounding are no constant' });
  return number;
}

function decimalSql({ text, ...rest }: SqlPart, decimals: number, { dialect }: SqlContext): SqlPart {
  return { ...rest, isPlain: false, text: `CAST(${dialect.fifteenDigits(text)} AS DECIMAL(38,${decimals}))` };
}

function bound(decimals: number, { dialect }: SqlContext): SqlPart {
  return sqlConstant(NO_DECIMALS_LEFT / 10 ** decimals, dialect);
}

/** Spark's own rtrim takes its operands the other way round; the standard's form is the same everywhere but in DuckDB. */
function trimmed(text: SqlPart, character: string, { dialect }: SqlContext): SqlPart {
  return dialect.name === 'duckdb' ? sql`rtrim(${text}, '${character}')` : sql`trim(TRAILING '${character}' FROM ${text})`;
}
