import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { derivative } from '../../src/expressions/derivative.js';
import { parseExpression } from '../../src/expressions/parse-expression.js';
import { toFunction } from '../../src/expressions/to-function.js';
import { constant, type ValueType } from '../../src/expressions/tree.js';

const NAMES: ReadonlyMap<string, ValueType> = new Map<string, ValueType>([
  ['x', 'number'],
  ['y', 'number'],
  ['t', 'number'],
]);
const slotOf = (name: string): number => ['x', 'y', 't'].indexOf(name);
const slope = (text: string, name = 'x') => derivative(parseExpression(text, NAMES), name);

describe('derivative', () => {
  // The rules of differentiation, as any table of derivatives has them.
  it.each([
    ['x', '1'],
    ['y', '0'],
    ['7', '0'],
    ['x + y', '1'],
    ['y - x', '-1'],
    ['3 * x', '3'],
    ['x / t', '1 / t'],
    ['60 * (x - y) / t', '60 / t'],
    ['x * y', 'y'],
    ['x > y ? x : y', 'x > y ? 1 : 0'],
    ['y * x', 'y'],
    ['x * y - t', 'y'],
    ['3 * x - 2 * x', '1'],
    ['y - 3 * x', '-3'],
    ['x * 2 * 3', '6'],
    ['-(2 * x)', '-2'],
    ['-y', '0'],
    ['-(x - x)', '0'],
    ['-(x * y)', '-y'],
    ['t - x * y', '-y'],
    ['only_if(x > y, x * t)', 'only_if(x > y, t)'],
  ])('of %s is %s', (text, expected) => {
    expect(slope(text)).toStrictEqual(parseExpression(expected, NAMES));
  });

  it('of a loss with respect to its end is negative', () => {
    expect(slope('60 * (x - y) / t', 'y')).toStrictEqual(parseExpression('-60 / t', NAMES));
  });

  it('is null where none can be written down', () => {
    for (const text of ['round(x, 1)', 'highest(x, y)', 'lowest(x, y)', 'y ^ x', 'abs(round(x))', 'sqrt(round(x))', 'exp(round(x))', 'round(x) + x', 'x + round(x)', 'round(x) ^ 2', 'only_if(x > y, round(x))', 'x > y ? x : round(x)', 'max(x, y, t)', '2 * round(x)']) expect(slope(text)).toBeNull();
    expect(slope('round(y, 1) + x')).toStrictEqual(constant(1));
  });

  it('agrees with the difference quotient', () => {
    const texts = ['x * x / y', 'x ^ 3', 'sqrt(x + y)', 'exp(x / 50)', 'ln(x * y)', 'abs(y - x) * 3', 'max(x, y) * t', 'min(x, 2 * y)', 'x < y ? x * t : -x', '(x - y) / (x + y)', '-x ^ 2 / t', 'x ^ -1', '60 * (x - y) / t'];
    const value = fc.integer({ min: 1, max: 2000 }).map((tenths) => tenths / 10);
    fc.assert(
      fc.property(fc.constantFrom(...texts), value, value, value, (text, x, y, t) => {
        // At a corner there is no slope.
        fc.pre(Math.abs(x - y) > 0.05 && Math.abs(x - 2 * y) > 0.05);
        const [f, d] = [toFunction(parseExpression(text, NAMES), slotOf), toFunction(slope(text)!, slotOf)];
        const h = 1e-4 * x;
        const quotient = ((f([x + h, y, t]) as number) - (f([x - h, y, t]) as number)) / (2 * h);
        const found = d([x, y, t]) as number;
        // A corner within reach of the step makes the quotient useless.
        fc.pre(Math.sign(x + h - y) === Math.sign(x - h - y) && Math.sign(x + h - 2 * y) === Math.sign(x - h - 2 * y));
        expect(Math.abs(found - quotient)).toBeLessThan(1e-6 * Math.max(1, Math.abs(quotient)));
      }),
      { numRuns: 600, seed: 3 },
    );
  });
});
