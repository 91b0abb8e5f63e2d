import { describe, expect, it } from 'vitest';
import { parseExpression } from '../../src/expressions/parse-expression.js';
import { rename } from '../../src/expressions/rename.js';
import { namesIn, numbersIn } from '../../src/expressions/tree.js';
import { NAME_TYPES } from './readings-in-cells.js';

describe('rename', () => {
  it('replaces every name and nothing else', () => {
    const tree = parseExpression('2 * (a - b) / a + 1', NAME_TYPES);
    const renamed = rename(tree, (name) => `measure:${name}`);
    expect([...namesIn(renamed)]).toStrictEqual(['measure:a', 'measure:b']);
    expect(numbersIn(renamed)).toStrictEqual([2, 1]);
    expect(rename(renamed, (name) => name.slice('measure:'.length))).toStrictEqual(tree);
  });
});
