import { roundHalfAway } from '../util/round-half-away.js';
import { normalCdf } from '../statistics/normal-cdf.js';
import { allNeeds, blankCondition, guarded, needsBeyond, NO_NEEDS, type FormulaPart } from './formula-part.js';
import type { Evaluator } from './evaluator.js';
import { addSql, divideSql, exponentialSql, extremeSql, logarithmSql, multiplySql, powerSql, rootOfSquaresSql, squareRootSql, subtractSql, truthSql } from './sql-arithmetic.js';
import { normalCdfSql } from './sql-normal-cdf.js';
import { decimalsOf, durationSql, numberTextSql, roundSql } from './sql-numbers.js';
import { sql, sqlConstant, sqlJoin, withBlank, type SqlContext, type SqlPart } from './sql-part.js';
import type { Value, ValueType } from './value.js';

export type { Evaluator } from './evaluator.js';

/** Decimals to which a value is rounded before it is compared, so that float noise decides nothing. */
export const COMPARED_DECIMALS = 6;

/** One operator: the single place from which the three back ends, the type check and the words come. */
export interface Operator {
  /** Types of the operands; `rest` is the type of any number of further ones. */
  readonly parameters: readonly ValueType[];
  readonly rest?: ValueType;
  readonly result: ValueType;
  /** How a user writes it: a symbol, a function's name, or null when only the program itself uses it. */
  readonly written: { readonly symbol: string } | { readonly function: string } | null;
  /** True when the operands must be plain names. */
  readonly namesOnly?: boolean;
  readonly evaluator: (args: readonly Evaluator[]) => Evaluator;
  readonly formula: (args: readonly FormulaPart[]) => FormulaPart;
  readonly sql: (args: readonly SqlPart[], context: SqlContext) => SqlPart;
  /** Words for the sheet Limits: the expression as a sentence reads it. */
  readonly words: (args: readonly string[]) => string;
}

type Plain = number | string | boolean;

/** How it is worked out: from operands none of which is blank, or, for what every row needs often, by an evaluator of its own. */
type Worked<A extends readonly Plain[]> = { readonly compute: (...operands: A) => Plain | null; readonly evaluator?: undefined } | { readonly evaluator: Operator['evaluator']; readonly compute?: undefined };

interface StrictParts extends Pick<Operator, 'parameters' | 'rest' | 'result' | 'written' | 'words' | 'sql'> {
  readonly text: (...operands: string[]) => string;
  readonly mayFail?: boolean;
}

type StrictOperator<A extends readonly Plain[]> = StrictParts & Worked<A>;

/** An operator that gives blank when any operand is blank, and when the result is no finite number. */
function strict<A extends readonly Plain[]>(operator: StrictOperator<A>): Operator {
  const compute = operator.compute as unknown as (...operands: Plain[]) => Plain | null;
  const finite = (value: Plain | null): Value => (typeof value === 'number' && !Number.isFinite(value) ? null : value);
  return {
    parameters: operator.parameters,
    rest: operator.rest,
    result: operator.result,
    written: operator.written,
    words: operator.words,
    sql: operator.sql,
    evaluator: operator.evaluator ?? ((args) => {
      if (args.length === 1) {
        const [only] = args as [Evaluator];
        return (slots) => {
          const value = only(slots);
          return value === null ? null : finite(compute(value));
        };
      }
      if (args.length === 2) {
        const [left, right] = args as [Evaluator, Evaluator];
        return (slots) => {
          const a = left(slots);
          if (a === null) return null;
          const b = right(slots);
          return b === null ? null : finite(compute(a, b));
        };
      }
      return (slots) => {
        const values: Plain[] = [];
        for (const arg of args) {
          const value = arg(slots);
          if (value === null) return null;
          values.push(value);
        }
        return finite(compute(...values));
      };
    }),
    formula: (args) => ({
      text: operator.text(...args.map((arg) => arg.text)),
      needs: allNeeds(args),
      mayFail: (operator.mayFail ?? false) || args.some((arg) => arg.mayFail),
    }),
  };
}

const round6 = (value: number): number => roundHalfAway(value, COMPARED_DECIMALS);

/** Beyond this difference no rounding to {@link COMPARED_DECIMALS} changes the order. */
const SURELY_APART = 2 * 10 ** -COMPARED_DECIMALS;

/** Below 0, 0 or above 0, as the rounded values are in order. */
function compareRounded(a: number, b: number): number {
  const difference = a - b;
  return difference > SURELY_APART || difference < -SURELY_APART ? difference : round6(a) - round6(b);
}

const FEW_DECIMALS = /^\(?-?\d+(\.\d{1,6})?\)?$/;
const rounded = (text: string): string => (FEW_DECIMALS.test(text) ? text : `ROUND(${text},${COMPARED_DECIMALS})`);

function comparison(symbol: string, sheetSymbol: string, says: string, evaluator: Operator['evaluator']): Operator {
  return strict<[number, number]>({
    parameters: ['number', 'number'],
    result: 'truth',
    written: { symbol },
    evaluator,
    text: (a, b) => `(${rounded(a!)}${sheetSymbol}${rounded(b!)})`,
    sql: ([a, b], context) => sql`(${roundSql(a!, COMPARED_DECIMALS, context)} ${sheetSymbol} ${roundSql(b!, COMPARED_DECIMALS, context)})`,
    words: ([a, b]) => `${a} ${says} ${b}`,
  });
}

function numberFunction(name: string, compute: (x: number) => number, sheetName: string, mayFail: boolean, says: string, toSql: (x: SqlPart, context: SqlContext) => SqlPart): Operator {
  return strict<[number]>({
    parameters: ['number'],
    result: 'number',
    written: { function: name },
    compute,
    text: (x) => `${sheetName}(${x})`,
    sql: ([x], context) => toSql(x!, context),
    mayFail,
    words: ([x]) => `${says} ${x}`,
  });
}

function extreme(name: 'max' | 'min', compute: (...values: number[]) => number): Operator {
  return strict<number[]>({
    parameters: ['number', 'number'],
    rest: 'number',
    result: 'number',
    written: { function: name },
    compute,
    text: (...args) => `${name.toUpperCase()}(${args.join(',')})`,
    sql: (args, context) => extremeSql(name === 'max' ? 'greatest' : 'least', args, context),
    words: (args) => `the ${name === 'max' ? 'larger' : 'smaller'} of ${args.join(', ')}`,
  });
}

/** A cell that is needed as it stands: MAX, MIN and COUNT over such cells pass by blanks and texts. */
function isPlainCell({ text, needs, mayFail }: FormulaPart): boolean {
  return !mayFail && needs.blankTests.size === 0 && needs.numbers.size === 1 && needs.numbers.has(text);
}

/** The larger or smaller of those that are given; blank when none is. */
function extremeGiven(name: 'highest' | 'lowest', pick: (a: number, b: number) => boolean, sheetName: string, outside: string): Operator {
  return {
    parameters: ['number', 'number'],
    rest: 'number',
    result: 'number',
    written: { function: name },
    namesOnly: true,
    evaluator: (args) => (slots) => {
      let best: number | null = null;
      for (let index = 0; index < args.length; index++) {
        const value = args[index]!(slots) as number | null;
        if (value !== null && (best === null || pick(value, best))) best = value;
      }
      return best;
    },
    formula: (args) => {
      if (args.every(isPlainCell)) {
        const cells = args.map((arg) => arg.text).join(',');
        return { text: `IF(COUNT(${cells})=0,NA(),${sheetName}(${cells}))`, needs: NO_NEEDS, mayFail: true };
      }
      const absent = args.map((arg) => blankCondition(arg.needs)).filter((test): test is string => test !== null);
      const pieces = args.map((arg) => guarded(arg, outside)).join(',');
      const text = `${sheetName}(${pieces})`;
      if (absent.length < args.length) return { text, needs: NO_NEEDS, mayFail: args.some((arg) => arg.mayFail) };
      return { text: `IF(AND(${absent.join(',')}),NA(),${text})`, needs: NO_NEEDS, mayFail: true };
    },
    // Both pass by a NULL.
    sql: (args) => sql`${name === 'highest' ? 'greatest' : 'least'}(${sqlJoin(args, ', ')})`,
    words: (args) => `the ${name === 'highest' ? 'higher' : 'lower'} of ${args.join(' and ')} (of those given)`,
  };
}

/** Blank where any operand is blank; else `found` where any operand is that, and the other where none is. */
const truth = (name: 'and' | 'or', found: boolean): Operator =>
  strict<boolean[]>({
    parameters: ['truth', 'truth'],
    rest: 'truth',
    result: 'truth',
    written: { symbol: name },
    evaluator: (args) => {
      if (args.length === 2) {
        const [left, right] = args as [Evaluator, Evaluator];
        return (slots) => {
          const a = left(slots);
          const b = right(slots);
          return a === null || b === null ? null : a === found || b === found ? found : !found;
        };
      }
      return (slots) => {
        let result = !found;
        for (let index = 0; index < args.length; index++) {
          const value = args[index]!(slots);
          if (value === null) return null;
          if (value === found) result = found;
        }
        return result;
      };
    },
    text: (...args) => `${name.toUpperCase()}(${args.join(',')})`,
    sql: (args, context) => truthSql(name === 'and' ? 'AND' : 'OR', args, context),
    words: (args) => `(${args.join(` ${name} `)})`,
  });

/** A sum of near opposites as a spreadsheet gives it: what is left of float noise is zero. */
const withoutNoise = (sum: number, term: number): number => (Math.abs(sum) < Math.abs(term) * 2 ** -48 ? 0 : sum);

const arithmetic = (symbol: string, says: string, evaluator: Operator['evaluator'], toSql: (a: SqlPart, b: SqlPart, context: SqlContext) => SqlPart): Operator =>
  strict<[number, number]>({
    parameters: ['number', 'number'],
    result: 'number',
    written: { symbol },
    evaluator,
    text: (a, b) => `(${a}${symbol}${b})`,
    sql: ([a, b], context) => toSql(a!, b!, context),
    mayFail: true,
    words: ([a, b]) => `(${a} ${says} ${b})`,
  });

const finiteOrBlank = (value: number): number | null => (Number.isFinite(value) ? value : null);

/** Seconds as a mechanic says them: `60 s`, `3 min`, `4 min 10 s`. */
export function durationWords(seconds: number): string {
  if (roundHalfAway(seconds, 0) < 120) return `${roundHalfAway(seconds, 1)} s`;
  const whole = roundHalfAway(seconds, 0);
  const rest = whole - 60 * Math.floor(whole / 60);
  return `${Math.floor(whole / 60)} min${rest > 0 ? ` ${rest} s` : ''}`;
}

const durationFormula = (x: string): string =>
  `IF(ROUND(${x},0)<120,ROUND(${x},1)&" s",INT(ROUND(${x},0)/60)&" min"&IF(MOD(ROUND(${x},0),60)>0," "&MOD(ROUND(${x},0),60)&" s",""))`;

/** The smallest number of full precision; a spreadsheet keeps none below it. */
export const SMALLEST_NORMAL = 2 ** -1022;

/** A power too small for a number of full precision is an error in a spreadsheet, not zero. */
const notVanished = (power: number, base: number): number | null => (Math.abs(power) < SMALLEST_NORMAL && base !== 0 ? null : power);

/** Every operator of the expression language, by name. */
export const OPERATORS = {
  add: arithmetic('+', 'plus', ([left, right]) => (slots) => {
    const a = left!(slots) as number | null;
    const b = right!(slots) as number | null;
    return a === null || b === null ? null : finiteOrBlank(withoutNoise(a + b, a));
  }, addSql),
  subtract: arithmetic('-', 'minus', ([left, right]) => (slots) => {
    const a = left!(slots) as number | null;
    const b = right!(slots) as number | null;
    return a === null || b === null ? null : finiteOrBlank(withoutNoise(a - b, a));
  }, subtractSql),
  multiply: arithmetic('*', 'times', ([left, right]) => (slots) => {
    const a = left!(slots) as number | null;
    const b = right!(slots) as number | null;
    return a === null || b === null ? null : finiteOrBlank(a * b);
  }, multiplySql),
  divide: arithmetic('/', 'divided by', ([left, right]) => (slots) => {
    const a = left!(slots) as number | null;
    const b = right!(slots) as number | null;
    return a === null || b === null ? null : finiteOrBlank(a / b);
  }, divideSql),
  power: strict<[number, number]>({
    parameters: ['number', 'number'],
    result: 'number',
    written: { symbol: '^' },
    compute: (a, b) => ((a === 0 && b <= 0) || (a < 0 && !Number.isInteger(b)) ? null : notVanished(a ** b, a)),
    text: (a, b) => `IF(OR(AND(${a}=0,${b}<=0),AND(${a}<0,INT(${b})<>${b})),NA(),(${a}^${b}))`,
    sql: ([a, b], context) => powerSql(a!, b!, context),
    mayFail: true,
    words: ([a, b]) => `(${a} to the power ${b})`,
  }),
  negate: strict<[number]>({ parameters: ['number'], result: 'number', written: { symbol: '-' }, compute: (x) => -x, text: (x) => `(-${x})`, sql: ([x]) => sql`(- ${x!})`, words: ([x]) => `minus ${x}` }),
  less: comparison('<', '<', 'is less than', ([left, right]) => (slots) => {
    const a = left!(slots) as number | null;
    const b = right!(slots) as number | null;
    return a === null || b === null ? null : compareRounded(a, b) < 0;
  }),
  less_or_equal: comparison('<=', '<=', 'is at most', ([left, right]) => (slots) => {
    const a = left!(slots) as number | null;
    const b = right!(slots) as number | null;
    return a === null || b === null ? null : compareRounded(a, b) <= 0;
  }),
  greater: comparison('>', '>', 'is more than', ([left, right]) => (slots) => {
    const a = left!(slots) as number | null;
    const b = right!(slots) as number | null;
    return a === null || b === null ? null : compareRounded(a, b) > 0;
  }),
  greater_or_equal: comparison('>=', '>=', 'is at least', ([left, right]) => (slots) => {
    const a = left!(slots) as number | null;
    const b = right!(slots) as number | null;
    return a === null || b === null ? null : compareRounded(a, b) >= 0;
  }),
  equal: comparison('==', '=', 'equals', ([left, right]) => (slots) => {
    const a = left!(slots) as number | null;
    const b = right!(slots) as number | null;
    return a === null || b === null ? null : compareRounded(a, b) === 0;
  }),
  unequal: comparison('!=', '<>', 'differs from', ([left, right]) => (slots) => {
    const a = left!(slots) as number | null;
    const b = right!(slots) as number | null;
    return a === null || b === null ? null : compareRounded(a, b) !== 0;
  }),
  same_text: strict<[string, string]>({
    parameters: ['text', 'text'],
    result: 'truth',
    written: { symbol: '==' },
    compute: (a, b) => a.toLowerCase() === b.toLowerCase(),
    text: (a, b) => `(${a}=${b})`,
    sql: ([a, b]) => sql`(lower(${a!}) = lower(${b!}))`,
    words: ([a, b]) => `${a} is ${b}`,
  }),
  other_text: strict<[string, string]>({
    parameters: ['text', 'text'],
    result: 'truth',
    written: { symbol: '!=' },
    compute: (a, b) => a.toLowerCase() !== b.toLowerCase(),
    text: (a, b) => `(${a}<>${b})`,
    sql: ([a, b]) => sql`(lower(${a!}) <> lower(${b!}))`,
    words: ([a, b]) => `${a} is not ${b}`,
  }),
  and: truth('and', false),
  or: truth('or', true),
  not: strict<[boolean]>({ parameters: ['truth'], result: 'truth', written: { symbol: 'not' }, compute: (x) => !x, text: (x) => `NOT(${x})`, sql: ([x]) => sql`(NOT ${x!})`, words: ([x]) => `not ${x!.startsWith('(') ? x : `(${x})`}` }),
  max: extreme('max', Math.max),
  min: extreme('min', Math.min),
  abs: numberFunction('abs', Math.abs, 'ABS', false, 'the size of', (x) => sql`abs(${x})`),
  sqrt: numberFunction('sqrt', Math.sqrt, 'SQRT', true, 'the square root of', squareRootSql),
  exp: numberFunction('exp', Math.exp, 'EXP', true, 'e to the power', exponentialSql),
  ln: numberFunction('ln', (x) => (x > 0 ? Math.log(x) : NaN), 'LN', true, 'the natural logarithm of', logarithmSql),
  round: strict<[number, number]>({
    parameters: ['number', 'number'],
    result: 'number',
    written: { function: 'round' },
    compute: roundHalfAway,
    text: (x, decimals) => `ROUND(${x},${decimals})`,
    sql: ([x, decimals], context) => roundSql(x!, decimalsOf(decimals!), context),
    words: ([x, decimals]) => `${x} rounded to ${decimals} decimals`,
  }),
  highest: extremeGiven('highest', (a, b) => a > b, 'MAX', '-1E+300'),
  lowest: extremeGiven('lowest', (a, b) => a < b, 'MIN', '1E+300'),
  given: {
    parameters: ['number'],
    result: 'truth',
    written: { function: 'given' },
    namesOnly: true,
    evaluator: ([arg]) => {
      const { slot } = arg!;
      return slot === undefined ? (slots) => arg!(slots) !== null : (slots) => slots[slot] !== null;
    },
    formula: ([arg]) => {
      const absent = blankCondition(arg!.needs);
      return { text: absent === null ? 'TRUE' : `NOT(${absent})`, needs: NO_NEEDS, mayFail: false };
    },
    sql: ([x]) => withBlank(sql`(${x!} IS NOT NULL)`, false),
    words: ([x]) => `${x} is given`,
  },
  choose: {
    parameters: ['truth', 'number', 'number'],
    result: 'number',
    written: { symbol: '? :' },
    evaluator: ([condition, yes, no]) => (slots) => {
      const chosen = condition!(slots);
      return chosen === null ? null : chosen === true ? yes!(slots) : no!(slots);
    },
    formula: ([condition, yes, no]) => {
      const branch = (part: FormulaPart): string => guarded({ ...part, needs: needsBeyond(part.needs, condition!.needs) }, 'NA()');
      const [whenYes, whenNo] = [branch(yes!), branch(no!)];
      const lacking = whenYes !== yes!.text || whenNo !== no!.text;
      return {
        text: `IF(${condition!.text},${whenYes},${whenNo})`,
        needs: condition!.needs,
        mayFail: lacking || condition!.mayFail || yes!.mayFail || no!.mayFail,
      };
    },
    sql: ([condition, yes, no]) => (condition!.mayBeBlank ? sql`CASE ${condition!} WHEN TRUE THEN ${yes!} WHEN FALSE THEN ${no!} END` : sql`CASE WHEN ${condition!} THEN ${yes!} ELSE ${no!} END`),
    words: ([condition, yes, no]) => `(${yes} if ${condition}, otherwise ${no})`,
  },
  or_else: {
    parameters: ['number', 'number'],
    result: 'number',
    written: null,
    evaluator: ([first, second]) => (slots) => first!(slots) ?? second!(slots),
    formula: ([first, second]) => {
      const other = guarded(second!, 'NA()');
      const otherFails = second!.mayFail || other !== second!.text;
      const whenBlank = blankCondition(first!.needs);
      let { text } = first!;
      if (first!.mayFail) text = `IFERROR(${text},${other})`;
      if (whenBlank !== null) text = `IF(${whenBlank},${other},${text})`;
      return { text, needs: NO_NEEDS, mayFail: otherFails && (first!.mayFail || whenBlank !== null) };
    },
    sql: ([first, second]) => withBlank(sql`coalesce(${first!}, ${second!})`, first!.mayBeBlank && second!.mayBeBlank),
    words: ([first, second]) => `${first}, or ${second} where that is blank`,
  },
  only_if: {
    parameters: ['truth', 'number'],
    result: 'number',
    written: { function: 'only_if' },
    evaluator: ([condition, value]) => (condition!.constant === true ? value! : (slots) => (condition!(slots) === true ? value!(slots) : null)),
    formula: ([condition, value]) => {
      const { text, needs, mayFail } = condition!;
      const safe = needs.numbers.size === 0 && !mayFail;
      const met = safe ? needs : NO_NEEDS;
      const holds = safe ? text : guarded({ text: mayFail ? `IFERROR(${text},FALSE)` : text, needs, mayFail: false }, 'FALSE');
      return {
        text: value!.text,
        needs: { numbers: value!.needs.numbers, blankTests: new Set([...met.blankTests, ...value!.needs.blankTests, `NOT(${holds})`]) },
        mayFail: value!.mayFail,
      };
    },
    sql: ([condition, value]) => withBlank(sql`CASE WHEN ${condition!} THEN ${value!} END`, true),
    words: ([condition, value]) => `${value}, only if ${condition}`,
  },
  reads: {
    parameters: ['text', 'text'],
    result: 'truth',
    written: null,
    evaluator: ([name, text]) => {
      const [{ slot }, { constant }] = [name!, text!];
      return slot === undefined || constant === undefined ? (slots) => name!(slots) === text!(slots) : (slots) => slots[slot] === constant;
    },
    formula: ([name, text]) => ({ text: `EXACT(${name!.text},${text!.text})`, needs: NO_NEEDS, mayFail: false }),
    sql: ([name, text]) => withBlank(sql`(${name!} IS NOT DISTINCT FROM ${text!})`, false),
    words: ([name, text]) => `${name} reads ${text}`,
  },
  join: strict<string[]>({
    parameters: ['text'],
    rest: 'text',
    result: 'text',
    written: null,
    evaluator: (args) => (slots) => {
      let text = '';
      for (let index = 0; index < args.length; index++) {
        const part = args[index]!(slots);
        if (part === null) return null;
        text += part as string;
      }
      return text;
    },
    text: (...parts) => `(${parts.join('&')})`,
    sql: (parts) => sql`(${sqlJoin(parts, ' || ')})`,
    words: (parts) => parts.join(''),
  }),
  text: strict<[number, number]>({
    parameters: ['number', 'number'],
    result: 'text',
    written: null,
    compute: (x, decimals) => String(roundHalfAway(x, decimals)),
    text: (x, decimals) => `(ROUND(${x},${decimals})&"")`,
    sql: ([x, decimals], context) => numberTextSql(x!, decimalsOf(decimals!), context),
    words: ([x]) => x!,
  }),
  duration: strict<[number]>({ parameters: ['number'], result: 'text', written: null, compute: durationWords, text: (x) => durationFormula(x!), sql: ([x], context) => durationSql(x!, context), words: ([x]) => x! }),
  round_up_to: strict<[number, number]>({
    parameters: ['number', 'number'],
    result: 'number',
    written: null,
    compute: (x, step) => Math.ceil(roundHalfAway(x / step, 6)) * step,
    text: (x, step) => `(-INT(-ROUND(${x}/${step},6))*${step})`,
    sql: ([x, step], context) => multiplySql(sql`ceil(${roundSql(divideSql(x!, step!, context), 6, context)})`, step!, context),
    mayFail: true,
    words: ([x, step]) => `${x} rounded up to a multiple of ${step}`,
  }),
  round_down: strict<[number, number]>({
    parameters: ['number', 'number'],
    result: 'number',
    written: null,
    compute: (x, decimals) => Math.floor(roundHalfAway(x * 10 ** decimals, 6)) / 10 ** decimals,
    text: (x, decimals) => `(INT(ROUND(${x}*10^${decimals},6))/10^${decimals})`,
    sql: ([x, decimals], context) => {
      const power = sqlConstant(10 ** decimalsOf(decimals!), context.dialect);
      return divideSql(sql`floor(${roundSql(multiplySql(x!, power, context), 6, context)})`, power, context);
    },
    mayFail: true,
    words: ([x, decimals]) => `${x} rounded down to ${decimals} decimals`,
  }),
  root_of_squares: strict<number[]>({
    parameters: ['number'],
    rest: 'number',
    result: 'number',
    written: null,
    evaluator: (args) => (slots) => {
      let sum = 0;
      for (let index = 0; index < args.length; index++) {
        const term = args[index]!(slots) as number | null;
        if (term === null) return null;
        sum += term * term;
      }
      return finiteOrBlank(Math.sqrt(sum));
    },
    text: (...terms) => `SQRT(SUMSQ(${terms.join(',')}))`,
    sql: rootOfSquaresSql,
    mayFail: true,
    words: (terms) => `the root of the sum of squares of ${terms.join(', ')}`,
  }),
  normal_cdf: strict<[number]>({ parameters: ['number'], result: 'number', written: null, compute: normalCdf, text: (x) => `NORMSDIST(${x})`, sql: ([x], context) => normalCdfSql(x!, context), mayFail: true, words: ([x]) => `the normal probability of ${x}` }),
} satisfies Record<string, Operator>;

/** The names of the operators. */
export type OperatorName = keyof typeof OPERATORS;
