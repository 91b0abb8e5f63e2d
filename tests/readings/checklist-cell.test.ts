import { describe, expect, test } from 'vitest';
import { cellText, isBarePressure, isBlankCell, sameCell, timeUnitOf, withPressureUnit, withTimeUnit } from '../../src/readings/checklist-cell.js';
import type { RawCell } from '../../src/util/raw-table.js';
import { dictionary } from './reshape-support.js';

const DAY = { value: 46095, format: 'yyyy-mm-dd' };
const field = (name: string) => dictionary.fields[dictionary.position.get(name)!]!;

describe('the cells of a form', () => {
  test.each<[RawCell | undefined, boolean]>([[null, true], [undefined, true], ['', true], [' \u00a0', true], ['-', false], [0, false], [false, false], [DAY, false]])('isBlankCell %j: %s', (cell, blank) => {
    expect(isBlankCell(cell)).toBe(blank);
  });

  test.each<[RawCell | undefined, string]>([[null, ''], [undefined, ''], ['  Pri.  tank ', 'Pri. tank'], [105, '105'], [DAY, '46095']])('cellText %j: %s', (cell, text) => {
    expect(cellText(cell)).toBe(text);
  });

  test('cells say the same whatever the case and the spaces, and a day is not the number that stands for it', () => {
    expect(sameCell('North  depot', 'north depot')).toBe(true);
    expect(sameCell('north', 'NORTH')).toBe(true);
    expect(sameCell(100, '100')).toBe(true);
    expect(sameCell('North', 'South')).toBe(false);
    expect(sameCell(DAY, { ...DAY })).toBe(true);
    expect(sameCell(DAY, 46095)).toBe(false);
    expect(sameCell(46095, DAY)).toBe(false);
    expect(sameCell(DAY, { ...DAY, format: 'h:mm' })).toBe(false);
    expect(sameCell(null, DAY)).toBe(false);
    expect(sameCell(DAY, null)).toBe(false);
  });

  test.each<[RawCell, boolean]>([[720, true], ['720', true], ['7.2 bar', false], ['n/a', false], ['never', false], [null, false], ['', false], ['slow', false]])('isBarePressure %j: %s', (cell, bare) => {
    expect(isBarePressure(cell)).toBe(bare);
  });

  test('a pressure gets a unit behind it only where it has none', () => {
    expect(withPressureUnit(720, 'kPa')).toBe('720 kPa');
    expect(withPressureUnit(' 62 ', 'psi')).toBe('62 psi');
    expect(withPressureUnit('7.2 bar', 'kPa')).toBe('7.2 bar');
    expect(withPressureUnit('n/a', 'kPa')).toBe('n/a');
    expect(withPressureUnit(null, 'kPa')).toBeNull();
  });

  test.each<[RawCell, string]>([[4.2, '4.2 min'], ['60', '60 min'], ['1.25', '1.25 min'], ['1,25', '1,25 min'], ['.25', '.25 min'], ['~60', '~60 min'], ['≈ 60', '≈ 60 min'], ['about 5', 'about 5 min'], ['5 approx.', '~5 min']])('the bare number of minutes %j becomes %s', (cell, written) => {
    expect(withTimeUnit(cell, 'min', field('released_time'))).toBe(written);
  });

  test.each<[RawCell]>([['1:00'], ['60 s'], ['never'], ['x12'], ['12x'], ['1x5'], ['1.x'], ['.x'], [true], [null], [{ value: 60 / 1440, format: 'h:mm' }]])('what is no bare number stays as it stands: %j', (cell) => {
    expect(withTimeUnit(cell, 'min', field('released_time'))).toBe(cell);
  });

  test('seconds that are understood without their unit stay; others get it', () => {
    // The dictionary holds a released test of 10 s to 1800 s plausible, so that a bare 1 is not understood.
    expect(withTimeUnit('60', 's', field('released_time'))).toBe('60');
    expect(withTimeUnit(60, 's', field('released_time'))).toBe(60);
    expect(withTimeUnit('1', 's', field('released_time'))).toBe('1 s');
    expect(withTimeUnit('60.5', 's', field('released_time'))).toBe('60.5 s');
    expect(withTimeUnit('60,5', 's', field('released_time'))).toBe('60,5 s');
  });

  test.each(['m', 'min', 'Min.', 'mins', 'minute', 'MINUTES'])('%s are minutes', (word) => {
    expect(timeUnitOf(word)).toBe('min');
  });

  test.each(['s', 'sec', 'Sec.', 'secs', 'second', 'seconds'])('%s are seconds', (word) => {
    expect(timeUnitOf(word)).toBe('s');
  });

  test.each(['', 'pm', 'minx', 'm.in', 'ms', 'secx', 'h', 'psi'])('"%s" is no unit of time', (word) => {
    expect(timeUnitOf(word)).toBeNull();
  });
});
