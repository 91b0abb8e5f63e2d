import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { PressureUnit } from '../../src/readings/pressure-units.js';
import { convertPressure, fromPsi, parsePressureUnit, toPsi } from '../../src/readings/pressure-units.js';

describe('parsePressureUnit', () => {
  test.each<[PressureUnit, string[]]>([
    ['psi', ['psi', 'PSI', 'Psig', 'p.s.i.', 'lb', 'lbs', 'lbs.', '#', 'lb/in2', 'lbf/in²', ' psi ', 'ｐｓｉ', 'pounds per square inch']],
    ['kPa', ['kPa', 'kpa', 'KPA', 'kilopascal', 'Kilopascals', '㎪']],
    ['bar', ['bar', 'Bar', 'bars', 'barg', '㍴']],
  ])('%s', (unit, spellings) => {
    expect(spellings.map(parsePressureUnit)).toStrictEqual(spellings.map(() => unit));
  });

  test.each(['', 'MPa', 'kgf/cm2', 'psia', 'atm', 'Pa', 'mbar', '__proto__', 'constructor', 'toString'])('%j is no unit of ours', (text) => {
    expect(parsePressureUnit(text)).toBeNull();
  });
});

describe('conversion', () => {
  const unit = fc.constantFrom<PressureUnit>('psi', 'kPa', 'bar');

  test('goes there and back', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-3, max: 1e5, noNaN: true }), unit, unit, (value, from, to) => {
        expect(Math.abs(convertPressure(convertPressure(value, from, to), to, from) / value - 1)).toBeLessThan(1e-15);
        expect(Math.abs(fromPsi(toPsi(value, from), from) / value - 1)).toBeLessThan(1e-15);
      }),
    );
  });

  test('between bar and kPa moves the decimal point', () => {
    expect(convertPressure(7.2, 'bar', 'kPa')).toBe(720);
    expect(convertPressure(725, 'kPa', 'bar')).toBe(7.25);
  });

  test('within one unit changes nothing', () => {
    expect(convertPressure(104.3, 'kPa', 'kPa')).toBe(104.3);
  });
});
