import { expect, it } from 'vitest';
import { plainValue } from '../../src/util/raw-table.js';

it('the plain value of a cell is the cell without its number format', () => {
  expect([plainValue({ value: 0.5, format: 'h:mm' }), plainValue('x'), plainValue(0), plainValue(false), plainValue(null), plainValue(undefined)]).toStrictEqual([0.5, 'x', 0, false, null, null]);
});
