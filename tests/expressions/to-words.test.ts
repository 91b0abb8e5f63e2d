import { describe, expect, it } from 'vitest';
import { parseExpression } from '../../src/expressions/parse-expression.js';
import { toWords } from '../../src/expressions/to-words.js';
import { NAME_TYPES } from './readings-in-cells.js';
import { OPERATOR_CASES } from './operator-cases.js';

const TITLES: ReadonlyMap<string, string> = new Map([
  ['a', 'primary start'],
  ['b', 'primary end'],
  ['c', 'time'],
  ['s', 'site'],
  ['p', 'audible leak'],
]);
const words = (text: string): string => toWords(parseExpression(text, NAME_TYPES), (name) => TITLES.get(name) ?? name);

describe('toWords', () => {
  it.each([
    ['a', 'primary start'],
    ['a - b', 'primary start minus primary end'],
    ['60 * (a - b) / c', '(60 times (primary start minus primary end)) divided by time'],
    ['(a - b) * (a + b)', '(primary start minus primary end) times (primary start plus primary end)'],
    ['a <= 3', 'primary start is at most 3'],
    ['a < 3 and not p', 'primary start is less than 3 and not (audible leak)'],
    ['s == "North"', 'site is North'],
    ['highest(a, b)', 'the higher of primary start and primary end (of those given)'],
    ['lowest(a, b)', 'the lower of primary start and primary end (of those given)'],
    ['max(a, b, c)', 'the larger of primary start, primary end, time'],
    ['min(a, b)', 'the smaller of primary start, primary end'],
    ['given(a) ? a : 0', 'primary start if primary start is given, otherwise 0'],
    ['(p or a < 3) and b < 4', '(audible leak or primary start is less than 3) and primary end is less than 4'],
    ['p or a < 3 and b < 4', 'audible leak or (primary start is less than 3 and primary end is less than 4)'],
    ['not (p or a < 3)', 'not (audible leak or primary start is less than 3)'],
    ['(p ? 1 : 2) + a', '(1 if audible leak, otherwise 2) plus primary start'],
    ['sqrt(a)', 'the square root of primary start'],
  ])('%s reads: %s', (text, expected) => {
    expect(words(text)).toBe(expected);
  });

  it('takes away brackets that hold all of it, and no others', () => {
    const title = (said: string): string => toWords(parseExpression('a', NAME_TYPES), () => said);
    expect(['(first) or (second)', '(first) gauge', '(gauge)', '(', '(('].map(title)).toStrictEqual(['(first) or (second)', '(first) gauge', 'gauge', '(', '((']);
  });

  it('has words for every operator', () => {
    for (const [name, cases] of Object.entries(OPERATOR_CASES)) {
      const said = toWords(cases[0]!.tree, (title) => title);
      expect(said, name).not.toBe('');
      expect(said, name).not.toMatch(/undefined|\[object|_/);
    }
  });
});
