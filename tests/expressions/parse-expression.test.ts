import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DEEPEST_EXPRESSION, LONGEST_EXPRESSION, MOST_EXPRESSION_NODES, parseExpression } from '../../src/expressions/parse-expression.js';
import { namesIn, type ValueType } from '../../src/expressions/tree.js';
import { TreadlebookError } from '../../src/util/treadlebook-error.js';

const NAMES: ReadonlyMap<string, ValueType> = new Map<string, ValueType>([
  ['cut_in', 'number'],
  ['cut_out', 'number'],
  ['site', 'text'],
  ['audible_leak', 'truth'],
]);

function refusal(text: string): TreadlebookError {
  try {
    parseExpression(text, NAMES);
  } catch (error) {
    if (error instanceof TreadlebookError) return error;
    throw error;
  }
  throw new Error(`${text} was not refused`);
}

const NOT_PART = 'is not part of the expression language';
const OPERATORS_MEND = 'use + - * / ^, comparisons, and, or, not, ? :';
const FUNCTIONS_MEND = 'the functions are max, min, abs, sqrt, exp, ln, round, highest, lowest, given, only_if';
const NAMES_MEND = '`treadlebook fields` lists the readings, `treadlebook limits` the measures';

describe('parseExpression refuses', () => {
  it.each([
    // node kinds that are no arithmetic
    ['cos.constructor', `a member of a name ${NOT_PART}`, 'use plain names'],
    ['"site".constructor', `a member of a name ${NOT_PART}`, 'use plain names'],
    ['cut_in[1]', `a member of a name ${NOT_PART}`, 'use plain names'],
    ['cut_in?.constructor', `a member of a name ${NOT_PART}`, 'use plain names'],
    ['cut_in = 1', `an assignment ${NOT_PART}`, 'a single = assigns; compare with =='],
    ['f(x) = x', `the definition of a function ${NOT_PART}`, 'add a measure instead'],
    ['cut_in; cut_out', `a sequence of expressions ${NOT_PART}`, 'write one expression, without ; and on one line'],
    ['cut_in\n+ cut_out', `a sequence of expressions ${NOT_PART}`, 'write one expression, without ; and on one line'],
    ['[cut_in, 2]', `a list ${NOT_PART}`, 'name the readings one by one'],
    ['{cut_in: 1}', `an object ${NOT_PART}`, 'name the readings one by one'],
    ['1:3', `a range ${NOT_PART}`, 'a condition is written a ? b : c'],
    // operators that are not in the table
    ['cut_in % 3', `the operator % ${NOT_PART}`, OPERATORS_MEND],
    ['5 %', `the operator % ${NOT_PART}`, 'divide by 100'],
    ['cut_in mod 3', `the operator mod ${NOT_PART}`, OPERATORS_MEND],
    ['cut_in!', `the operator ! ${NOT_PART}`, OPERATORS_MEND],
    ['cut_in | 1', `the operator | ${NOT_PART}`, OPERATORS_MEND],
    ['~cut_in', `the operator ~ ${NOT_PART}`, OPERATORS_MEND],
    ['cut_in .* 2', `the operator .* ${NOT_PART}`, OPERATORS_MEND],
    ['cut_in ?? 2', `the operator ?? ${NOT_PART}`, OPERATORS_MEND],
    ['audible_leak xor audible_leak', `the operator xor ${NOT_PART}`, OPERATORS_MEND],
    ['cut_in to cut_out', `the operator to ${NOT_PART}`, OPERATORS_MEND],
    ['2 cut_in', 'a product is written without its sign', 'write * between the two'],
    ['(cut_in)(cut_out)', 'a product is written without its sign', 'write * between the two'],
    // names and functions that are not declared
    ['5 psi', 'the name psi is unknown', NAMES_MEND],
    ['__proto__', 'the name __proto__ is unknown', NAMES_MEND],
    ['constructor', 'the name constructor is unknown', NAMES_MEND],
    ['toString', 'the name toString is unknown', NAMES_MEND],
    ['import', 'the name import is unknown', NAMES_MEND],
    ['pi', 'the name pi is unknown', NAMES_MEND],
    ['cut_inn', 'the name cut_inn is unknown', 'did you mean cut_in?'],
    ['import("fs")', 'the function import is unknown', FUNCTIONS_MEND],
    ['createUnit("x")', 'the function createUnit is unknown', FUNCTIONS_MEND],
    ['evaluate("1")', 'the function evaluate is unknown', FUNCTIONS_MEND],
    ['constructor(1)', 'the function constructor is unknown', FUNCTIONS_MEND],
    ['toString()', 'the function toString is unknown', FUNCTIONS_MEND],
    ['hasOwnProperty("a")', 'the function hasOwnProperty is unknown', FUNCTIONS_MEND],
    ['higest(cut_in, cut_out)', 'the function higest is unknown', 'did you mean highest?'],
    // the program's own operators cannot be written
    ['reads(site, "x")', 'the function reads is unknown', FUNCTIONS_MEND],
    ['or_else(cut_in, 1)', 'the function or_else is unknown', FUNCTIONS_MEND],
    // types and numbers of operands
    ['cut_in + site', '+ needs a number, but site is a text', 'put a number, a numeric reading or arithmetic there; a yes/no is used by its name alone or with not'],
    ['site == 5', '== needs a number, but site is a text', 'put a number, a numeric reading or arithmetic there; a yes/no is used by its name alone or with not'],
    ['5 == site', '== needs a number, but site is a text', 'put a number, a numeric reading or arithmetic there; a yes/no is used by its name alone or with not'],
    ['-"x"', '- needs a number, but "x" is a text', 'put a number, a numeric reading or arithmetic there; a yes/no is used by its name alone or with not'],
    ['-site', '- needs a number, but site is a text', 'put a number, a numeric reading or arithmetic there; a yes/no is used by its name alone or with not'],
    ['site < "x"', '< needs a number, but site is a text', 'put a number, a numeric reading or arithmetic there; a yes/no is used by its name alone or with not'],
    ['+ site', 'the operator + is not part of the expression language', OPERATORS_MEND],
    ['audible_leak == true', '== needs a number, but audible_leak is a yes/no', 'put a number, a numeric reading or arithmetic there; a yes/no is used by its name alone or with not'],
    ['"7" >= 5', '>= needs a number, but "7" is a text', 'put a number, a numeric reading or arithmetic there; a yes/no is used by its name alone or with not'],
    ['cut_in and cut_out', 'and needs a yes/no, but cut_in is a number', 'put a comparison or a yes/no there'],
    ['not (cut_in + 1)', 'not needs a yes/no, but the result of + is a number', 'put a comparison or a yes/no there'],
    ['cut_in ? 1 : 2', 'before ? there must be a comparison or a yes/no', 'write a condition as in a > b ? c : d'],
    ['only_if(cut_in, 1)', 'first in only_if there must be a comparison or a yes/no', 'write a condition as in only_if(a > b, c)'],
    ['audible_leak ? 1 : "x"', '? : has a number on one side and a text on the other', 'give both sides the same type'],
    ['highest(cut_in, 1)', 'highest takes names of readings or measures only', 'give the rest a measure of its own, and name that'],
    ['given(cut_in + 1)', 'given takes names of readings or measures only', 'give the rest a measure of its own, and name that'],
    ['abs(cut_in, cut_out)', 'abs takes 1 operand, not 2', 'separate them by commas'],
    ['max(cut_in)', 'max takes at least 2 operands, not 1', 'separate them by commas'],
    ['round(cut_in, cut_out)', 'round takes its decimals as a number from 0 to 10', 'write them out, as in round(cut_out, 1)'],
    ['round(cut_in, -1)', 'round takes its decimals as a number from 0 to 10', 'write them out, as in round(cut_out, 1)'],
    ['round(cut_in, 1.5)', 'round takes its decimals as a number from 0 to 10', 'write them out, as in round(cut_out, 1)'],
    ['round(cut_in, 11)', 'round takes its decimals as a number from 0 to 10', 'write them out, as in round(cut_out, 1)'],
    // constants that are no plain numbers
    ['1e999', 'Infinity is no plain number', 'write a number, a text in quotes, true or false'],
    ['NaN', 'NaN is no plain number', 'write a number, a text in quotes, true or false'],
    ['null', 'null is no plain number', 'write a number, a text in quotes, true or false'],
    // what cannot be parsed
    ['', 'the expression is empty', 'write one, such as cut_out - cut_in'],
    [' \t ', 'the expression is empty', 'write one, such as cut_out - cut_in'],
    ['cut_in +', 'it cannot be parsed: Unexpected end of expression (char 9)', 'check brackets, commas and operators'],
    ['(cut_in', 'it cannot be parsed: Parenthesis ) expected (char 8)', 'check brackets, commas and operators'],
    ['1,5', 'it cannot be parsed: Unexpected operator , (char 2)', 'check brackets, commas and operators'],
  ])('%j: %s', (text, what, mend) => {
    const { code, what: found, mend: foundMend, where } = refusal(text);
    expect({ code, what: found, mend: foundMend, where }).toStrictEqual({ code: 'expression_invalid', what, mend, where: undefined });
  });

  it('a long name by its first 120 letters', () => {
    expect(refusal('x'.repeat(120)).what).toBe(`the name ${'x'.repeat(120)} is unknown`);
    expect(refusal('x'.repeat(121)).what).toBe(`the name ${'x'.repeat(120)}… is unknown`);
  });

  it('an expression that is too long', () => {
    expect(refusal(`cut_in${' '.repeat(LONGEST_EXPRESSION)}`).what).toBe(`the expression has ${LONGEST_EXPRESSION + 6} characters`);
    expect(namesIn(parseExpression(`cut_in${' '.repeat(LONGEST_EXPRESSION - 6)}`, NAMES))).toStrictEqual(new Set(['cut_in']));
  });

  it.each(
    Object.entries({
      brackets: `${'('.repeat(400)}cut_in${')'.repeat(400)}`,
      'functions in functions': `${'abs('.repeat(100)}cut_in${')'.repeat(100)}`,
      signs: `${'-'.repeat(900)}cut_in`,
      'signs and blanks': `${'- '.repeat(400)}cut_in`,
      nots: `${'not '.repeat(200)}audible_leak`,
      lists: '['.repeat(900),
      objects: '{a:'.repeat(300),
      powers: Array(200).fill('2').join('^'),
      conditions: `${'audible_leak?1:'.repeat(66)}2`,
      terms: Array(DEEPEST_EXPRESSION + 2).fill('1').join('+'),
    }),
  )('deep nesting: %s', (_kind, text) => {
    expect(refusal(text)).toMatchObject({ code: 'expression_invalid', what: `the expression is nested more than ${DEEPEST_EXPRESSION} deep`, mend: 'split it into two measures' });
  });

  it('more parts than a formula can hold', () => {
    const wide = (operands: number): string => `max(${Array(operands).fill('1').join(',')})`;
    expect(refusal(wide(MOST_EXPRESSION_NODES))).toMatchObject({ what: `the expression has more than ${MOST_EXPRESSION_NODES} parts`, mend: 'split it into two measures' });
    expect(parseExpression(wide(MOST_EXPRESSION_NODES - 1), NAMES).type).toBe('number');
  });

  it('names that are no own names of a plain object', () => {
    for (const name of Object.getOwnPropertyNames(Object.prototype)) expect(refusal(name).code).toBe('expression_invalid');
  });

  it('anything at all with a TreadlebookError of one line, and gives declared names only', () => {
    const pieces = fc.constantFrom('cut_in', 'site', 'audible_leak', '(', ')', '+', '-', '^', '<', '==', 'and', 'not', '?', ':', '"x"', '2', ',', 'max(', 'given(', '.', '[', ';', '=', '%', 'constructor', '__proto__', '\n', 'é', "'");
    const text = fc.oneof(fc.string({ unit: 'binary', maxLength: 60 }), fc.array(pieces, { maxLength: 25 }).map((words) => words.join(' ')));
    fc.assert(
      fc.property(text, (expression) => {
        try {
          for (const name of namesIn(parseExpression(expression, NAMES))) expect(NAMES.has(name)).toBe(true);
        } catch (error) {
          expect(error).toBeInstanceOf(TreadlebookError);
          expect(error).toMatchObject({ code: 'expression_invalid', mend: expect.stringMatching(/./) as string });
          expect((error as TreadlebookError).message).not.toMatch(/[\r\n]/);
        }
      }),
      { numRuns: 2000, seed: 7 },
    );
  });
});

describe('parseExpression gives', () => {
  const number = (value: number): unknown => ({ kind: 'constant', type: 'number', value });

  it('a tree with the types checked', () => {
    expect(parseExpression('60 * (cut_out - cut_in)', NAMES)).toStrictEqual({
      kind: 'call',
      type: 'number',
      operator: 'multiply',
      args: [number(60), { kind: 'call', type: 'number', operator: 'subtract', args: [{ kind: 'name', type: 'number', name: 'cut_out' }, { kind: 'name', type: 'number', name: 'cut_in' }] }],
    });
  });

  it('numbers down to the smallest of full precision', () => {
    expect(parseExpression('2.2250738585072014e-308', NAMES)).toStrictEqual(number(2 ** -1022));
    expect(refusal('2.225e-308').what).toBe('2.225e-308 is too small for a spreadsheet');
  });

  it('signs taken into constants, and a plus left out', () => {
    expect(parseExpression('-2', NAMES)).toStrictEqual(number(-2));
    expect(parseExpression('+ 2', NAMES)).toStrictEqual(number(2));
  });

  it('a power before the sign and from the right, as mathjs documents its precedence', () => {
    const power = (...args: unknown[]): unknown => ({ kind: 'call', type: 'number', operator: 'power', args });
    expect(parseExpression('-2 ^ 2', NAMES)).toStrictEqual({ kind: 'call', type: 'number', operator: 'negate', args: [power(number(2), number(2))] });
    expect(parseExpression('2 ^ 3 ^ 2', NAMES)).toStrictEqual(power(number(2), power(number(3), number(2))));
  });

  it('round without decimals as round to whole numbers', () => {
    expect(parseExpression('round(cut_in)', NAMES)).toStrictEqual(parseExpression('round(cut_in, 0)', NAMES));
  });

  it('up to ten decimals', () => {
    expect(parseExpression('round(cut_in, 10)', NAMES)).toMatchObject({ operator: 'round', args: [{ name: 'cut_in' }, number(10)] });
  });

  it('truths and texts as constants', () => {
    expect(parseExpression('true', NAMES)).toStrictEqual({ kind: 'constant', type: 'truth', value: true });
    expect(parseExpression('false', NAMES)).toStrictEqual({ kind: 'constant', type: 'truth', value: false });
    expect(parseExpression('"x"', NAMES)).toStrictEqual({ kind: 'constant', type: 'text', value: 'x' });
  });

  it('brackets side by side, and inside each other as deep as is allowed', () => {
    expect(parseExpression(`max(${Array(100).fill('(cut_in)').join(',')})`, NAMES).type).toBe('number');
    expect(parseExpression(`${'('.repeat(DEEPEST_EXPRESSION)}1${')'.repeat(DEEPEST_EXPRESSION)}`, NAMES)).toStrictEqual(number(1));
  });

  it('what is given of any type, and a value of any type where a condition holds', () => {
    expect(parseExpression('given(site)', NAMES)).toMatchObject({ operator: 'given', type: 'truth' });
    expect(parseExpression('given(audible_leak)', NAMES)).toMatchObject({ operator: 'given', type: 'truth' });
    expect(parseExpression('only_if(audible_leak, cut_in)', NAMES)).toMatchObject({ operator: 'only_if', type: 'number' });
    expect(parseExpression('only_if(cut_in > 1, site)', NAMES)).toMatchObject({ operator: 'only_if', type: 'text' });
  });

  it('a chain of comparisons as their and', () => {
    expect(parseExpression('20 <= cut_in < cut_out', NAMES)).toStrictEqual(parseExpression('20 <= cut_in and cut_in < cut_out', NAMES));
  });

  it('a comparison of texts apart from one of numbers', () => {
    expect(parseExpression('site == "North"', NAMES)).toMatchObject({ operator: 'same_text', type: 'truth' });
    expect(parseExpression("site != 'North'", NAMES)).toMatchObject({ operator: 'other_text', type: 'truth' });
  });

  it('a condition of the type of its branches', () => {
    expect(parseExpression('audible_leak ? "leaks" : site', NAMES)).toMatchObject({ operator: 'choose', type: 'text' });
    expect(parseExpression('true ? false : audible_leak', NAMES)).toMatchObject({ operator: 'choose', type: 'truth' });
  });
});
