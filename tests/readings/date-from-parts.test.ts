import { expect, test } from 'vitest';
import { dateFromParts } from '../../src/readings/date-from-parts.js';

test.each([
  [2026, 3, 4, '2026-03-04'],
  [2024, 2, 29, '2024-02-29'],
  [2000, 2, 29, '2000-02-29'],
  [1, 1, 1, '0001-01-01'],
  [9999, 12, 31, '9999-12-31'],
])('%d, %d, %d', (year, month, day, iso) => {
  expect(dateFromParts(year, month, day)).toBe(iso);
});

test.each([
  [2025, 2, 29],
  [1900, 2, 29],
  [2025, 2, 30],
  [2025, 4, 31],
  [2025, 0, 1],
  [2025, 13, 1],
  [2025, 1, 0],
  [0, 1, 1],
  [10000, 1, 1],
  [2025, 1.5, 1],
  [Number.NaN, 1, 1],
])('%d, %d, %d is no day', (year, month, day) => {
  expect(dateFromParts(year, month, day)).toBeNull();
});
