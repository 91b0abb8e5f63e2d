import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { RawCell } from '../../src/util/raw-table.js';
import { parseDate } from '../../src/readings/parse-date.js';
import { parseNumber } from '../../src/readings/parse-number.js';
import { parsePressure, parseWarningPressure } from '../../src/readings/parse-pressure.js';
import type { ParseResult } from '../../src/readings/parse-result.js';
import { parseTime } from '../../src/readings/parse-time.js';
import { parseYesNo } from '../../src/readings/parse-yes-no.js';

const PIECES = ['0', '1', '4', '9', '12', '60', '104', '108', '2026', '.', ',', ':', '-', '–', '±', '+', '/', '~', ' ', '\u00a0', "'", '"', 'psi', 'kPa', 'bar', 'MPa', 's', 'm', 'min', 'h', 'to', 'and', 'Mar', 'PM', 'T', 'Z', 'n/a', 'e5', '²', '١', '(', '\\', '__proto__'];
const FORMATS = ['h:mm', '[h]:mm:ss', 'mm:ss.0', 'h:mm AM/PM', 'd/m/yyyy', 'd/m/yyyy h:mm', 'General', ''];

const anyText = fc.oneof(
  fc.string({ unit: 'binary' }),
  fc.string({ unit: fc.constantFrom(...PIECES), maxLength: 8 }),
  fc.double().map(String),
);
const anyCell: fc.Arbitrary<RawCell> = fc.oneof(
  { weight: 6, arbitrary: anyText },
  fc.double(),
  fc.double({ min: 0, max: 1 }),
  fc.boolean(),
  fc.constant(null),
  fc.record({
    value: fc.oneof(fc.double(), fc.double({ min: 0, max: 3, noNaN: true })),
    format: fc.oneof(fc.constantFrom(...FORMATS), fc.string()),
  }),
);
const span = fc.constantFrom({ shortest: 15, longest: 900 }, { shortest: 0, longest: 86_400 }, { shortest: 1, longest: Number.POSITIVE_INFINITY });
const unit = fc.constantFrom('psi', 'kPa', 'bar').map((name) => ({ unit: name }) as { unit: 'psi' | 'kPa' | 'bar' });
const order = fc.constantFrom('dmy', 'mdy', null).map((name) => ({ order: name as 'dmy' | 'mdy' | null, date1904: false }));

/** Checks what holds of every result, and hands back the value that was understood. */
function valueOf<T>(result: ParseResult<T> | null): T | null {
  if (result === null) return null;
  if (result.ok) return result.value;
  expect(result.expected).not.toBe('');
  expect(`${result.expected} ${result.hint ?? ''}`).not.toMatch(/NaN|Infinity|undefined|null|[\r\n]/);
  return null;
}

function expectSound(value: number | null): void {
  if (value !== null) expect(Number.isFinite(value) && value >= 0 && !Object.is(value, -0)).toBe(true);
}

describe('any cell at all is understood, blank or named', () => {
  const RUNS = { numRuns: 4000 };

  test('as a number', () => {
    fc.assert(fc.property(anyCell, (cell) => expectSound(valueOf(parseNumber(cell)))), RUNS);
  });

  test('as a pressure', () => {
    fc.assert(
      fc.property(anyCell, unit, (cell, options) => {
        const reading = valueOf(parsePressure(cell, options));
        expectSound(reading?.value ?? null);
        expectSound(reading?.halfWidth ?? null);
        const warning = valueOf(parseWarningPressure(cell, options));
        if (warning !== 'never') expect(warning).toStrictEqual(reading);
      }),
      RUNS,
    );
  });

  test('as a time, to the millisecond', () => {
    fc.assert(
      fc.property(anyCell, span, (cell, options) => {
        const seconds = valueOf(parseTime(cell, options));
        expectSound(seconds);
        if (seconds !== null) expect(seconds).toBe(Math.round(seconds * 1000) / 1000);
      }),
      RUNS,
    );
  });

  test('as a date', () => {
    fc.assert(
      fc.property(anyCell, order, (cell, options) => {
        const date = valueOf(parseDate(cell, options));
        if (date !== null) expect(new Date(`${date}T00:00:00Z`).toISOString().slice(0, 10)).toBe(date);
      }),
      RUNS,
    );
  });

  test('as yes or no', () => {
    fc.assert(
      fc.property(anyCell, (cell) => {
        expect([true, false, null]).toContain(valueOf(parseYesNo(cell)));
      }),
      RUNS,
    );
  });
});
