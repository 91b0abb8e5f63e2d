import { describe, expect, test } from 'vitest';
import { isTotalsRow } from '../../src/readings/inspection-checks.js';
import { unitKey } from '../../src/readings/unit-key.js';
import { readRows } from '../support/read-rows.js';

const HEADER = ['inspection_id', 'unit', 'inspected_on', 'released_primary_start', 'released_primary_end', 'released_time', 'retest_of'];
const problemsOf = async (...rows: (string | null)[][]): Promise<unknown[]> => (await readRows([HEADER, ...rows])).reader.problems.map(({ code, row, column }) => [code, row, column]);

describe('repeats', () => {
  test('the same inspection twice', async () => {
    expect(await problemsOf([null, 'T1', '2026-03-14', '110', '108', '1:00', null], [null, 'T1', '2026-03-14', '110', '108', '1:00', null])).toStrictEqual([['inspection_twice', 3, 'unit']]);
  });

  test('the same unit twice on a day with other readings, but not a retest', async () => {
    expect(await problemsOf(['A', 'T1', '2026-03-14', '110', '108', '1:00', null], ['B', 'T1', '2026-03-14', '110', '109', '1:00', null], ['C', 'T1', '2026-03-14', '110', '107', '1:00', 'A'])).toStrictEqual([['unit_twice_on_a_day', 3, 'unit']]);
  });

  test('one inspection_id on two rows, and a retest of none', async () => {
    expect(await problemsOf(['A', 'T1', '2026-03-14', null, null, null, null], ['A', 'T2', '2026-03-14', null, null, null, 'Z'])).toStrictEqual([
      ['inspection_id_twice', 3, 'inspection_id'],
      ['retest_of_unknown', 3, 'retest_of'],
    ]);
  });

  test('another inspection_id makes no other inspection, and without a day nothing is a repeat', async () => {
    expect(await problemsOf(['A', 'T1', '2026-03-14', '110', '108', '1:00', null], ['B', 'T1', '2026-03-14', '110', '108', '1:00', null])).toStrictEqual([['inspection_twice', 3, 'unit']]);
    const undated = await problemsOf([null, 'T1', null, '110', '108', '1:00', null], [null, 'T1', null, '110', '108', '1:00', null]);
    expect(undated).toStrictEqual([
      ['required_blank', 2, 'inspected_on'],
      ['required_blank', 3, 'inspected_on'],
    ]);
  });

  test('what is missing is named with its help', async () => {
    const { reader } = await readRows([HEADER, [null, 'T1', null, null, null, null, null]]);
    expect(reader.problems[0]!.expected).toMatch(/^inspected_on: \S/);
  });

  test('a unit in several spellings is named once each, and one unit when folded', async () => {
    const rows = [HEADER, ...['T-7', 'T07', 't 7', 'T07', 'T-70'].map((unit, index) => [null, unit, `2026-03-1${index}`])];
    const exact = await readRows(rows);
    expect(exact.reader.problems.map(({ code, row, found }) => [code, row, found])).toStrictEqual([
      ['unit_spelled_differently', 3, 'T07'],
      ['unit_spelled_differently', 4, 't 7'],
    ]);
    expect(exact.column('unit')).toStrictEqual(['T-7', 'T07', 't 7', 'T07', 'T-70']);
    const folded = await readRows(rows, { units: 'folded' });
    expect(folded.column('unit')).toStrictEqual(['T-7', 'T-7', 'T-7', 'T-7', 'T-70']);
    expect(folded.inspections.map(({ asFound }) => asFound.get('unit') ?? null)).toStrictEqual([null, 'T07', 't 7', 'T07', null]);
  });

  test.each([
    ['T-7', 't7'],
    ['T07', 't7'],
    ['t 7', 't7'],
    ['T70', 't70'],
    ['0042', '42'],
    ['A-0', 'a0'],
    ['Ｔ７', 't7'],
  ])('%s folds to %s', (unit, key) => {
    expect(unitKey(unit)).toBe(key);
  });
});

describe('slips of the pen', () => {
  test('a start and an end that look swapped', async () => {
    expect(await problemsOf([null, 'T1', '2026-03-14', '108', '110', '1:00', null])).toStrictEqual([['rise_in_test', 2, 'released_primary_end']]);
  });

  test('a needle that did not move is no rise, nor is a start or an end alone, nor one that was named already', async () => {
    expect(await problemsOf([null, 'T1', '2026-03-14', '110', '110', '1:00', null])).toStrictEqual([]);
    expect(await problemsOf([null, 'T1', '2026-03-14', null, '110', '1:00', null], [null, 'T2', '2026-03-14', '110', null, '1:00', null])).toStrictEqual([]);
    // 1080 is a zero too many; that the end stands above the start follows from it.
    expect(await problemsOf([null, 'T1', '2026-03-14', '110', '1080', '1:00', null])).toStrictEqual([['implausible', 2, 'released_primary_end']]);
    expect(await problemsOf([null, 'T1', '2026-03-14', '760', '1080', '1:00', null])).toStrictEqual([
      ['implausible', 2, 'released_primary_start'],
      ['implausible', 2, 'released_primary_end'],
    ]);
    const { reader } = await readRows([HEADER, [null, 'T1', '2026-03-14', '108', '110', '1:00', null]]);
    expect(reader.problems[0]!.found).toBe('108 to 110');
  });

  test('a bare number in the column of the time that is no pressure of the test, or is a minute, is a time', async () => {
    expect(await problemsOf([null, 'T1', '2026-03-14', '110', '108', '109', null])).toStrictEqual([]);
    expect(await problemsOf([null, 'T1', '2026-03-14', '62', '60', '60', null])).toStrictEqual([]);
    expect(await problemsOf([null, 'T1', '2026-03-14', '62', '61', '61', null])).toStrictEqual([['pressure_in_time', 2, 'released_time']]);
    expect(await problemsOf([null, 'T1', '2026-03-14', '110', '108', '108 s', null])).toStrictEqual([]);
    expect(await problemsOf([null, 'T1', '2026-03-14', '110', '108', '~108', null])).toStrictEqual([]);
  });

  test('a pressure in the column of the time, but not 1:48 beside 108 psi', async () => {
    expect(await problemsOf([null, 'T1', '2026-03-14', '110', '108', '108', null])).toStrictEqual([['pressure_in_time', 2, 'released_time']]);
    expect(await problemsOf([null, 'T1', '2026-03-14', '110', '108', '1:48', null])).toStrictEqual([]);
  });

  test('kPa typed into a psi column and a zero too many are named with a proposal, and not changed', async () => {
    const { reader, column } = await readRows([HEADER, [null, 'T1', '2026-03-14', '760', '1080', '1:00', null]]);
    expect(column('released_primary_start')).toStrictEqual([760]);
    expect(reader.problems.map(({ code, found }) => [code, found])).toStrictEqual([
      ['implausible', '760'],
      ['implausible', '1080'],
    ]);
    expect(reader.problems[0]!.expected).toContain('kPa');
    expect(reader.problems[1]!.expected).toContain('108');
  });
});

describe('isTotalsRow', () => {
  test.each([
    ['a word in the column of the unit', ['Total', null, 12], 'Total', null, true],
    ['a word in the column of the date', [null, 'Average', 110], null, 'Average', true],
    ['a word before both', ['Sum', ' ', '', 12], ' ', '', true],
    ['the word after blanks', [null, ' ', ' Grand total: ', 12], null, null, true],
    ['a fleet average', ['fleet average', 100], null, null, true],
    ['a subtotal', ['Sub-total', 3], null, null, true],
    ['a unit with a date', ['Total', '2026-03-14', 110], 'Total', '2026-03-14', false],
    ['a unit in its column', ['Total', 'K-101', 110], 'K-101', null, false],
    ['a unit that only begins like one', ['Total7', null, 110], 'Total7', null, false],
    ['a unit', ['K-101', null, 110], 'K-101', null, false],
    ['a note that ends like one', ['see total', null], null, null, false],
    ['a number', [12, 110], null, null, false],
    ['nothing', [null, ' ', ''], null, ' ', false],
    ['no cell', [], null, null, false],
  ])('%s', (_, cells, unit, date, expected) => {
    expect(isTotalsRow(cells, unit, date)).toBe(expected);
  });
});
