import { describe, expect, test } from 'vitest';
import { isoDateToSerial, serialToIsoDate } from '../../src/readings/date-serial.js';

// ECMA-376 Part 1 (Office Open XML), 18.17.4: the 1900 and 1904 date systems.
describe('date serials against ECMA-376 Part 1, 18.17.4', () => {
  // Printed in the standard.
  test.each([
    ['1910-02-03', 3687, 2225],
    ['2006-02-01', 38749, 37287],
    ['9999-12-31', 2958465, 2957003],
  ])('%s is %d, or %d in the 1904 system', (iso, serial1900, serial1904) => {
    expect(serialToIsoDate(serial1900, false)).toBe(iso);
    expect(serialToIsoDate(serial1904, true)).toBe(iso);
    expect(isoDateToSerial(iso)).toBe(serial1900);
    expect(isoDateToSerial(iso, true)).toBe(serial1904);
  });

  // Counted from the printed rule: the 1904 serial is the 1900 serial less 1462.
  test.each([
    ['1904-01-01', 1462, 0],
    ['1970-01-01', 25569, 24107],
    ['2000-01-01', 36526, 35064],
    ['2000-02-29', 36585, 35123],
    ['2008-01-01', 39448, 37986],
    ['2024-02-29', 45351, 43889],
    ['2024-03-01', 45352, 43890],
    ['2025-01-01', 45658, 44196],
  ])('%s is %d, or %d in the 1904 system', (iso, serial1900, serial1904) => {
    expect(serialToIsoDate(serial1900, false)).toBe(iso);
    expect(serialToIsoDate(serial1904, true)).toBe(iso);
    expect(isoDateToSerial(iso)).toBe(serial1900);
    expect(isoDateToSerial(iso, true)).toBe(serial1904);
  });

  test('serials with a time of day, as printed', () => {
    expect(serialToIsoDate(1.5, false)).toBe('1900-01-01');
    expect(serialToIsoDate(3687.4207639, false)).toBe('1910-02-03');
    expect(serialToIsoDate(2225.4207639, true)).toBe('1910-02-03');
    expect(serialToIsoDate(2958465.9999884, false)).toBe('9999-12-31');
    expect(serialToIsoDate(2957003.9999884, true)).toBe('9999-12-31');
  });

  test('the 1900 system counts a 29 February 1900 that never was', () => {
    expect(serialToIsoDate(0, false)).toBe('1899-12-31');
    expect(serialToIsoDate(1, false)).toBe('1900-01-01');
    expect(serialToIsoDate(59, false)).toBe('1900-02-28');
    expect(serialToIsoDate(60, false)).toBeNull();
    expect(serialToIsoDate(61, false)).toBe('1900-03-01');
    expect(isoDateToSerial('1900-02-28')).toBe(59);
    expect(isoDateToSerial('1900-03-01')).toBe(61);
  });
});
