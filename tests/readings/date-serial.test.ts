import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { isoDateToSerial, serialToIsoDate } from '../../src/readings/date-serial.js';

describe('date serials', () => {
  test('go there and back for every day of both systems', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 2957003 }), fc.boolean(), (serial, date1904) => {
        fc.pre(date1904 || serial !== 60);
        const iso = serialToIsoDate(serial, date1904);
        expect(iso).toMatch(/^\d{4}-\d{2}-\d{2}$/);
        expect(isoDateToSerial(iso ?? '', date1904)).toBe(serial);
      }),
      { numRuns: 2000 },
    );
  });

  test('round to the millisecond instead of cutting off', () => {
    // The double below 45658 lies 0.63 microseconds before midnight.
    expect(serialToIsoDate(45658 - 7.28e-12, false)).toBe('2025-01-01');
    expect(serialToIsoDate(45658 - 0.001 / 86400, false)).toBe('2024-12-31');
  });

  test.each([-1, -0.5, 2958466, Number.NaN, Number.POSITIVE_INFINITY, -Number.POSITIVE_INFINITY, 1e300])('%d is out of range', (serial) => {
    expect(serialToIsoDate(serial, false)).toBeNull();
    expect(serialToIsoDate(serial, true)).toBeNull();
  });

  test('1904 ends 1462 serials earlier', () => {
    expect(serialToIsoDate(2957004, true)).toBeNull();
    expect(serialToIsoDate(2957004, false)).not.toBeNull();
  });

  test.each(['', '2025-02-30', '1900-02-29', '2025-13-01', '1899-12-30', '04/03/2026', '2026-3-4', '2026-03-04T10:00'])('%j has no serial', (iso) => {
    expect(isoDateToSerial(iso)).toBeNull();
  });

  // ECMA-376 Part 1, 18.17.4.1: 1 is 1 January 1900, 60 the day that never was, 61 is 1 March; 38749 is 1 February 2006 (37287 from 1904).
  test.each([
    ['1900-01-01', 1],
    ['1900-02-28', 59],
    ['1900-03-01', 61],
    ['2006-02-01', 38749],
  ])('%s is %i', (iso, serial) => {
    expect(isoDateToSerial(iso)).toBe(serial);
    expect(serialToIsoDate(serial, false)).toBe(iso);
  });

  test('is of a date and nothing but a date', () => {
    expect(isoDateToSerial('2006-02-01', true)).toBe(37287);
    expect(isoDateToSerial('12006-02-01')).toBeNull();
    expect(isoDateToSerial('2006-02-011')).toBeNull();
  });

  test('a day before 1904 has no serial in that system', () => {
    expect(isoDateToSerial('1903-12-31', true)).toBeNull();
  });
});
