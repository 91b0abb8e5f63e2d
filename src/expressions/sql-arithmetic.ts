import { sql, sqlConstant, sqlJoin, withBlank, type SqlContext, type SqlPart } from './sql-part.js';

/*
 * Arithmetic that never stops a query. What overflows is NULL, as it is blank elsewhere; what would be too small for a
 * number of full precision is zero. PostgreSQL raises an error in all these cases, so each is asked for beforehand.
 */

/** ln of the largest double, a little below, and of the smallest normal one, a little above. */
const LN_LARGEST = 709.7827;
const LN_SMALLEST = -708.39;
const LARGEST = Number.MAX_VALUE;
const SMALLEST = 2 ** -1022;
/** A sum that is smaller than this part of its first term is float noise. */
const NOISE = 2 ** -48;
/** Half of the largest double. */
const HALF_LARGEST = 2 ** 1023;

/** The sum. */
export function addSql(left: SqlPart, right: SqlPart, context: SqlContext): SqlPart {
  return sumSql(left, '+', right, context);
}

/** The difference. */
export function subtractSql(left: SqlPart, right: SqlPart, context: SqlContext): SqlPart {
  return sumSql(left, '-', right, context);
}

function sumSql(left: SqlPart, sign: '+' | '-', right: SqlPart, context: SqlContext): SqlPart {
  const [a, b] = [context.once(left), context.once(right)];
  const number = (value: number): SqlPart => sqlConstant(value, context.dialect);
  const sum = context.once(withBlank(sql`CASE WHEN abs(${a}) < ${number(HALF_LARGEST)} AND abs(${b}) < ${number(HALF_LARGEST)} THEN ${a} ${sign} ${b} WHEN abs(${a} / ${number(2)} ${sign} ${b} / ${number(2)}) < ${number(HALF_LARGEST)} THEN ${a} ${sign} ${b} END`, true));
  return sql`CASE WHEN abs(${sum}) < abs(${a}) * ${number(NOISE)} THEN ${number(0)} ELSE ${sum} END`;
}

/** The product. */
export function multiplySql(left: SqlPart, right: SqlPart, context: SqlContext): SqlPart {
  const known = knownFactor(right) ?? knownFactor(left);
  const number = (value: number): SqlPart => sqlConstant(value, context.dialect);
  if (known !== null) {
    const [a, factor] = [context.once(knownFactor(right) === null ? right : left), number(known)];
    if (Math.abs(known) >= 1) return withBlank(sql`CASE WHEN abs(${a}) <= ${number(LARGEST / Math.abs(known))} THEN ${a} * ${factor} END`, true);
    return sql`CASE WHEN abs(${a}) < ${number(SMALLEST / Math.abs(known))} THEN ${number(0)} ELSE ${a} * ${factor} END`;
  }
  const [a, b] = [context.once(left), context.once(right)];
  const size = context.once(sql`(ln(nullif(abs(${a}), ${number(0)})) + ln(nullif(abs(${b}), ${number(0)})))`);
  return withBlank(sql`CASE WHEN ${size} < ${number(LN_SMALLEST)} THEN ${number(0)} WHEN ${size} < ${number(LN_LARGEST)} OR ${a} = ${number(0)} OR ${b} = ${number(0)} THEN ${a} * ${b} END`, true);
}

/** The quotient; NULL where the divisor is zero. */
export function divideSql(left: SqlPart, right: SqlPart, context: SqlContext): SqlPart {
  const known = knownFactor(right);
  const a = context.once(left);
  const number = (value: number): SqlPart => sqlConstant(value, context.dialect);
  if (known !== null) {
    const divisor = number(known);
    if (Math.abs(known) >= 1) return sql`CASE WHEN abs(${a}) < ${number(SMALLEST * Math.abs(known))} THEN ${number(0)} ELSE ${a} / ${divisor} END`;
    return withBlank(sql`CASE WHEN abs(${a}) <= ${number(LARGEST * Math.abs(known))} THEN ${a} / ${divisor} END`, true);
  }
  const b = context.once(right);
  const size = context.once(withBlank(sql`(ln(nullif(abs(${a}), ${number(0)})) - ln(nullif(abs(${b}), ${number(0)})))`, true));
  return withBlank(sql`CASE WHEN ${size} < ${number(LN_SMALLEST)} OR (${a} = ${number(0)} AND ${b} <> ${number(0)}) THEN ${number(0)} WHEN ${size} < ${number(LN_LARGEST)} THEN ${a} / ${b} END`, true);
}

/** A factor that is known, not zero, and so far from either end of the doubles that a bound can be worked out for it. */
function knownFactor({ number }: SqlPart): number | null {
  return number !== undefined && Math.abs(number) > 1e-100 && Math.abs(number) < 1e100 ? number : null;
}

/** The power; NULL where JavaScript's is no real number, where it overflows, and where it vanishes. */
export function powerSql(left: SqlPart, right: SqlPart, context: SqlContext): SqlPart {
  const [a, b] = [context.once(left), context.once(right)];
  const number = (value: number): SqlPart => sqlConstant(value, context.dialect);
  // Beyond this an exponent makes anything but 1 vanish or overflow; below this it makes 1 of anything.
  const inReach = sql`abs(${b}) < ${number(1e19)} AND abs(${b}) > ${number(1e-280)}`;
  const size = context.once(withBlank(sql`CASE WHEN abs(${a}) = ${number(1)} THEN ${number(0)} WHEN ${inReach} THEN ${b} * ln(nullif(abs(${a}), ${number(0)})) WHEN abs(${b}) <= ${number(1e-280)} AND ${a} <> ${number(0)} THEN ${number(0)} END`, true));
  const isReal = sql`(${a} > ${number(0)} OR floor(${b}) = ${b})`;
  return withBlank(sql`CASE WHEN ${a} = ${number(0)} AND ${b} > ${number(0)} THEN ${number(0)} WHEN ${a} <> ${number(0)} AND ${isReal} AND ${size} > ${number(LN_SMALLEST)} AND ${size} < ${number(LN_LARGEST)} THEN power(${a}, ${b}) END`, true);
}

/** e to a power. */
export function exponentialSql(part: SqlPart, context: SqlContext): SqlPart {
  const x = context.once(part);
  const number = (value: number): SqlPart => sqlConstant(value, context.dialect);
  return withBlank(sql`CASE WHEN ${x} < ${number(LN_SMALLEST)} THEN ${number(0)} WHEN ${x} <= ${number(Math.log(LARGEST))} THEN exp(${x}) END`, true);
}

/** The square root; NULL below zero. */
export function squareRootSql(part: SqlPart, context: SqlContext): SqlPart {
  const x = context.once(part);
  return withBlank(sql`sqrt(CASE WHEN ${x} >= ${sqlConstant(0, context.dialect)} THEN ${x} END)`, true);
}

/** The natural logarithm; NULL at zero and below. */
export function logarithmSql(part: SqlPart, context: SqlContext): SqlPart {
  const x = context.once(part);
  return withBlank(sql`ln(CASE WHEN ${x} > ${sqlConstant(0, context.dialect)} THEN ${x} END)`, true);
}

/** The square root of the sum of squares. */
export function rootOfSquaresSql(parts: readonly SqlPart[], context: SqlContext): SqlPart {
  const number = (value: number): SqlPart => sqlConstant(value, context.dialect);
  const terms = parts.map((part) => context.once(part));
  // So large that the squares of all together just do not overflow; so small that a square just does not vanish.
  const [largest, smallest] = [Math.sqrt(LARGEST / terms.length) * (1 - 1e-9), 1e-150];
  const fits = sqlJoin(terms.map((term) => sql`abs(${term}) < ${number(largest)}`), ' AND ');
  const squares = sqlJoin(terms.map((term) => sql`CASE WHEN abs(${term}) < ${number(smallest)} THEN ${number(0)} ELSE ${term} * ${term} END`), ' + ');
  return withBlank(sql`CASE WHEN ${fits} THEN sqrt(${squares}) END`, true);
}

/** The largest or smallest of all; NULL where one of them is. */
export function extremeSql(name: 'greatest' | 'least', parts: readonly SqlPart[], context: SqlContext): SqlPart {
  const terms = parts.map((part) => (part.mayBeBlank ? context.once(part) : part));
  const all = sql`${name}(${sqlJoin(terms, ', ')})`;
  const blankable = terms.filter(({ mayBeBlank }) => mayBeBlank);
  return blankable.length === 0 ? all : sql`CASE WHEN ${sqlJoin(blankable.map((term) => sql`${term} IS NOT NULL`), ' AND ')} THEN ${all} END`;
}

/** `and` or `or` of truths; NULL where one of them is, whatever the others say. */
export function truthSql(word: 'AND' | 'OR', parts: readonly SqlPart[], context: SqlContext): SqlPart {
  const terms = parts.map((part) => (part.mayBeBlank ? context.once(part) : part));
  const all = sql`(${sqlJoin(terms, ` ${word} `)})`;
  const blankable = terms.filter(({ mayBeBlank }) => mayBeBlank);
  return blankable.length === 0 ? all : sql`CASE WHEN ${sqlJoin(blankable.map((term) => sql`${term} IS NOT NULL`), ' AND ')} THEN ${all} END`;
}
