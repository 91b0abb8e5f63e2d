import { describe, expect, test } from 'vitest';
import type { RawCell } from '../../src/util/raw-table.js';
import { parseYesNo } from '../../src/readings/parse-yes-no.js';

describe('parseYesNo', () => {
  test.each(['not ok', 'ok?', 'okra', 'smoke'])('%s says neither', (text) => {
    expect(parseYesNo(text)).toStrictEqual({ ok: false, expected: 'yes or no' });
  });

  test.each<[RawCell, boolean]>([
    ['y', true],
    ['Yes', true],
    ['TRUE', true],
    ['1', true],
    ['ｙｅｓ', true],
    [true, true],
    [1, true],
    ['n', false],
    ['NO ', false],
    ['false', false],
    ['0', false],
    ['none', false],
    [false, false],
    [0, false],
  ])('%j is %j', (cell, value) => {
    expect(parseYesNo(cell)).toStrictEqual({ ok: true, value, exact: true });
  });

  test.each(['x', 'X', '✓', '✔', '✔\ufe0f'])('%s is a yes worth keeping as found', (cell) => {
    expect(parseYesNo(cell)).toStrictEqual({ ok: true, value: true, exact: false });
  });

  test.each<[RawCell]>([[null], [''], [' \u00a0']])('%j is blank', (cell) => {
    expect(parseYesNo(cell)).toBeNull();
  });

  test.each(['-', 'n/a', 'NA', 'not tested'])('%s is not measured', (cell) => {
    expect(parseYesNo(cell)).toStrictEqual({ ok: true, value: null, exact: false });
  });

  test.each<[RawCell]>([['?'], ['maybe'], ['✗'], ['constructor'], ['__proto__'], [2], [Number.NaN], [{ value: 1, format: 'h:mm' }]])(
    '%j is not understood',
    (cell) => {
      expect(parseYesNo(cell)).toStrictEqual({ ok: false, expected: 'yes or no' });
    },
  );

  test('OK may mean either', () => {
    expect(parseYesNo('OK')).toStrictEqual({
      ok: false,
      expected: 'yes or no',
      hint: 'write no if nothing was found, yes if something was',
    });
  });
});
