import { expect, it } from 'vitest';
import { columnLetters } from '../../src/util/column-letters.js';

// The last column of a sheet is XFD, the 16,384th (ECMA-376 Part 1, 18.3.1.4 and the limits of Excel).
it.each([[0, 'A'], [25, 'Z'], [26, 'AA'], [51, 'AZ'], [52, 'BA'], [701, 'ZZ'], [702, 'AAA'], [16_383, 'XFD']])('column %i is %s', (index, letters) => {
  expect(columnLetters(index)).toBe(letters);
});

it('gives every column of a sheet letters of its own, in order', () => {
  const all = Array.from({ length: 16_384 }, (_, index) => columnLetters(index));
  expect(new Set(all).size).toBe(16_384);
  expect([...all].sort((a, b) => a.length - b.length || (a < b ? -1 : 1))).toStrictEqual(all);
});
