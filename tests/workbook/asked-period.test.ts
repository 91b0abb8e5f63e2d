import { describe, expect, it } from 'vitest';
import type { PeriodLength } from '../../src/fleet/period-summary.js';
import { askedPeriod, isIsoDate, type PeriodOptions } from '../../src/workbook/asked-period.js';

describe('the period that is asked for', () => {
  it('is open, and as suits the span, where nothing is asked', () => {
    expect(askedPeriod({})).toStrictEqual({ from: null, to: null, by: null });
    expect(askedPeriod({ from: null, to: null, asOf: null, by: null })).toStrictEqual({ from: null, to: null, by: null });
  });

  it('takes asOf as its last day', () => {
    expect(askedPeriod({ from: '2026-01-01', asOf: '2026-06-30', by: 'week' })).toStrictEqual({ from: '2026-01-01', to: '2026-06-30', by: 'week' });
    expect(askedPeriod({ to: '2026-06-30', asOf: '2026-06-30' })).toStrictEqual({ from: null, to: '2026-06-30', by: null });
  });

  it('may be one day', () => {
    expect(askedPeriod({ from: '2024-02-29', to: '2024-02-29' })).toStrictEqual({ from: '2024-02-29', to: '2024-02-29', by: null });
  });

  it.each<[PeriodOptions, string]>([
    [{ from: '2026-02-30' }, 'evaluateReadings: from "2026-02-30" is no date; write it as 2026-03-14'],
    [{ to: '14.3.2026' }, 'evaluateReadings: to "14.3.2026" is no date; write it as 2026-03-14'],
    [{ asOf: '' }, 'evaluateReadings: asOf "" is no date; write it as 2026-03-14'],
    [{ from: new Date(0) as unknown as string }, 'evaluateReadings: from "1970-01-01T00:00:00.000Z" is no date; write it as 2026-03-14'],
    [{ from: '2026-06-01', to: '2026-03-01' }, 'evaluateReadings: from 2026-06-01 is after to 2026-03-01; give the earlier day to from'],
    [{ from: '2026-06-01', asOf: '2026-03-01' }, 'evaluateReadings: from 2026-06-01 is after asOf 2026-03-01; give the earlier day to from'],
    [{ to: '2026-06-01', asOf: '2026-03-01' }, 'evaluateReadings: to 2026-06-01 and asOf 2026-03-01 are two ends of one period; give one of them'],
    [{ by: 'day' as PeriodLength }, 'evaluateReadings: by "day" is not known; write week, month or quarter'],
    [{ by: '__proto__' as PeriodLength }, 'evaluateReadings: by "__proto__" is not known; write week, month or quarter'],
  ])('%j is refused', (asked, message) => {
    expect(() => askedPeriod(asked)).toThrow(expect.objectContaining({ name: 'TreadlebookError', code: 'usage', message }));
  });

  it('calls the options by the names that they were given under', () => {
    const names = { where: 'evaluate', from: '--from', to: '--to', asOf: '--as-of', by: '--by' };
    expect(() => askedPeriod({ from: '2026-06-01', asOf: '2026-03-01' }, names)).toThrow('evaluate: --from 2026-06-01 is after --as-of 2026-03-01; give the earlier day to --from');
  });
});

// Days of ISO 8601 calendar dates; 1900 was no leap year, 2000 was.
it.each([['2000-02-29', true], ['1900-02-29', false], ['2026-3-1', false], ['2026-03-01T00:00', false], [' 2026-03-01', false], ['20260301', false], ['0000-01-01', false], [20260301, false], [undefined, false]])('%j is a date: %j', (text, expected) => {
  expect(isIsoDate(text)).toBe(expected);
});
