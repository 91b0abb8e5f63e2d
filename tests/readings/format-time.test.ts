import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatTime } from '../../src/readings/format-time.js';
import { parseTime } from '../../src/readings/parse-time.js';
import { TreadlebookError } from '../../src/util/treadlebook-error.js';

describe('formatTime', () => {
  test.each([
    [0, '0:00'],
    [60, '1:00'],
    [250, '4:10'],
    [47.5, '0:47.5'],
    [3723, '62:03'],
    [5.004, '0:05.004'],
    [59.9996, '1:00'],
    [0.0004, '0:00'],
    [61.25, '1:01.25'],
  ])('%d s is %s', (seconds, text) => {
    expect(formatTime(seconds)).toBe(text);
  });

  test.each([-1, Number.NaN, Number.POSITIVE_INFINITY, 1e16])('%d s cannot be written', (seconds) => {
    expect(() => formatTime(seconds)).toThrow(TreadlebookError);
  });

  test('is read back by parseTime, whatever the plausible span', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 86_400_000 }), fc.nat(1000), fc.nat(5000), (milliseconds, shortest, more) => {
        const seconds = milliseconds / 1000;
        const options = { shortest, longest: shortest + more };
        expect(parseTime(formatTime(seconds), options)).toStrictEqual({ ok: true, value: seconds, exact: true });
      }),
      { numRuns: 1000 },
    );
  });
});
