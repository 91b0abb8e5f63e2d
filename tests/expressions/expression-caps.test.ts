import { describe, expect, it } from 'vitest';
import { derivative } from '../../src/expressions/derivative.js';
import { DEEPEST_EXPRESSION, LONGEST_EXPRESSION, MOST_EXPRESSION_NODES, parseExpression } from '../../src/expressions/parse-expression.js';
import { LONGEST_FORMULA, toFormula } from '../../src/expressions/to-formula.js';
import { isLargerThan, nameOf, type Tree } from '../../src/expressions/tree.js';
import { call } from '../../src/expressions/call.js';
import { TreadlebookError } from '../../src/util/treadlebook-error.js';
import { refusalOf } from '../support/refusal-of.js';
import { ResultsSection } from '../support/results-section.js';
import { NAME_TYPES, referenceIn } from './readings-in-cells.js';

const results = new ResultsSection('tests/expressions/RESULTS.md', 'Expressions made to do harm, and what came of each', 'Expressions too large');

const parse = (text: string): Tree => parseExpression(text, NAME_TYPES);
const nested = (depth: number, around: (inner: string) => string, core: string): string => (depth === 0 ? core : around(nested(depth - 1, around, core)));

const TOO_LONG = /^the expression has \d+ characters$/;
const TOO_DEEP = `the expression is nested more than ${DEEPEST_EXPRESSION} deep`;
const TOO_MANY = `the expression has more than ${MOST_EXPRESSION_NODES} parts`;

describe('an expression of any size is answered at once', () => {
  it.each<[string, string]>([
    ['100,000 terms', Array(100_000).fill('a').join(' + ')],
    ['5,000 brackets', `${'('.repeat(5000)}a${')'.repeat(5000)}`],
    ['20,000 minus signs', `${'-'.repeat(20_000)}a`],
    ['a megabyte of spaces', `a${' '.repeat(1_000_000)}`],
    ['a megabyte of one name', 'a'.repeat(1_000_000)],
    ['a megabyte of text in quotes', `s == "${'x'.repeat(1_000_000)}"`],
    ['a megabyte of digits', '9'.repeat(1_000_000)],
    ['a megabyte of comment', `a # ${'x'.repeat(1_000_000)}`],
    ['10,000 conditions', `${'p ? a : '.repeat(10_000)}b`],
    ['10,000 powers', Array(10_000).fill('a').join('^')],
  ])('%s: by its length', (size, text) => {
    const { code, what, message } = refusalOf(() => parse(text));
    expect(code).toBe('expression_invalid');
    expect(what).toMatch(TOO_LONG);
    expect(message.length).toBeLessThan(300);
    results.came(size, `refused: ${what}`);
  });

  // Every token of the grammar and some beyond it, again and again up to the longest expression.
  const TOKENS = ['(', ')', '[', ']', '{', '}', '-', '+', '!', '~', 'not ', 'a', 'a ', 'a+', 'a-', 'a*', 'a/', 'a^', 'a<', 'a==', 'a=', 'a,', 'a;', 'a\n', 'a.', 'a?', 'a:', 'p?a:', 'p?', '? ', ': ', 'a!', "a'", "'", '"', '"a"', '\\', '#', '%', 'a%', 'a mod ', 'a to ', 'a in ', 'a and ', 'p and ', 'p xor ', 'a|', 'a&', 'a<<', 'a??', 'a?.', 'a[', 'a(', 'a{', '{a:', 'max(', 'max(a,', 'abs(', 'f(a)=', 'a=', '1', '1e', '0x', '.', '1.', '_', '$', 'é', '\u202e', '\u0000', '\ud800', '😀', '`', '@'];
  it.each(TOKENS.map((token) => [token]))('%j again and again: with a short answer', (token) => {
    for (const tail of ['', 'a', '1)']) {
      const text = token.repeat(Math.floor((LONGEST_EXPRESSION - 3) / token.length)) + tail;
      let answer: unknown;
      try {
        answer = parse(text).kind;
      } catch (error) {
        answer = error;
      }
      // One very long number or text is an expression; nothing else here is.
      if (!(answer instanceof TreadlebookError)) expect([answer, token]).toStrictEqual(['constant', expect.stringMatching(/^(1|\.|1\.)$/)]);
      else {
        expect(answer.code).toBe('expression_invalid');
        expect(answer.message.length).toBeLessThan(400);
        expect(answer.what).not.toMatch(/call stack/i);
      }
    }
  });

  it.each<[string, string]>([
    ['brackets', nested(70, (inner) => `(${inner})`, 'a')],
    ['functions', nested(70, (inner) => `abs(${inner})`, 'a')],
    ['signs', nested(70, (inner) => `-${inner}`, 'a')],
    ['conditions in conditions', nested(40, (inner) => `(p ? ${inner} : b)`, 'a')],
    ['conditions one after the other', nested(70, (inner) => `p ? 1 : ${inner}`, 'a')],
    ['powers', nested(70, (inner) => `a^${inner}`, 'a')],
  ])('nested %s: by its depth', (what, text) => {
    expect(refusalOf(() => parse(text)).what).toBe(TOO_DEEP);
    results.came(`${what} nested`, `refused: ${TOO_DEEP}`);
  });

  it('chains of comparisons within each other, which say their inner operands twice', () => {
    const chains = (depth: number): string => nested(depth, (inner) => `(1 < ${inner} < 3 ? 1 : 2)`, 'a');
    expect(isLargerThan(parse(chains(3)), MOST_EXPRESSION_NODES)).toBe(false);
    for (const depth of [6, 12, 20]) expect(refusalOf(() => parse(chains(depth))).what).toBe(TOO_MANY);
    results.came('chains of comparisons within each other', `refused: ${TOO_MANY}`);
  });
});

describe('the formula of an expression is no longer than a cell takes', () => {
  const powers = (depth: number): string => nested(depth, (inner) => `a^${inner}`, 'b');

  it.each<[string, string]>([
    ['powers', powers(20)],
    ['powers at the deepest', powers(62)],
    ['powers of powers', nested(20, (inner) => `(${inner})^2`, 'a')],
    ['conditions over what may be blank', nested(20, (inner) => `only_if(p, ${inner}) ^ 2`, 'a')],
    ['conditions that may be blank', nested(14, (inner) => `only_if(given(a), (${inner}) ^ b) ^ b`, 'a')],
  ])('%s', (built, text) => {
    const error = refusalOf(() => toFormula(parse(text), referenceIn(4), 'column m'));
    expect({ code: error.code, where: error.where, what: error.what, mend: error.mend }).toStrictEqual({ code: 'expression_invalid', where: 'column m', what: 'its formula would have more than 8192 characters', mend: 'split the measure, or the limit set, in two' });
    results.came(`a formula longer than a cell takes: ${built}`, `refused: ${error.what}`);
  });

  it('and one of just that length is written', () => {
    const sum = (terms: number): Tree => Array.from({ length: terms }, () => nameOf('a', 'number')).reduce<Tree>((left, right) => call('add', left, right), nameOf('b', 'number'));
    let terms = 1;
    while (toFormulaLength(sum(terms + 1)) !== null) terms += 1;
    expect(toFormulaLength(sum(terms))).toBeGreaterThan(LONGEST_FORMULA - 10);
    expect(terms).toBeGreaterThan(500);
  });

  it.each<[string, string]>([
    ['products', nested(30, (inner) => `a * (${inner})`, 'a')],
    ['quotients', nested(28, (inner) => `a / (${inner})`, 'a')],
    ['quotients on the other side', nested(30, (inner) => `(${inner}) / a`, 'a')],
    ['powers', nested(30, (inner) => `(${inner}) ^ 2`, 'a')],
    ['roots', nested(60, (inner) => `sqrt(${inner})`, 'a')],
    ['exponentials', nested(60, (inner) => `exp(${inner})`, 'a')],
    ['the larger of two', nested(60, (inner) => `max(a, ${inner})`, 'a')],
    ['conditions', nested(29, (inner) => `(a > b ? ${inner} : a)`, 'a')],
  ])('and the derivative of nested %s stays within the square of its size', (_what, text) => {
    const slope = derivative(parse(text), 'a');
    expect(slope).not.toBeNull();
    expect(isLargerThan(slope!, MOST_EXPRESSION_NODES ** 2)).toBe(false);
  });
});

function toFormulaLength(tree: Tree): number | null {
  try {
    return toFormula(tree, referenceIn(4)).length;
  } catch {
    return null;
  }
}

describe('isLargerThan', () => {
  it('counts every place of a shared part, and stops in time', () => {
    let tree: Tree = nameOf('a', 'number');
    expect([isLargerThan(tree, 0), isLargerThan(tree, 1)]).toStrictEqual([true, false]);
    for (let doubled = 0; doubled < 50; doubled++) tree = call('add', tree, tree);
    expect(isLargerThan(tree, 1000)).toBe(true);
    const three = call('add', nameOf('a', 'number'), nameOf('b', 'number'));
    expect([isLargerThan(three, 2), isLargerThan(three, 3)]).toStrictEqual([true, false]);
  });
});

it('stand in the published table with what came of them (WRITE_RESULTS=1 writes it anew)', () => results.expectPublished());
