import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { RawCell } from '../../src/util/raw-table.js';
import type { PressureReading } from '../../src/readings/parse-pressure.js';
import { parsePressure, parseWarningPressure } from '../../src/readings/parse-pressure.js';
import type { PressureUnit } from '../../src/readings/pressure-units.js';
import { toPsi } from '../../src/readings/pressure-units.js';

const PSI = { unit: 'psi' } as const;

function reading(value: number, more: Partial<PressureReading> = {}): PressureReading {
  return { value, halfWidth: null, approximate: false, writtenUnit: null, ...more };
}

describe('parsePressure', () => {
  test.each<[RawCell, number]>([
    ['104', 104],
    ['104.5', 104.5],
    ['104,5', 104.5],
    ['7,2', 7.2],
    [' 104\u00a0', 104],
    ['１０４', 104],
    ['1 034', 1034],
    ['1\u202f034,5', 1034.5],
    ['0', 0],
    [104, 104],
    [7.25, 7.25],
    [0, 0],
  ])('%j is %d in the unit of the row', (cell, value) => {
    expect(parsePressure(cell, { unit: 'kPa' })).toStrictEqual({ ok: true, value: reading(value), exact: true });
  });

  test.each(['104 psi', '104psi', '104 PSI', '104 p.s.i.', '104 lbs', '104#', '104\u2009psig', '１０４ｐｓｉ'])('%s has the unit of the row', (cell) => {
    expect(parsePressure(cell, PSI)).toStrictEqual({ ok: true, value: reading(104, { writtenUnit: 'psi' }), exact: true });
  });

  test.each<[string, PressureUnit, number, PressureUnit]>([
    ['7.2 bar', 'kPa', 720, 'bar'],
    ['7,2 bar', 'kPa', 720, 'bar'],
    ['720kPa', 'bar', 7.2, 'kPa'],
    ['720 KPA', 'bar', 7.2, 'kPa'],
    ['720㎪', 'bar', 7.2, 'kPa'],
    ['0.72 MPa', 'bar', 7.2, 'kPa'],
    // 1 bar and 1 kPa in psi: from the exact definitions in NIST SP 811, Appendix B.
    ['1 bar', 'psi', 14.50377377302092, 'bar'],
    ['1 kPa', 'psi', 0.14503773773020923, 'kPa'],
  ])('%s in %s is %d', (cell, unit, value, writtenUnit) => {
    expect(parsePressure(cell, { unit })).toStrictEqual({ ok: true, value: reading(value, { writtenUnit }), exact: false });
  });

  test('a megapascal counts as kPa, and is not exact', () => {
    for (const word of ['mpa', 'megapascal', 'Megapascals']) expect(parsePressure(`0.72 ${word}`, { unit: 'kPa' })).toStrictEqual({ ok: true, value: reading(720, { writtenUnit: 'kPa' }), exact: false });
    for (const word of ['kmpa', 'mpax', 'hmegapascal']) expect(parsePressure(`0.72 ${word}`, { unit: 'kPa' })?.ok).toBe(false);
    expect(parsePressure('0.72 MPa', { unit: 'kPa' })).toStrictEqual({ ok: true, value: reading(720, { writtenUnit: 'kPa' }), exact: false });
    expect(parsePressure('0.70-0.72 MPa', { unit: 'kPa' })).toStrictEqual({
      ok: true,
      value: reading(710, { halfWidth: 10, writtenUnit: 'kPa' }),
      exact: false,
    });
  });

  test.each(['~104', '~ 104', '≈104', 'approx. 104', 'approx 104', 'about 104', 'About 104', 'ca. 104', '104 approx.'])('%s is approximate', (cell) => {
    expect(parsePressure(cell, PSI)).toStrictEqual({ ok: true, value: reading(104, { approximate: true }), exact: false });
  });

  test.each(['104-108', '104–108', '104 — 108', '104 to 108', '104 TO 108', '104..108', 'between 104 and 108', '106±2', '106 ± 2', '106 +/- 2', '106+-2', '106 +/− 2'])(
    '%s is 106, give or take 2',
    (cell) => {
      expect(parsePressure(cell, PSI)).toStrictEqual({ ok: true, value: reading(106, { halfWidth: 2 }), exact: false });
    },
  );

  test.each(['104-108 psi', '104 psi-108 psi', '104 psi to 108', '106 psi ± 2', '106 ± 2 psi'])('%s has a unit for both ends', (cell) => {
    expect(parsePressure(cell, PSI)).toStrictEqual({ ok: true, value: reading(106, { halfWidth: 2, writtenUnit: 'psi' }), exact: false });
  });

  test('a range keeps clear of binary noise and is converted whole', () => {
    expect(parsePressure('7.2-7.4', { unit: 'bar' })).toStrictEqual({ ok: true, value: reading(7.3, { halfWidth: 0.1 }), exact: false });
    expect(parsePressure('7,2–7,4 bar', { unit: 'kPa' })).toStrictEqual({
      ok: true,
      value: reading(730, { halfWidth: 10, writtenUnit: 'bar' }),
      exact: false,
    });
    expect(parsePressure('~104-108', PSI)).toStrictEqual({ ok: true, value: reading(106, { halfWidth: 2, approximate: true }), exact: false });
  });

  test.each(['104-104', '104±0'])('%s has no width', (cell) => {
    expect(parsePressure(cell, PSI)).toStrictEqual({ ok: true, value: reading(104), exact: false });
  });

  test.each<[RawCell]>([[null], [''], ['\u00a0\u202f ']])('%j is blank', (cell) => {
    expect(parsePressure(cell, PSI)).toBeNull();
  });

  test.each(['-', '–', '—', 'n/a', 'NA', 'nt', 'not tested'])('%s is not measured', (cell) => {
    expect(parsePressure(cell, PSI)).toStrictEqual({ ok: true, value: null, exact: false });
  });

  test.each(['115/112', '115 / 112', '115, 112', '115;112', '115 & 112', '115 and 112', '115 112', '115 psi / 112 psi', '7,2/7,1'])(
    '%s is two needles',
    (cell) => {
      expect(parsePressure(cell, PSI)).toMatchObject({
        ok: false,
        hint: 'put each needle in its own column: there are two needles in one cell',
      });
    },
  );

  test.each<[RawCell, string]>([
    ['108-104', 'write the lower pressure first; if these are two readings, put each in its own column'],
    ['104 psi - 7.4 bar', 'write both ends in the same unit'],
    ['1,034', 'write 1034 or 1.034, whichever is meant'],
    ['-5', 'read the gauge again: a gauge pressure is not below zero'],
    ['−5', 'read the gauge again: a gauge pressure is not below zero'],
    ['–5', 'read the gauge again: a gauge pressure is not below zero'],
    [-5, 'read the gauge again: a gauge pressure is not below zero'],
    ['>120', 'write the pressure that was read: a bound is not a reading'],
    ['120+', 'write the pressure that was read: a bound is not a reading'],
    ['7 kgf/cm²', 'write the pressure in psi, kPa or bar (1 kgf/cm2 is 98.0665 kPa)'],
    ['7 kgf/cm2', 'write the pressure in psi, kPa or bar (1 kgf/cm2 is 98.0665 kPa)'],
    ['7 kg/cm2', 'write the pressure in psi, kPa or bar (1 kgf/cm2 is 98.0665 kPa)'],
    ['7 kgf cm2', 'write the pressure in psi, kPa or bar (1 kgf/cm2 is 98.0665 kPa)'],
    ['7 kgf/cm2 abs', 'write the pressure in psi, kPa or bar'],
    ['7 x kgf/cm2', 'write the pressure in psi, kPa or bar'],
    ['104 psia', 'write the pressure in psi, kPa or bar'],
    [
      { value: 46145, format: 'd-mmm' },
      'type the pressure again in a cell formatted as text: the spreadsheet turned it into a date or time',
    ],
  ])('%j is not understood, with a mend', (cell, hint) => {
    const result = parsePressure(cell, PSI);
    expect(result).toStrictEqual({
      ok: false,
      expected: 'a pressure in psi, such as 104, 104-108 or ~104, or one with its unit, such as 104 psi, 720 kPa or 7.2 bar',
      hint,
    });
  });

  test.each<[RawCell]>([
    ['?'],
    ['none'],
    ['never'],
    ['104?'],
    ['1e5'],
    ['0x68'],
    ['10²'],
    ['104-'],
    ['104-108-112'],
    ['104 ± 2%'],
    ['psi'],
    ['~'],
    ['about'],
    ['x'.repeat(10_000)],
    ['9'.repeat(70)+'9'.repeat(400)],
    [true],
    [false],
    [Number.NaN],
    [Number.POSITIVE_INFINITY],
  ])('%j is not understood', (cell) => {
    expect(parsePressure(cell, PSI)?.ok).toBe(false);
  });

  test('converts any written pressure as its number', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1_500_000 }), fc.constantFrom<PressureUnit>('kPa', 'bar'), (thousandths, unit) => {
        const value = thousandths / 1000;
        expect(parsePressure(`${value} ${unit}`, PSI)).toStrictEqual({
          ok: true,
          value: reading(toPsi(value, unit), { writtenUnit: unit }),
          exact: false,
        });
      }),
    );
  });

  test('the midpoint of any range lies between its ends, half a width from each', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 15_000 }), fc.integer({ min: 1, max: 5000 }), (low, width) => {
        const result = parsePressure(`${low / 10}-${(low + width) / 10}`, PSI);
        expect(result).toStrictEqual({ ok: true, value: reading((2 * low + width) / 20, { halfWidth: width / 20 }), exact: false });
      }),
    );
  });
});

describe('parseWarningPressure', () => {
  test.each(['never', 'NEVER ', 'did not come on', 'didn’t come on', 'never came on'])('%s', (cell) => {
    expect(parseWarningPressure(cell, PSI)).toStrictEqual({ ok: true, value: 'never', exact: true });
  });

  test('reads a pressure as parsePressure does', () => {
    expect(parseWarningPressure('~62 psi', PSI)).toStrictEqual(parsePressure('~62 psi', PSI));
    expect(parseWarningPressure(62, PSI)).toStrictEqual(parsePressure(62, PSI));
    expect(parseWarningPressure('', PSI)).toBeNull();
    expect(parseWarningPressure('n/a', PSI)).toStrictEqual({ ok: true, value: null, exact: false });
  });

  test.each<[RawCell]>([['none'], ['No'], ['no light'], ['DNA'], [false]])('%j may also mean not tested', (cell) => {
    expect(parseWarningPressure(cell, PSI)).toMatchObject({
      ok: false,
      hint: 'write never if the warning did not come on; leave the cell blank if it was not tested',
    });
  });

  test('says that never would have been understood', () => {
    const result = parseWarningPressure('62/60', PSI);
    expect(result).toMatchObject({ ok: false, hint: 'put each needle in its own column: there are two needles in one cell' });
    expect(result?.ok === false && result.expected).toMatch(/; or never$/);
  });
});
