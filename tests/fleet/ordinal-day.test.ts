import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { ordinalDate, ordinalDay } from '../../src/fleet/ordinal-day.js';
import { requireOutside } from '../support/recalculate.js';

describe('the number of a day', () => {
  // Python documentation, datetime.date.toordinal: 0001-01-01 has ordinal 1; 1970-01-01 has 719163, and date.max 3652059.
  it.each([['0001-01-01', 1], ['1970-01-01', 719163], ['9999-12-31', 3652059]])('%s is %i', (date, ordinal) => {
    expect(ordinalDay(date)).toBe(ordinal);
    expect(ordinalDate(ordinal)).toBe(date);
  });

  // The Gregorian rule: a leap day in every fourth year, not in full hundreds, but in every fourth of them.
  it.each([['2024-02-28', '2024-02-29'], ['2024-02-29', '2024-03-01'], ['2023-02-28', '2023-03-01'], ['1900-02-28', '1900-03-01'], ['2000-02-28', '2000-02-29'], ['2024-12-31', '2025-01-01'], ['2023-12-31', '2024-01-01']])('the day after %s is %s', (date, next) => {
    expect(ordinalDate(ordinalDay(date) + 1)).toBe(next);
  });

  it('is that of Python, both ways', (context) => {
    requireOutside(context, 'python3');
    const script = 'from datetime import date\nfor n in range(1, 3652060, 487): print(n, date.fromordinal(n).isoformat())';
    const pairs = execFileSync('python3', ['-c', script], { encoding: 'utf8' }).trim().split('\n').map((line) => line.split(' ') as [string, string]);
    expect(pairs.length).toBe(7500);
    expect(pairs.filter(([ordinal, date]) => ordinalDay(date) !== Number(ordinal) || ordinalDate(Number(ordinal)) !== date)).toStrictEqual([]);
  });
});
