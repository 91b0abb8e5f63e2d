import { describe, expect, it } from 'vitest';
import { fieldDictionary } from '../../src/readings/dictionary.js';
import { fieldSchema, type Field } from '../../src/readings/field.js';
import { HIGHEST_PLAUSIBLE_PRESSURE, readEntry, timeSpan, type EntryContext, type ReadEntry } from '../../src/readings/read-entry.js';
import type { RawCell } from '../../src/util/raw-table.js';

const PSI: EntryContext = { unit: 'psi', columnUnit: null, dateOrder: null, date1904: false };
const dictionary = fieldDictionary();
const read = (name: string, cell: RawCell, context: Partial<EntryContext> = {}): ReadEntry => readEntry(dictionary.fields[dictionary.position.get(name)!]!, cell, { ...PSI, ...context });
const entry = (value: ReadEntry['entry'], halfWidth: number | null = null): ReadEntry => ({ entry: value, halfWidth, trouble: null });
const code = ({ trouble }: ReadEntry): string | undefined => trouble?.code;
const BLANK = entry(null);
const field = (more: Partial<Field>): Field => fieldSchema.parse({ name: 'added', title: 'Added', help: 'Added by hand.', kind: 'quantity', ...more });

describe('a cell of any kind', () => {
  it.each(['unit', 'vehicle_kind', 'inspected_on', 'audible_leak', 'released_time', 'vehicles', 'odometer', 'cut_in', 'light_on_at'])('%s: a blank is a blank', (name) => {
    for (const cell of [null, '', ' \u00a0 ']) expect(read(name, cell)).toStrictEqual(BLANK);
  });

  it.each(['inspected_on', 'audible_leak', 'released_time', 'vehicles', 'odometer', 'cut_in', 'light_on_at'])('%s: a mark says that it was not measured', (name) => {
    expect(read(name, 'n/a')).toStrictEqual(BLANK);
  });
});

describe('a text', () => {
  it('is kept as it stands, and a number as it is written plainly', () => {
    expect(read('unit', ' K-101 ')).toStrictEqual(entry(' K-101 '));
    expect(read('unit', 101)).toStrictEqual(entry('101'));
    expect(read('unit', true)).toStrictEqual(entry('true'));
  });

  it('that a spreadsheet took for a date is what the sheet shows, and a number where it shows none', () => {
    // ECMA-376: 38749 is 1 February 2006 counted from 1900, 37287 from 1904.
    expect(read('unit', { value: 38749, format: 'd-mmm' })).toStrictEqual(entry('2006-02-01'));
    expect(read('unit', { value: 37287, format: 'd-mmm' }, { date1904: true })).toStrictEqual(entry('2006-02-01'));
    expect(read('unit', { value: 12.5, format: '0.00' })).toStrictEqual(entry('12.5'));
  });
});

describe('a choice', () => {
  it('is one of the words, in any case', () => {
    expect(read('vehicle_kind', ' BUS ')).toStrictEqual(entry('bus'));
    expect(read('pressure_unit', 'KPA')).toStrictEqual(entry('kPa'));
    expect(read('vehicle_kind', 'lorry').trouble).toStrictEqual({ code: 'not_understood', expected: 'one of truck, tractor, bus, trailer' });
    expect(code(read('vehicle_kind', 7))).toBe('not_understood');
  });
});

describe('a yes or no', () => {
  it('is a truth, and a word for neither says what to write', () => {
    expect(read('audible_leak', 'Y')).toStrictEqual(entry(true));
    expect(read('audible_leak', 'no')).toStrictEqual(entry(false));
    expect(read('audible_leak', 'ok').trouble).toStrictEqual({ code: 'not_understood', expected: 'yes or no; write no if nothing was found, yes if something was' });
  });
});

describe('a date', () => {
  it('in an unknown order is named apart from one that is none', () => {
    expect(read('inspected_on', '4/3/2026', { dateOrder: 'dmy' })).toStrictEqual(entry('2026-03-04'));
    expect(code(read('inspected_on', '4/3/2026'))).toBe('date_order_unknown');
    expect(code(read('inspected_on', '25-03-26'))).toBe('date_order_unknown');
    expect(code(read('inspected_on', 'soon'))).toBe('not_understood');
    expect(code(read('inspected_on', '2026-02-30'))).toBe('not_understood');
    expect(read('inspected_on', '2026-02-30').trouble!.expected).toContain('; look the date up again');
  });
});

describe('a number', () => {
  it('may have the unit words of its column, and commas where they group', () => {
    expect(read('odometer', '123,456 km')).toStrictEqual(entry(123456));
    expect(read('engine_rpm', '~900 rpm')).toStrictEqual(entry(900));
    expect(code(read('engine_rpm', '900 km'))).toBe('not_understood');
    expect(code(read('reservoir_volume', '1,234'))).toBe('not_understood');
    expect(read('reservoir_volume', '12.5')).toStrictEqual(entry(12.5));
  });

  it('that counts is whole', () => {
    expect(read('vehicles', '2')).toStrictEqual(entry(2));
    expect(code(read('vehicles', '2.5'))).toBe('not_understood');
  });

  it('is kept and named beyond either end of its plausible span, and not at the ends', () => {
    expect(read('vehicles', 1)).toStrictEqual(entry(1));
    expect(read('vehicles', 5)).toStrictEqual(entry(5));
    expect(read('vehicles', 6)).toStrictEqual({ entry: 6, halfWidth: null, trouble: { code: 'implausible', expected: '1 to 5; check it against the paper and type it again' } });
    expect(code(read('vehicles', 0))).toBe('implausible');
    // A count is no pressure: 60 vehicles are no slip of a zero of a pressure.
    expect(read('vehicles', 600).trouble!.expected).not.toMatch(/zero|kPa/);
  });

  it('without a span of its own is any number from 0 on', () => {
    expect(readEntry(field({}), 1e12, PSI)).toStrictEqual(entry(1e12));
    expect(readEntry(field({}), 0, PSI)).toStrictEqual(entry(0));
    expect(code(readEntry(field({}), -1, PSI))).toBe('not_understood');
  });
});

describe('a time', () => {
  it('without a unit is in seconds, and below a header of minutes in minutes', () => {
    expect(read('released_time', 60)).toStrictEqual(entry(60));
    expect(read('released_time', 2, { columnTimeUnit: 'min' })).toStrictEqual(entry(120));
    expect(read('released_time', '2,5', { columnTimeUnit: 'min' })).toStrictEqual(entry(150));
    expect(read('released_time', '12.25', { columnTimeUnit: 'min' })).toStrictEqual(entry(735));
    expect(read('released_time', ' 2 ', { columnTimeUnit: 'min' })).toStrictEqual(entry(120));
    expect(read('released_time', '90 s', { columnTimeUnit: 'min' })).toStrictEqual(entry(90));
    expect(read('released_time', '1:30', { columnTimeUnit: 'min' })).toStrictEqual(entry(90));
    expect(read('released_time', '~2 min', { columnTimeUnit: 'min' })).toStrictEqual(entry(120));
    for (const about of ['~2', '≈ 2', 'about 2', '2 approx.', '2.0']) expect(read('released_time', about, { columnTimeUnit: 'min' })).toStrictEqual(entry(120));
    expect(read('released_time', '.5', { columnTimeUnit: 'min' })).toStrictEqual(entry(30));
    expect(read('released_time', '.25', { columnTimeUnit: 'min' })).toStrictEqual(entry(15));
    expect(code(read('released_time', 'x2', { columnTimeUnit: 'min' }))).toBe('not_understood');
    expect(read('released_time', null, { columnTimeUnit: 'min' })).toStrictEqual(BLANK);
    expect(read('released_time', '60', { columnTimeUnit: 's' })).toStrictEqual(entry(60));
  });

  it('is not used beyond its plausible span, and is at its ends', () => {
    expect(read('released_time', '10 s')).toStrictEqual(entry(10));
    expect(read('released_time', '30 min')).toStrictEqual(entry(1800));
    for (const cell of ['9 s', '31 min']) {
      expect(read('released_time', cell)).toStrictEqual({ entry: null, halfWidth: null, trouble: { code: 'implausible', expected: '0:10 to 30:00 (minutes:seconds); check it against the paper and type it again' } });
    }
    expect(read('applied_settle_time', '0 s')).toStrictEqual(entry(0));
  });

  it('without a span of its own may last from a second to an hour', () => {
    expect(timeSpan(field({ kind: 'time' }))).toStrictEqual({ from: 1, to: 3600 });
    expect(timeSpan(field({ kind: 'time', plausible: { from: 0, to: 60, why: 'a test' } }))).toStrictEqual({ from: 0, to: 60 });
  });
});

describe('a pressure', () => {
  it('is in the unit of its row, its column or its cell, and comes in that of its row', () => {
    expect(read('cut_in', 100)).toStrictEqual(entry(100));
    expect(read('cut_in', 700, { unit: 'kPa' })).toStrictEqual(entry(700));
    // 1 bar is 100 kPa.
    expect(read('cut_in', 7, { unit: 'kPa', columnUnit: 'bar' })).toStrictEqual(entry(700));
    expect(read('cut_in', '7 bar', { unit: 'kPa' })).toStrictEqual(entry(700));
    expect(read('cut_in', '690-710 kPa', { unit: 'bar' })).toStrictEqual(entry(7, 0.1));
    expect(read('cut_in', '6.9-7.1', { unit: 'kPa', columnUnit: 'bar' })).toMatchObject({ entry: expect.closeTo(700, 9) as number, halfWidth: expect.closeTo(10, 9) as number });
  });

  it('is a single one where no spread is kept', () => {
    expect(read('cut_in', '98-102')).toStrictEqual(entry(100, 2));
    expect(read('gauge_step', '2-3').trouble).toStrictEqual({ code: 'not_understood', expected: 'a single pressure in psi' });
    expect(read('gauge_step', '2')).toStrictEqual(entry(2));
  });

  it('of a warning may be never, and of nothing else', () => {
    expect(read('light_on_at', 'never')).toStrictEqual(entry('never'));
    expect(code(read('cut_in', 'never'))).toBe('not_understood');
    expect(read('light_on_at', '62')).toStrictEqual(entry(62));
  });

  it('that cannot be read says why', () => {
    expect(read('cut_in', '> 90').trouble!.expected).toMatch(/; write the pressure that was read/);
  });

  it('is kept and named beyond the highest that a gauge shows, and not at it', () => {
    expect(read('cut_in', 0)).toStrictEqual(entry(0));
    expect(read('cut_in', HIGHEST_PLAUSIBLE_PRESSURE)).toStrictEqual(entry(200));
    expect(code(read('cut_in', 200.5))).toBe('implausible');
    // 13.7 bar are 198.7 psi.
    expect(read('cut_in', '13.7', { unit: 'bar' })).toStrictEqual(entry(13.7));
    // 14 bar are 203.1 psi.
    expect(code(read('cut_in', '14', { unit: 'bar' }))).toBe('implausible');
    expect(code(read('gauge_step', 0.01))).toBe('implausible');
  });

  // 1 kPa is 0.14504 psi: 344.7 to 1034.2 kPa are the 50 to 150 psi of a reservoir in use.
  it.each<[number, Partial<EntryContext>, string]>([
    [345, {}, '0 to 200 psi; if it was read in kPa, write the unit into the cell or into pressure_unit'],
    [344, {}, '0 to 200 psi; check it against the paper and type it again'],
    [760, {}, '0 to 200 psi; if it was read in kPa, write the unit into the cell or into pressure_unit; if a zero slipped in, it is 76 psi'],
    [1034, {}, '0 to 200 psi; if it was read in kPa, write the unit into the cell or into pressure_unit; if a zero slipped in, it is 103.4 psi'],
    [1035, {}, '0 to 200 psi; if a zero slipped in, it is 103.5 psi'],
    [500, {}, '0 to 200 psi; if it was read in kPa, write the unit into the cell or into pressure_unit; if a zero slipped in, it is 50 psi'],
    [1500, {}, '0 to 200 psi; if a zero slipped in, it is 150 psi'],
    [1510, {}, '0 to 200 psi; check it against the paper and type it again'],
    [7000, { unit: 'kPa' }, '0 to 1379 kPa; if a zero slipped in, it is 700 kPa'],
    [20000, { unit: 'kPa' }, '0 to 1379 kPa; check it against the paper and type it again'],
    [70, { unit: 'bar' }, '0 to 13.79 bar; if a zero slipped in, it is 7 bar'],
  ])('proposes what may have been meant by %d %j', (cell, context, expected) => {
    expect(read('cut_in', cell, context)).toStrictEqual({ entry: cell, halfWidth: null, trouble: { code: 'implausible', expected } });
  });
});
