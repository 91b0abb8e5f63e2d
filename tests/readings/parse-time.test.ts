import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { RawCell } from '../../src/util/raw-table.js';
import { parseTime } from '../../src/readings/parse-time.js';

/** A loss test: a quarter of a minute to a quarter of an hour. */
const LOSS = { shortest: 15, longest: 900 };

describe('parseTime, as written', () => {
  test.each([
    ['60', 60],
    ['60.5', 60.5],
    ['60,5', 60.5],
    ['60 s', 60],
    ['60s', 60],
    ['60 S', 60],
    ['60 sec', 60],
    ['60 secs.', 60],
    ['60 seconds', 60],
    ['60"', 60],
    ['60”', 60],
    ["60''", 60],
    ['1 min', 60],
    ['1min', 60],
    ['1 min.', 60],
    ['2 minutes', 120],
    ["4'", 240],
    ['1:00', 60],
    ['01:00', 60],
    [':45', 45],
    ['0:47.5', 47.5],
    ['0:47,5', 47.5],
    ['4:10', 250],
    ['４：１０', 250],
    ['4:10 min', 250],
    ['4m 10s', 250],
    ['4m10s', 250],
    ['4m10', 250],
    ['4\' 10"', 250],
    ['4’10”', 250],
    ['4\u2032\u00a010\u2033', 250],
    ['4 min 10', 250],
    ['4 min 10 s', 250],
    ['4 min, 10 sec', 250],
    ['4 minutes and 10 seconds', 250],
    ['4.2 min', 252],
    ['4,2 min', 252],
    ['0.5 min', 30],
    ['1 min 0.25 s', 60.25],
    ['0:04:10', 250],
    ['0:04:10.5', 250.5],
    ['0 h 4 min', 240],
  ])('%s is %d s', (cell, seconds) => {
    expect(parseTime(cell, LOSS)).toStrictEqual({ ok: true, value: seconds, exact: true });
  });

  test.each([
    ['5 s', 5],
    ['0:05', 5],
    ['20 min', 1200],
    ['20:00', 1200],
    ['62:03', 3723],
  ])('%s is understood though it is out of the plausible span', (cell, seconds) => {
    expect(parseTime(cell, LOSS)).toStrictEqual({ ok: true, value: seconds, exact: true });
  });

  test.each([
    ['1:02:03', 3723],
    ['1 h', 3600],
    ['1 h 2 min', 3720],
    ['1h 2m 3s', 3723],
    ['1.5 hours', 5400],
  ])('%s is understood where hours are plausible', (cell, seconds) => {
    expect(parseTime(cell, { shortest: 60, longest: 7200 })).toStrictEqual({ ok: true, value: seconds, exact: true });
    expect(parseTime(cell, LOSS)?.ok).toBe(false);
  });

  test.each(['~60 s', 'about 1 min', 'approx. 1:00', '≈60'])('%s is not exact', (cell) => {
    expect(parseTime(cell, LOSS)).toStrictEqual({ ok: true, value: 60, exact: false });
  });

  test('rounds to the millisecond, and says so', () => {
    expect(parseTime('1:00.1234', LOSS)).toStrictEqual({ ok: true, value: 60.123, exact: false });
    expect(parseTime('4.12345 min', LOSS)).toStrictEqual({ ok: true, value: 247.407, exact: true });
    expect(parseTime('4.123456 min', LOSS)).toStrictEqual({ ok: true, value: 247.407, exact: false });
  });

  test.each<[RawCell]>([[null], [''], ['\u00a0 ']])('%j is blank', (cell) => {
    expect(parseTime(cell, LOSS)).toBeNull();
  });

  test.each(['-', '—', 'n/a', 'not tested'])('%s is not measured', (cell) => {
    expect(parseTime(cell, LOSS)).toStrictEqual({ ok: true, value: null, exact: false });
  });

  test.each<[RawCell, string]>([
    ['4:75', 'write less than 60 seconds beside minutes, and less than 60 minutes beside hours'],
    ['4 min 75 s', 'write less than 60 seconds beside minutes, and less than 60 minutes beside hours'],
    ['0:75:00', 'write less than 60 seconds beside minutes, and less than 60 minutes beside hours'],
    ['4.5 min 10 s', 'write decimals in the last part only'],
    ['4:5', 'write the seconds with two digits, such as 4:05'],
    ['1 h 10', 'write the unit of every part'],
    ['4:10 AM', 'write 4:10 if minutes and seconds are meant: this is a time of day'],
    ['4:10:00 a.m.', 'write 4:10 if minutes and seconds are meant: this is a time of day'],
    ['4:10:00', 'write 4:10 if minutes and seconds are meant: this has hours'],
    ['1 h', 'write 1:00 if minutes and seconds are meant: this has hours'],
    ['20:00:00', 'write minutes and seconds: this has hours'],
    ['1,234', 'write 1234 or 1.234, whichever is meant'],
    ['1,234 s', 'write 1234 or 1.234, whichever is meant'],
    ['2000 min', 'write a time shorter than a day'],
    ['1', 'write 1 min if minutes are meant'],
    [1, 'write 1 min if minutes are meant'],
    ['4.2', 'write 4.2 min (that is 4:12) or 4:20, whichever is meant'],
    [4.1, 'write 4.1 min (that is 4:06) or 4:10, whichever is meant'],
    ['4.75', 'write 4.75 min if minutes are meant'],
    ['5000', 'write 5000 s if seconds are meant'],
  ])('%j is not understood, with a mend', (cell, hint) => {
    expect(parseTime(cell, LOSS)).toStrictEqual({
      ok: false,
      expected: 'a time such as 60 s, 1:00 or 4 min 10 s, or seconds between 15 and 900',
      hint,
    });
  });

  test.each<[RawCell]>([
    ['?'],
    ['-60'],
    [-60],
    ['1e2'],
    ['60 hz'],
    ['1:2:3'],
    ['4 10'],
    ['s'],
    ['~'],
    [':'],
    ['60²'],
    ['x'.repeat(10_000)],
    ['9'.repeat(400)],
    [true],
    [Number.NaN],
    [Number.POSITIVE_INFINITY],
  ])('%j is not understood', (cell) => {
    expect(parseTime(cell, LOSS)?.ok).toBe(false);
  });
});

describe('parseTime, from a spreadsheet', () => {
  // ECMA-376 Part 1, 18.17.4: a time is stored as a fraction of a day. Hence 4:10 typed into a cell is 250/1440.
  test.each([
    ['h:mm', 250 / 1440, 250],
    ['hh:mm', 1 / 24, 60],
    ['[h]:mm', 250 / 1440, 250],
    ['h:mm;@', 0.1736111111111111, 250],
    ['h:mm', 15 / 1440, 15],
    ['[h]:mm', 900 / 1440, 900],
  ])('%s holding %d is %d s, typed as minutes and seconds', (format, value, seconds) => {
    expect(parseTime({ value, format }, LOSS)).toStrictEqual({ ok: true, value: seconds, exact: true });
  });

  test('a twelve-hour clock is a mark of the spreadsheet, so what was found is worth keeping', () => {
    expect(parseTime({ value: 250 / 1440, format: 'h:mm AM/PM' }, LOSS)).toStrictEqual({ ok: true, value: 250, exact: false });
  });

  test.each([
    ['h:mm:ss', 250 / 86400, 250],
    ['mm:ss', 250 / 86400, 250],
    ['mm:ss.0', 47.5 / 86400, 47.5],
    ['[h]:mm:ss', 250 / 1440, 250],
    ['h:mm:ss', 250 / 1440, 250],
  ])('%s holding %d is %d s, the one plausible reading', (format, value, seconds) => {
    expect(parseTime({ value, format }, LOSS)).toStrictEqual({ ok: true, value: seconds, exact: false });
  });

  test('a time of a day or more follows the same rule', () => {
    const buildUp = { shortest: 60, longest: 3600 };
    expect(parseTime({ value: 2.5, format: '[h]:mm:ss' }, buildUp)).toStrictEqual({ ok: true, value: 3600, exact: false });
    expect(parseTime({ value: 1500 / 1440, format: '[h]:mm' }, buildUp)).toStrictEqual({ ok: true, value: 1500, exact: true });
  });

  test('names both readings where both are plausible', () => {
    expect(parseTime({ value: 900 / 86400, format: 'h:mm:ss' }, { shortest: 10, longest: 900 })).toMatchObject({
      ok: false,
      hint: 'write 0:15 or 15:00 (minutes and seconds) as text, whichever is meant',
    });
  });

  test('names both readings where neither is plausible, or the format speaks against the span', () => {
    const hint = 'write 20:00 or 1200:00 (minutes and seconds) as text, whichever is meant';
    expect(parseTime({ value: 1200 / 1440, format: 'h:mm:ss' }, LOSS)).toMatchObject({ ok: false, hint });
    expect(parseTime({ value: 1200 / 1440, format: 'h:mm' }, LOSS)).toMatchObject({ ok: false, hint });
    expect(parseTime({ value: 1 / 1440, format: 'h:mm' }, LOSS)).toMatchObject({
      ok: false,
      hint: 'write 0:01 or 1:00 (minutes and seconds) as text, whichever is meant',
    });
  });

  test('a date is no time', () => {
    for (const format of ['d-mmm', 'd/m/yyyy h:mm', 'General', '']) {
      expect(parseTime({ value: 46115, format }, LOSS)).toMatchObject({
        ok: false,
        hint: 'type the time again in a cell formatted as text: the spreadsheet turned it into a date',
      });
    }
  });

  test.each([-1, Number.NaN, Number.POSITIVE_INFINITY, 1e9])('%d with a time format is not understood', (value) => {
    expect(parseTime({ value, format: 'h:mm' }, LOSS)?.ok).toBe(false);
  });

  test.each<[RawCell, number]>([
    [250 / 1440, 250],
    ['0.173611111111111', 250],
    [250.5 / 86400, 250.5],
    [60 / 1440, 60],
    [0.17361, 250],
    [0.125, 180],
  ])('%j without a format is %d s, the one plausible reading', (cell, seconds) => {
    expect(parseTime(cell, LOSS)).toStrictEqual({ ok: true, value: seconds, exact: false });
  });

  test('a fraction that may be several things is named with all of them', () => {
    // Half a minute, or half a day shown as 12:00.
    expect(parseTime(0.5, LOSS)).toMatchObject({ ok: false, hint: 'write 0.5 min or 12:00, whichever is meant' });
    expect(parseTime('0.75', LOSS)).toMatchObject({ ok: false, hint: 'write 0.75 min, if that is meant' });
    expect(parseTime(0.9123456, LOSS)).toMatchObject({ ok: false, hint: 'write 21:53.778 or 1313:46.66, whichever is meant' });
    expect(parseTime(0.5, { shortest: 0, longest: 900 })).toMatchObject({
      ok: false,
      hint: 'write 0.5 s or 0.5 min or 12:00, whichever is meant',
    });
  });

  test('minutes and seconds are typed as whole seconds, so a time of day with seconds is not taken for them', () => {
    // 10:05:06, a time of day; read as minutes and seconds it would be 605.1 s.
    const value = 36_306 / 86_400;
    for (const cell of [value, { value, format: 'h:mm' }, { value, format: 'h:mm:ss' }]) {
      expect(parseTime(cell, LOSS)).toMatchObject({ ok: false, hint: expect.stringMatching(/^write 10:05\.1 or 605:06/) });
    }
  });

  test.each<[RawCell]>([[-0], [{ value: -0, format: 'h:mm' }], [{ value: -0, format: 'h:mm:ss' }], ['0:00']])('%j is zero', (cell) => {
    expect(parseTime(cell, { shortest: 0, longest: 900 })).toMatchObject({ ok: true, value: 0 });
  });

  test('any whole number of seconds typed as h:mm comes back', () => {
    fc.assert(
      fc.property(fc.integer({ min: 15, max: 900 }), (seconds) => {
        const result = parseTime({ value: seconds / 1440, format: 'h:mm' }, LOSS);
        expect(result).toStrictEqual({ ok: true, value: seconds, exact: true });
      }),
    );
  });
});
