import { describe, expect, it } from 'vitest';
import { parseStroke } from '../../src/strokes/parse-stroke.js';
import type { RawCell } from '../../src/util/raw-table.js';

function read(cell: RawCell): unknown {
  const result = parseStroke(cell);
  return result === null ? 'blank' : result.ok ? (result.value === null ? 'not measured' : [result.value.value, result.value.writtenUnit]) : 'not understood';
}

describe('parseStroke', () => {
  it.each<[RawCell, unknown]>([
    // A tape's fractions are of an inch: 3/4 = 0.75, 1/8 = 0.125, 1/64 = 0.015625.
    ['1 3/4', [1.75, null]],
    ['1-3/4', [1.75, null]],
    ['1 - 3/4 in', [1.75, 'in']],
    ['1 and 3/4', [1.75, null]],
    ['1 3/4"', [1.75, 'in']],
    ['1 3/4 ″', [1.75, 'in']],
    ["1 3/4''", [1.75, 'in']],
    ['2 1/8 "', [2.125, 'in']],
    ['1¾', [1.75, null]],
    ['1 ¾ in.', [1.75, 'in']],
    ['¾', [0.75, null]],
    ['1 1⁄2', [1.5, null]],
    ['3/4 inch', [0.75, 'in']],
    ['1 63/64', [1.984375, null]],
    ['1.75', [1.75, null]],
    ['1.75 in', [1.75, 'in']],
    ['1,75 inches', [1.75, 'in']],
    ['1,125', [1.125, null]],
    ['.75', [0.75, null]],
    ['44 mm', [44, 'mm']],
    ['44,5mm', [44.5, 'mm']],
    ['44.5 millimetres', [44.5, 'mm']],
    ['4.45 cm', [44.5, 'mm']],
    ['~1 3/4', [1.75, null]],
    ['１.７５', [1.75, null]],
    ['2', [2, null]],
    [2, [2, null]],
    [1.75, [1.75, null]],
    [0, [0, null]],
    [-0, [0, null]],
    [{ value: 1.75, format: '0.00' }, [1.75, null]],
    ['1 1/2  in', [1.5, 'in']],
    ['', 'blank'],
    ['  ', 'blank'],
    [null, 'blank'],
    ['n/a', 'not measured'],
    ['-', 'not measured'],
  ])('reads %j', (cell, expected) => {
    expect(read(cell)).toStrictEqual(expected);
  });

  it.each<RawCell>(['worn', '1 4/3', '1 4/4', '5/4', '1 3/4 cm', 'in', '1 3/5', '3/4/5', '1 3/4 mm', '44 cm mm', "2'", '1.7.5', '1 3/4 - 2', '-1', -1, NaN, true, '> 2', '2+', '1 3', '1e3', '0x10', '1 3/4 x', '__proto__', 'constructor', `${'1'.repeat(60)}`])('does not understand %j', (cell) => {
    expect(read(cell)).toBe('not understood');
  });

  it.each([
    ['-1', 'measure again: a stroke is not below zero'],
    ['-1 3/4', 'measure again: a stroke is not below zero'],
    [-1, 'measure again: a stroke is not below zero'],
    ['1 3/4 - 2', 'write the one stroke that was measured'],
    ['1.75-2', 'write the one stroke that was measured'],
    ['1.75 to 2', 'write the one stroke that was measured'],
    ['1.75–2 in', 'write the one stroke that was measured'],
    ['> 2', 'write the stroke that was measured: a bound is not a reading'],
    ['≤2', 'write the stroke that was measured: a bound is not a reading'],
    ['2+', 'write the stroke that was measured: a bound is not a reading'],
    ['2 +', 'write the stroke that was measured: a bound is not a reading'],
    ['1 4/4', 'write a fraction of an inch below one, such as 3/4'],
    ['1 3/4 mm', 'write millimetres as a decimal, such as 44.5 mm'],
    ['1 3/4 cm', 'write millimetres as a decimal, such as 44.5 mm'],
    ['worn', undefined],
    ['1 > 2', undefined],
    ['2+x', undefined],
    ['a-1', undefined],
    [true, undefined],
  ])('says of %j: %s', (cell, hint) => {
    expect((parseStroke(cell) as { hint?: string }).hint).toBe(hint);
  });

  it('says what a spreadsheet made of 1-3/4', () => {
    // 3 January 2004 typed as 1-3/4: ECMA-376 serial 37989.
    expect(parseStroke({ value: 37989, format: 'd-mmm' })).toMatchObject({ ok: false, hint: expect.stringContaining('turned it into a date') as string });
  });

  it('tells a plain number from a text that says more', () => {
    expect(['1.75', '1 3/4', '1.75 in', '~1.75'].map((text) => (parseStroke(text) as { exact: boolean }).exact)).toStrictEqual([true, false, false, false]);
    expect(parseStroke(1.75)).toMatchObject({ exact: true });
  });
});
