import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { RawCell } from '../../src/util/raw-table.js';
import { dateFromParts } from '../../src/readings/date-from-parts.js';
import { parseDate, provenDateOrder } from '../../src/readings/parse-date.js';

const OPEN = { order: null, date1904: false } as const;
const DMY = { order: 'dmy', date1904: false } as const;
const MDY = { order: 'mdy', date1904: false } as const;

describe('parseDate', () => {
  test.each<[RawCell]>([
    ['2026-03-04'],
    ['2026-3-4'],
    ['２０２６-０３-０４'],
    ['2026‑03‑04'],
    ['20260304'],
    [20260304],
    ['2026/03/04'],
    ['2026.03.04'],
    ['4-Mar-2026'],
    ['04-MAR-2026'],
    ['4 March 2026'],
    ['4th March 2026'],
    ['4 Mar. 2026'],
    ['04Mar2026'],
    ['Mar 4, 2026'],
    ['March 4 2026'],
    ['Mar. 4th, 2026'],
    ['2026-Mar-04'],
    ['2026-March-4'],
    ['4 mar 2026'],
    [{ value: 46085, format: 'd/m/yyyy' }],
    [{ value: 46085, format: 'mm-dd-yy' }],
  ])('%j is 4 March 2026', (cell) => {
    expect(parseDate(cell, OPEN)).toStrictEqual({ ok: true, value: '2026-03-04', exact: true });
  });

  test.each<[RawCell]>([
    ['2026-03-04T10:15'],
    ['2026-03-04T10:15:00Z'],
    ['2026-03-04T23:59:59.5+02:00'],
    ['2026-03-04 10:15'],
    ['4 Mar 2026 3:15 PM'],
    ['4-Mar-26'],
    ['Mar 4, 26'],
    [{ value: 46085.5, format: 'd/m/yyyy h:mm' }],
  ])('%j is 4 March 2026, and said more or less than that', (cell) => {
    expect(parseDate(cell, OPEN)).toStrictEqual({ ok: true, value: '2026-03-04', exact: false });
  });

  test.each(['4/3/2026', '04.03.2026', '4-3-2026', '04/03/2026'])('%s follows the order given', (cell) => {
    expect(parseDate(cell, DMY)).toStrictEqual({ ok: true, value: '2026-03-04', exact: true });
    expect(parseDate(cell, MDY)).toStrictEqual({ ok: true, value: '2026-04-03', exact: true });
    expect(parseDate(cell, OPEN)?.ok).toBe(false);
  });

  test('names both readings and the mend where the order is not known', () => {
    expect(parseDate('4/3/2026', OPEN)).toStrictEqual({
      ok: false,
      expected: 'a date such as 2026-03-04 or 4 Mar 2026: 4/3 may be 2026-03-04 (day first) or 2026-04-03 (month first)',
      hint: 'give --date-order dmy or --date-order mdy',
    });
  });

  test.each([
    ['25/3/2026', '2026-03-25'],
    ['3/25/2026', '2026-03-25'],
    ['25.03.2026', '2026-03-25'],
    ['3/3/2026', '2026-03-03'],
  ])('%s can be read in one way only', (cell, iso) => {
    expect(parseDate(cell, OPEN)).toStrictEqual({ ok: true, value: iso, exact: true });
  });

  test.each(['4 Sep 2026', '4 Sept 2026', '4 September 2026', 'Sept. 4, 2026'])('%s is in September', (cell) => {
    expect(parseDate(cell, OPEN)).toStrictEqual({ ok: true, value: '2026-09-04', exact: true });
  });

  test.each(['4 Sepember 2026', '4 Marc 2026', '4 Ma 2026', '4 Julyy 2026', '4 Octo 2026', '4 Maysept 2026'])('%s has no month', (cell) => {
    expect(parseDate(cell, OPEN)?.ok).toBe(false);
  });

  test('names the order that was given', () => {
    expect(parseDate('25/3/2026', MDY)).toMatchObject({ expected: 'a date such as 2026-03-04 or 4 Mar 2026, or month/day/year' });
    expect(parseDate('3/25/2026', DMY)).toMatchObject({ expected: 'a date such as 2026-03-04 or 4 Mar 2026, or day/month/year' });
    expect(parseDate('31/2/2026', DMY)).toMatchObject({ hint: 'look the date up again: there is no such day from 1900-03-01 on' });
    expect(parseDate('2/31/2026', MDY)).toMatchObject({ hint: 'look the date up again: there is no such day from 1900-03-01 on' });
  });

  test('a short year that may stand first is no doubt where both ways give one day', () => {
    expect(parseDate('26-03-26', OPEN)).toStrictEqual({ ok: true, value: '2026-03-26', exact: false });
  });

  test('a serial before March 1900 is another day from program to program, so it is not taken', () => {
    for (const cell of [{ value: 1, format: 'd/m/yyyy' }, { value: 59, format: 'd/m/yyyy' }, '1900-02-28', '1 Jan 1900', '28/2/1900']) expect(parseDate(cell, DMY)).toMatchObject({ ok: false, hint: 'look the date up again: there is no such day from 1900-03-01 on' });
    expect(parseDate({ value: 61, format: 'd/m/yyyy' }, OPEN)).toStrictEqual({ ok: true, value: '1900-03-01', exact: true });
  });

  test.each(['114/3', '4/3 x', 'Mar 456', 'x/Mar 4', '4 4Mar 12'])('%s lacks more than the year', (cell) => {
    expect(parseDate(cell, DMY)).toStrictEqual({ ok: false, expected: 'a date such as 2026-03-04 or 4 Mar 2026' });
  });

  test('a cell that proves the other order is not bent to the one given', () => {
    expect(parseDate('25/3/2026', MDY)).toMatchObject({ ok: false, hint: 'write 2026-03-25 if that is meant' });
    expect(parseDate('3/25/2026', DMY)).toMatchObject({ ok: false, hint: 'write 2026-03-25 if that is meant' });
  });

  test.each([
    ['04.03.26', '2026-03-04'],
    ['04/03/69', '2069-03-04'],
    ['04/03/70', '1970-03-04'],
    ['04/03/99', '1999-03-04'],
    ['25-03-26', '2026-03-25'],
  ])('%s has a short year', (cell, iso) => {
    expect(parseDate(cell, DMY)).toStrictEqual({ ok: true, value: iso, exact: false });
  });

  test('a short year may stand first, too', () => {
    expect(parseDate('25-03-26', OPEN)).toMatchObject({
      ok: false,
      expected: 'a date such as 2026-03-04 or 4 Mar 2026: it may be 2026-03-25 or 2025-03-26',
    });
    expect(parseDate('25/03/26', OPEN)).toStrictEqual({ ok: true, value: '2026-03-25', exact: false });
  });

  test.each<[RawCell]>([[null], [''], ['\u00a0']])('%j is blank', (cell) => {
    expect(parseDate(cell, OPEN)).toBeNull();
  });

  test.each(['-', 'n/a', '–'])('%s is not measured', (cell) => {
    expect(parseDate(cell, OPEN)).toStrictEqual({ ok: true, value: null, exact: false });
  });

  test.each<[RawCell]>([
    ['2025-02-30'],
    ['2025-02-29'],
    ['2025-13-01'],
    ['30 Feb 2025'],
    ['Feb 30, 2025'],
    ['30/02/2025'],
    ['32/01/2025'],
    ['13/13/2025'],
    ['20260230'],
    ['1066-10-14'],
    [{ value: 60, format: 'd/m/yyyy' }],
    [{ value: 0, format: 'd/m/yyyy' }],
    [{ value: -1, format: 'd/m/yyyy' }],
    [{ value: Number.NaN, format: 'd/m/yyyy' }],
  ])('%j is no day', (cell) => {
    const result = parseDate(cell, OPEN);
    expect(result).toStrictEqual({
      ok: false,
      expected: 'a date such as 2026-03-04 or 4 Mar 2026',
      hint: 'look the date up again: there is no such day from 1900-03-01 on',
    });
  });

  test('a bare number is not taken for a spreadsheet date, only proposed', () => {
    for (const cell of [46085, '46085', 46085.5, '46085.5']) {
      expect(parseDate(cell, OPEN)).toMatchObject({
        ok: false,
        hint: 'write 2026-03-04 if that is meant: the number looks like a spreadsheet date',
      });
    }
    expect(parseDate(44623, { order: null, date1904: true })).toMatchObject({
      ok: false,
      hint: 'write 2026-03-04 if that is meant: the number looks like a spreadsheet date',
    });
    expect(parseDate('46085.125', OPEN)).toMatchObject({ hint: expect.stringContaining('write 2026-03-04 if') as string });
    expect(parseDate(90000, OPEN)).toStrictEqual({ ok: false, expected: 'a date such as 2026-03-04 or 4 Mar 2026' });
    expect(parseDate(19999, OPEN)).toStrictEqual({ ok: false, expected: 'a date such as 2026-03-04 or 4 Mar 2026' });
  });

  test('counts from 1904 where the workbook does', () => {
    expect(parseDate({ value: 44623, format: 'd/m/yyyy' }, { order: null, date1904: true })).toStrictEqual({
      ok: true,
      value: '2026-03-04',
      exact: true,
    });
  });

  test('a time of day is no date', () => {
    expect(parseDate({ value: 46085.5, format: 'h:mm' }, OPEN)?.ok).toBe(false);
  });

  test.each(['4 Mar', 'Mar 4', '4/3', '4-Mar', '14 Mar', 'March 14', '14/12'])('%s lacks the year', (cell) => {
    expect(parseDate(cell, DMY)).toMatchObject({ ok: false, hint: 'add the year' });
  });

  test.each<[RawCell]>([['?'], ['60160121'], ['today'], ['4 Foo 2026'], ['4 constructor 2026'], ['2026-W10-3'], ['4/3-2026'], ['4//3/2026'], [true], [4], [-46085], [Number.NaN], ['x'.repeat(10_000)]])(
    '%j is not understood',
    (cell) => {
      expect(parseDate(cell, DMY)?.ok).toBe(false);
    },
  );

  test('every day of the calendar comes back from each way of writing it', () => {
    const names = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
    fc.assert(
      fc.property(fc.integer({ min: 1900, max: 9999 }), fc.integer({ min: 1, max: 12 }), fc.integer({ min: 1, max: 31 }), (year, month, day) => {
        const iso = dateFromParts(year, month, day);
        fc.pre(iso !== null && iso >= '1900-03-01');
        const expected = { ok: true, value: iso, exact: true };
        expect(parseDate(iso, OPEN)).toStrictEqual(expected);
        expect(parseDate(`${day}/${month}/${year}`, DMY)).toStrictEqual(expected);
        expect(parseDate(`${month}/${day}/${year}`, MDY)).toStrictEqual(expected);
        expect(parseDate(`${day}-${names[month - 1]}-${year}`, OPEN)).toStrictEqual(expected);
        expect(parseDate(`${names[month - 1]} ${day}, ${year}`, OPEN)).toStrictEqual(expected);
      }),
    );
  });
});

describe('provenDateOrder', () => {
  test.each<[RawCell[], string | null]>([
    [['4/3/2026', '25/3/2026'], 'dmy'],
    [['4/3/2026', '3/25/2026'], 'mdy'],
    [['25/3/2026', '3/25/2026'], 'conflict'],
    [['4/3/2026', '5/6/2026'], null],
    [[], null],
    [[null, '', 25, true, '2026-03-25', '25 Mar 2026', { value: 46085, format: 'd/m/yyyy' }], null],
    [['4/3/26', '25.3.26'], 'dmy'],
    [['25/3/2026 10:15'], 'dmy'],
    // 25-03-26 may have its year first; 03-25-26 can only have its month first.
    [['25-03-26'], null],
    [['03-25-26'], 'mdy'],
    // No such day proves nothing.
    [['31/2/2026'], null],
    [['45/3/2026'], null],
    // Twelve may be a month.
    [['12/5/2026', '5/12/2026', '12/12/2026'], null],
    [['13/12/2026'], 'dmy'],
    [['12/13/2026'], 'mdy'],
    [['25/3/2026', '26/3/2026', '3/25/2026'], 'conflict'],
    [['25/3/2026', '26/3/2026'], 'dmy'],
  ])('%j', (cells, order) => {
    expect(provenDateOrder(cells)).toBe(order);
  });
});
