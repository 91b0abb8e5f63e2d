import { expect, it } from 'vitest';
import { parseCellPosition } from '../../../src/formats/xlsx-reader/cell-position.js';

// ECMA-376 Part 1, 18.18.62 and the limits of a sheet: XFD is column 16,384.
it.each([
  ['A1', { column: 1, row: 1 }],
  ['Z9', { column: 26, row: 9 }],
  ['aa10', { column: 27, row: 10 }],
  ['XFD1048576', { column: 16_384, row: 1_048_576 }],
  ['A', null],
  ['1', null],
  ['', null],
  ['A0', null],
  ['A-1', null],
  ['$A$1', null],
  ['A1:B2', null],
])('%s', (reference, position) => {
  expect(parseCellPosition(reference)).toStrictEqual(position);
});

it('stays finite for endless references', () => {
  const position = parseCellPosition('Z'.repeat(400) + '9'.repeat(400));
  expect(Number.isSafeInteger(position?.column) && Number.isSafeInteger(position?.row)).toBe(true);
});
