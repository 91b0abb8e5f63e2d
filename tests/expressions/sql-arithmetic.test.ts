import { afterAll, describe, expect, it } from 'vitest';
import { call } from '../../src/expressions/call.js';
import type { OperatorName } from '../../src/expressions/operators.js';
import { constant, nameOf, type Tree, type Value } from '../../src/expressions/tree.js';
import { normalCdf } from '../../src/statistics/normal-cdf.js';
import { openDuckdb, type SqlEngine } from '../support/sql-engines.js';
import { COLUMNS } from './readings-in-cells.js';
import { valuesIn } from './sql-values.js';

/*
 * At the ends of the doubles, whose largest is 1.797…e308 and whose smallest of full precision is 2.225…e-308 (IEEE 754). What
 * overflows is NULL and what is too small for full precision is zero; every other result is that of arithmetic.
 */
type Case = readonly [operator: OperatorName, left: number, right: number, gives: number | null];
const CASES: readonly Case[] = [
  ['add', 1e308, 7e307, 1.7e308],
  ['add', 1e308, 8e307, null],
  ['add', -1e308, -8e307, null],
  ['add', 1.7e308, -1e308, 7e307],
  ['add', 1.7e308, 1, 1.7e308],
  ['subtract', 1e308, -7e307, 1.7e308],
  ['subtract', 1e308, -8e307, null],
  ['subtract', -1.7e308, -1e308, -7e307],
  ['subtract', 0, -2, 2],
  // What is left of near opposites below 2^-48 of them is noise.
  ['subtract', 1, 1 - 2 ** -49, 0],
  ['subtract', 1, 1 - 2 ** -47, 2 ** -47],
  ['multiply', 1e200, 1e107, 1e307],
  ['multiply', 1e200, 1e109, null],
  ['multiply', -1e200, 1e109, null],
  ['multiply', 1e-200, 1e-107, 1e-307],
  ['multiply', 1e-200, 1e-109, 0],
  ['multiply', 1e300, 0, 0],
  ['multiply', 0, 1e300, 0],
  ['multiply', -3, -4, 12],
  ['divide', 1e200, 1e-107, 1e307],
  ['divide', 1e200, 1e-109, null],
  ['divide', 1e-200, 1e107, 1e-307],
  ['divide', 1e-200, 1e109, 0],
  ['divide', 0, 5, 0],
  ['divide', 5, 0, null],
  ['divide', 0, 0, null],
  ['divide', -6, 4, -1.5],
  ['power', 10, 308, 1e308],
  ['power', 10, 309, null],
  ['power', 10, -307, 1e-307],
  ['power', 10, -309, null],
  ['power', 0, 2, 0],
  ['power', 0, 0, null],
  ['power', 0, -1, null],
  ['power', -2, 3, -8],
  ['power', -2, 0.5, null],
  ['power', 1, 1e300, 1],
  ['power', -1, 3, -1],
  ['power', 2, 1e20, null],
  ['power', 0.5, 1e20, null],
  ['power', 5, 0, 1],
  ['power', 5, 1e-300, 1],
  ['root_of_squares', 3e153, 4e153, 5e153],
  ['root_of_squares', 1e154, 1e154, null],
  ['root_of_squares', 1e200, 0, null],
  ['root_of_squares', 3e-200, 0, 0],
  ['root_of_squares', 3e-140, 4e-140, 5e-140],
];
const ALONE: readonly (readonly [operator: OperatorName, operand: number, gives: number | null])[] = [
  ['exp', 709.7, Math.E ** 709.7],
  ['exp', 709.79, null],
  ['exp', -708, Math.exp(-708)],
  ['exp', -709, 0],
  ['exp', 0, 1],
  ['sqrt', 0, 0],
  ['sqrt', -1e-300, null],
  ['sqrt', 1e300, 1e150],
  ['ln', 0, null],
  ['ln', -1, null],
  ['ln', 1, 0],
  ['ln', 1e300, 300 * Math.LN10],
  ['negate', 1.5, -1.5],
  ['abs', -1e308, 1e308],
];

const [a, b] = [nameOf('a', 'number'), nameOf('b', 'number')];
const slots = (...values: readonly Value[]): Value[] => COLUMNS.map((_, index) => values[index] ?? null);
const close = (gives: number | null, found: unknown): boolean => (gives === null ? found === null : typeof found === 'number' && Math.abs(found - gives) <= 1e-12 * Math.abs(gives));

describe('arithmetic in DuckDB at the ends of the numbers', () => {
  let engine: Promise<SqlEngine> | undefined;
  afterAll(async () => (await engine)?.close());

  const wrong = async (samples: readonly { readonly tree: Tree; readonly slots: readonly Value[]; readonly gives: number | null; readonly what: string }[]): Promise<unknown[]> => {
    const found = await valuesIn(await (engine ??= openDuckdb()), samples);
    return samples.flatMap(({ gives, what }, index) => (close(gives, found[index]) ? [] : [{ what, gives, found: found[index] }]));
  };
  const operators = [...new Set(CASES.map(([operator]) => operator))];
  const ofOperator = (operator: OperatorName): readonly Case[] => CASES.filter(([name]) => name === operator);

  it.each(operators)('%s of two columns', async (operator) => {
    expect(await wrong(ofOperator(operator).map(([, left, right, gives]) => ({ tree: call(operator, a, b), slots: slots(left, right), gives, what: `${left} ${operator} ${right}` })))).toStrictEqual([]);
  });

  // A number that is known has a bound of its own, worked out beforehand.
  it.each(operators)('%s with a number on the right, and on the left', async (operator) => {
    const right = ofOperator(operator).map(([, left, known, gives]) => ({ tree: call(operator, a, constant(known)), slots: slots(left), gives, what: `column ${left} ${operator} ${known}` }));
    const left = ofOperator(operator).map(([, known, other, gives]) => ({ tree: call(operator, constant(known), b), slots: slots(null, other), gives, what: `${known} ${operator} column ${other}` }));
    expect(await wrong([...right, ...left])).toStrictEqual([]);
  });

  it.each<[OperatorName, number, number, number | null]>([
    ['multiply', 8e307, 2, 1.6e308],
    ['multiply', 9e307, 2, null],
    ['multiply', -9e307, -2, null],
    ['multiply', 5e-308, 0.5, 2.5e-308],
    ['multiply', 4e-308, 0.5, 0],
    ['multiply', -5e-308, -0.5, 2.5e-308],
    ['multiply', 7, 1, 7],
    ['divide', 5e-308, 2, 2.5e-308],
    ['divide', 4e-308, 2, 0],
    ['divide', 4e-308, -2, 0],
    ['divide', 8e307, 0.5, 1.6e308],
    ['divide', 9e307, 0.5, null],
    ['divide', 9e307, -0.5, null],
    ['divide', 7, 1, 7],
  ])('%s of a column of %d and the number %d', async (operator, column, known, gives) => {
    const samples = [{ tree: call(operator, a, constant(known)), slots: slots(column), gives, what: 'right' }];
    if (operator === 'multiply') samples.push({ tree: call(operator, constant(known), a), slots: slots(column), gives, what: 'left' });
    expect(await wrong(samples)).toStrictEqual([]);
  });

  it('is NULL where a column is', async () => {
    const samples = [...operators.map((operator) => call(operator, a, b)), ...operators.map((operator) => call(operator, a, constant(2))), ...ALONE.map(([operator]) => call(operator, a)), call('max', a, b), call('min', a, b)];
    expect(await wrong(samples.flatMap((tree) => [slots(null, 3), slots(null, null)].map((row) => ({ tree, slots: row, gives: null, what: JSON.stringify(tree) }))))).toStrictEqual([]);
  });

  it('of the normal distribution is that of the program to 1e-14, in the middle and in both tails', async () => {
    const at = Array.from({ length: 161 }, (_, index) => (index - 80) / 2).concat(2.4999, 2.5001, -2.4999, -2.5001, 8.4999, -37.4999);
    const found = await valuesIn(await (engine ??= openDuckdb()), at.map((z) => ({ tree: call('normal_cdf', a), slots: slots(z) })));
    expect(at.filter((z, index) => !(Math.abs((found[index] as number) - normalCdf(z)) < 1e-14))).toStrictEqual([]);
    // Small chances keep their digits: Phi(-3) and Phi(-10) are 1.349898031630095e-3 and 7.619853024160527e-24.
    expect(await wrong([[-3, 1.349898031630095e-3], [-10, 7.619853024160527e-24]].map(([z, gives]) => ({ tree: call('normal_cdf', a), slots: slots(z!), gives: gives!, what: `${z}` })))).toStrictEqual([]);
  });

  it('leaves a number alone that has no decimals left to round', async () => {
    const large = [123_456_789_012_345.67, -123_456_789_012_345.67, 4_503_599_627_370_497.5, 1e300];
    expect(await wrong(large.map((value) => ({ tree: call('round', a, constant(2)), slots: slots(value), gives: value, what: `${value}` })))).toStrictEqual([]);
  });

  it('of one column', async () => {
    expect(await wrong(ALONE.map(([operator, operand, gives]) => ({ tree: call(operator, a), slots: slots(operand), gives, what: `${operator} ${operand}` })))).toStrictEqual([]);
  });
});
