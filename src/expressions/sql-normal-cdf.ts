import { sql, sqlConstant, withBlank, type SqlContext, type SqlPart } from './sql-part.js';

/** Up to here the series is used, beyond it the continued fraction. */
const MIDDLE = 2.5;
/** Beyond this a double holds nothing but 0 or 1. */
const LOW_END = 37.5;
const HIGH_END = 8.5;
/** Terms of the series and steps of the fraction: each gives every digit of a double on its side of {@link MIDDLE}. */
const TERMS = 40;
const STEPS = 60;

/**
 * The normal distribution function, to within 1e-14 of `normalCdf`: in the middle by the series of Abramowitz and Stegun 26.2.11,
 * beyond 2.5 standard deviations by their continued fraction 26.2.14, so that small probabilities keep their digits too.
 */
export function normalCdfSql(part: SqlPart, context: SqlContext): SqlPart {
  const z = context.once(part);
  const number = (value: number): SqlPart => sqlConstant(value, context.dialect);
  // Outside, and where the square would vanish, any number will do.
  const square = context.once(sql`CASE WHEN abs(${z}) < ${number(LOW_END)} AND abs(${z}) > ${number(1e-100)} THEN ${z} * ${z} ELSE ${number(0)} END`);
  const density = context.once(sql`(exp(${square} / ${number(-2)}) * ${number(1 / Math.sqrt(2 * Math.PI))})`);
  const size = context.once(sql`abs(${z})`);
  const tail = context.once(sql`(${density} / ${fraction(size, number)})`);
  const middle = sql`(${number(0.5)} + ${z} * ${density} * ${series(square, number)})`;
  return withBlank(
    sql`CASE WHEN ${z} <= ${number(-LOW_END)} THEN ${number(0)} WHEN ${z} < ${number(-MIDDLE)} THEN ${tail} WHEN ${z} < ${number(MIDDLE)} THEN ${middle} WHEN ${z} < ${number(HIGH_END)} THEN (${number(1)} - ${tail}) WHEN ${z} IS NOT NULL THEN ${number(1)} END`,
    z.mayBeBlank,
  );
}

/** 1 + z²/3 + z⁴/(3·5) + z⁶/(3·5·7) + …, from the inside out. */
function series(square: SqlPart, number: (value: number) => SqlPart): SqlPart {
  let sum = number(1);
  for (let term = TERMS; term > 0; term--) sum = sql`(${number(1)} + ${square} / ${number(2 * term + 1)} * ${sum})`;
  return sum;
}

/** x + 1/(x + 2/(x + 3/(x + …))); kept away from zero, where it is not used. */
function fraction(size: SqlPart, number: (value: number) => SqlPart): SqlPart {
  const x = sql`greatest(${size}, ${number(1)})`;
  let value: SqlPart = x;
  for (let step = STEPS; step > 0; step--) value = sql`(${x} + ${number(step)} / ${value})`;
  return value;
}
