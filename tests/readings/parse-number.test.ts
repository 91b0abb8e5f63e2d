import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { RawCell } from '../../src/util/raw-table.js';
import { parseNumber } from '../../src/readings/parse-number.js';

describe('parseNumber', () => {
  test.each<[RawCell, number]>([
    ['104', 104],
    [' 104 ', 104],
    ['104.', 104],
    ['007', 7],
    ['7.2', 7.2],
    ['7,2', 7.2],
    ['.5', 0.5],
    ['+5', 5],
    ['0,125', 0.125],
    ['1234,567', 1234.567],
    ['104.125', 104.125],
    ['12 345', 12345],
    ['12\u202f345,5', 12345.5],
    ["12'345", 12345],
    ['12’345', 12345],
    ['1,234,567', 1234567],
    ['1.234.567', 1234567],
    ['1,234.5', 1234.5],
    ['1.234,5', 1234.5],
    ['１２３', 123],
    [104, 104],
    [0, 0],
    [-0, 0],
    [7.25, 7.25],
  ])('%j is %d', (cell, value) => {
    expect(parseNumber(cell)).toStrictEqual({ ok: true, value, exact: true });
  });

  test.each<[RawCell]>([[null], [''], ['  '], ['\u00a0\u2009']])('%j is blank', (cell) => {
    expect(parseNumber(cell)).toBeNull();
  });

  test.each(['-', 'n/a', 'not tested'])('%s is not measured', (cell) => {
    expect(parseNumber(cell)).toStrictEqual({ ok: true, value: null, exact: false });
  });

  test.each<[RawCell]>([
    ['1e5'],
    ['0x1F'],
    ['12,34,567'],
    ['1 2 3'],
    ['12 34'],
    ['?'],
    ['none'],
    ['Infinity'],
    ['NaN'],
    ['10²'],
    ['1½'],
    ['-5'],
    [-5],
    ['1,234'],
    ['9'.repeat(400)],
    [true],
    [Number.NaN],
    [Number.POSITIVE_INFINITY],
    [{ value: 45000, format: 'yyyy-mm-dd' }],
    ['12 mi'],
    ['600-900'],
    [',5'],
  ])('%j is not understood', (cell) => {
    expect(parseNumber(cell)).toMatchObject({ ok: false, expected: 'a number, not below zero, without an exponent' });
  });

  test('names both readings of a comma before three digits', () => {
    expect(parseNumber('1,234')).toMatchObject({ ok: false, hint: 'write 1234 or 1.234, whichever is meant' });
  });

  test('takes that comma for grouping where a whole number is wanted, or thousandths make no sense', () => {
    expect(parseNumber('123,456', { whole: true })).toStrictEqual({ ok: true, value: 123456, exact: true });
    expect(parseNumber('123,456', { commaGroups: true })).toStrictEqual({ ok: true, value: 123456, exact: true });
  });

  test('takes whole numbers only where they are wanted', () => {
    expect(parseNumber('2.0', { whole: true })).toStrictEqual({ ok: true, value: 2, exact: true });
    expect(parseNumber('2.5', { whole: true })?.ok).toBe(false);
    expect(parseNumber(2.5, { whole: true })?.ok).toBe(false);
  });

  test.each<[RawCell, number]>([
    ['-5', -5],
    ['−5', -5],
    ['–5', -5],
    [-5, -5],
    ['-0', 0],
  ])('%j is %d where negative numbers are wanted', (cell, value) => {
    expect(parseNumber(cell, { negative: true })).toStrictEqual({ ok: true, value, exact: true });
  });

  test('is exact up to the fifteen digits that a double always holds, zeros before them aside', () => {
    // IEEE 754: any decimal of 15 digits comes back from a double as it went in.
    expect(parseNumber('123456789012345')).toStrictEqual({ ok: true, value: 123456789012345, exact: true });
    expect(parseNumber('0.00123456789012345')).toStrictEqual({ ok: true, value: 0.00123456789012345, exact: true });
    expect(parseNumber('1.234567890123456')).toStrictEqual({ ok: true, value: 1.234567890123456, exact: false });
  });

  test('is not exact for an approximate mark, a unit word, or more digits than a double holds', () => {
    expect(parseNumber('~1500')).toStrictEqual({ ok: true, value: 1500, exact: false });
    expect(parseNumber('1500 RPM', { unitWords: ['rpm'] })).toStrictEqual({ ok: true, value: 1500, exact: false });
    expect(parseNumber('1500', { unitWords: ['rpm'] })).toStrictEqual({ ok: true, value: 1500, exact: true });
    expect(parseNumber('1500 miles', { unitWords: ['km', 'mi', 'miles'] })).toStrictEqual({ ok: true, value: 1500, exact: false });
    expect(parseNumber('0.1234567890123456789')).toStrictEqual({ ok: true, value: 0.12345678901234568, exact: false });
  });

  test('reads back any number that is written without an exponent', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1e12 }), fc.integer({ min: 0, max: 99 }), (whole, hundredths) => {
        const text = `${whole}.${String(hundredths).padStart(2, '0')}`;
        const expected = { ok: true, value: Number(text), exact: true };
        expect(parseNumber(text)).toStrictEqual(expected);
        expect(parseNumber(text.replace('.', ','))).toStrictEqual(expected);
      }),
    );
  });
});
