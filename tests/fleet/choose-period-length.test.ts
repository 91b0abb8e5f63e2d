import { expect, it } from 'vitest';
import { choosePeriodLength } from '../../src/fleet/choose-period-length.js';

it.each([
  // 70 days after 2026-01-01 is 2026-03-12, and 915 days after it 2028-07-04 (365 + 365 + 185 days).
  ['2026-01-01', '2026-01-01', 'week'],
  ['2026-01-01', '2026-03-12', 'week'],
  ['2026-01-01', '2026-03-13', 'month'],
  ['2026-01-01', '2028-07-04', 'month'],
  ['2026-01-01', '2028-07-05', 'quarter'],
  ['1926-01-01', '2026-01-01', 'quarter'],
] as const)('without a wish, %s to %s go by %s', (first, last, by) => {
  expect(choosePeriodLength(first, last, null)).toBe(by);
});

it('takes what is asked for', () => {
  expect(choosePeriodLength('2026-01-01', '2026-01-02', 'quarter')).toBe('quarter');
  expect(choosePeriodLength('2020-01-01', '2026-01-01', 'week')).toBe('week');
});

it('lengthens the periods where there would be more than 400', () => {
  // 400 weeks from the Monday 2020-01-06 end on Sunday 2027-09-05 (2800 days).
  expect(choosePeriodLength('2020-01-06', '2027-09-05', 'week')).toBe('week');
  expect(choosePeriodLength('2020-01-06', '2027-09-06', 'week')).toBe('month');
  expect(choosePeriodLength('2000-01-01', '2020-01-01', 'week')).toBe('month');
  // 400 months from 2000-01 end with 2033-04.
  expect(choosePeriodLength('2000-01-01', '2033-04-30', 'month')).toBe('month');
  expect(choosePeriodLength('2000-01-01', '2033-05-01', 'week')).toBe('quarter');
  expect(choosePeriodLength('0202-01-01', '2026-05-01', 'week')).toBe('quarter');
});
