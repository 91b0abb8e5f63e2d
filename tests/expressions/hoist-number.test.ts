import { describe, expect, it } from 'vitest';
import { hoistNumber } from '../../src/expressions/hoist-number.js';
import { parseExpression } from '../../src/expressions/parse-expression.js';
import { constant, nameOf, type ValueType } from '../../src/expressions/tree.js';

const NAMES: ReadonlyMap<string, ValueType> = new Map<string, ValueType>([
  ['cut_out', 'number'],
  ['limit', 'number'],
  ['site', 'text'],
]);
const parse = (text: string) => parseExpression(text, NAMES);

describe('hoistNumber', () => {
  it('puts a name in the place of the only number', () => {
    expect(hoistNumber(parse('0.5 * cut_out'), 'limit')).toStrictEqual({ tree: parse('limit * cut_out'), value: 0.5 });
    expect(hoistNumber(parse('site == "A" and cut_out < 60'), 'limit')).toStrictEqual({ tree: parse('site == "A" and cut_out < limit'), value: 60 });
    expect(hoistNumber(constant(-5.4), 'limit')).toStrictEqual({ tree: nameOf('limit', 'number'), value: -5.4 });
  });

  it('gives null where there is none, or more than one', () => {
    expect(hoistNumber(parse('cut_out'), 'limit')).toBeNull();
    expect(hoistNumber(parse('min(55, cut_out / 2)'), 'limit')).toBeNull();
    expect(hoistNumber(constant('60'), 'limit')).toBeNull();
  });
});
