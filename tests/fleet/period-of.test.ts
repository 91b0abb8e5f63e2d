import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { nextPeriod, periodOf } from '../../src/fleet/period-of.js';
import { requireOutside } from '../support/recalculate.js';

describe('the week of a day', () => {
  // ISO 8601 weeks about the turns of years, as tabled in the article "ISO week date" of Wikipedia; the last two from the
  // rule: the week belongs to the year that its Thursday is in.
  it.each([
    ['2005-01-01', '2004-W53'], ['2005-01-02', '2004-W53'], ['2005-12-31', '2005-W52'], ['2006-01-01', '2005-W52'], ['2006-01-02', '2006-W01'],
    ['2006-12-31', '2006-W52'], ['2007-01-01', '2007-W01'], ['2007-12-30', '2007-W52'], ['2007-12-31', '2008-W01'], ['2008-01-01', '2008-W01'],
    ['2008-12-28', '2008-W52'], ['2008-12-29', '2009-W01'], ['2009-12-31', '2009-W53'], ['2010-01-03', '2009-W53'], ['2010-01-04', '2010-W01'],
    ['2021-01-03', '2020-W53'], ['2024-12-30', '2025-W01'],
  ])('%s is %s', (date, week) => {
    expect(periodOf(date, 'week').period).toBe(week);
  });

  it('goes from Monday to Sunday, over the turn of the year and over a leap day', () => {
    expect(periodOf('2021-01-03', 'week')).toMatchObject({ from: '2020-12-28', to: '2021-01-03' });
    expect(periodOf('2024-03-03', 'week')).toMatchObject({ period: '2024-W09', from: '2024-02-26', to: '2024-03-03' });
    expect(periodOf('0001-01-01', 'week')).toMatchObject({ period: '0001-W01', from: '0001-01-01', to: '0001-01-07' });
    expect(periodOf('9999-12-31', 'week')).toMatchObject({ period: '9999-W52', from: '9999-12-27', to: '9999-12-31' });
  });

  it('is that of Python, with its first and last day', (context) => {
    requireOutside(context, 'python3');
    const script = `
from datetime import date, timedelta
for n in [*range(1, 3652000, 613), *range(date(1999, 12, 1).toordinal(), date(2030, 2, 1).toordinal())]:
    day = date.fromordinal(n)
    year, week, weekday = day.isocalendar()
    print(day, f'{year:04d}-W{week:02d}', day - timedelta(days=weekday - 1), day + timedelta(days=7 - weekday))`;
    const lines = execFileSync('python3', ['-c', script], { encoding: 'utf8' }).trim().split('\n');
    expect(lines.length).toBeGreaterThan(16_000);
    const differing = lines.filter((line) => {
      const { period, from, to } = periodOf(line.slice(0, 10), 'week');
      return line !== `${line.slice(0, 10)} ${period} ${from} ${to}`;
    });
    expect(differing).toStrictEqual([]);
  });
});

describe('the month and the quarter of a day', () => {
  it.each([
    ['2024-02-29', 'month', '2024-02', '2024-02-01', '2024-02-29'],
    ['2023-02-10', 'month', '2023-02', '2023-02-01', '2023-02-28'],
    ['2025-12-31', 'month', '2025-12', '2025-12-01', '2025-12-31'],
    ['2026-01-01', 'month', '2026-01', '2026-01-01', '2026-01-31'],
    ['2024-02-29', 'quarter', '2024-Q1', '2024-01-01', '2024-03-31'],
    ['2026-04-01', 'quarter', '2026-Q2', '2026-04-01', '2026-06-30'],
    ['2026-09-30', 'quarter', '2026-Q3', '2026-07-01', '2026-09-30'],
    ['2025-12-31', 'quarter', '2025-Q4', '2025-10-01', '2025-12-31'],
    ['9999-12-31', 'month', '9999-12', '9999-12-01', '9999-12-31'],
    ['9999-12-31', 'quarter', '9999-Q4', '9999-10-01', '9999-12-31'],
  ] as const)('of %s by %s is %s', (date, by, period, from, to) => {
    expect(periodOf(date, by)).toMatchObject({ period, from, to });
  });
});

describe('the next period', () => {
  it.each([['2020-12-30', 'week', '2021-W01'], ['2025-12-31', 'month', '2026-01'], ['2025-11-01', 'quarter', '2026-Q1'], ['2024-02-29', 'week', '2024-W10']] as const)('of %s by %s is %s', (date, by, period) => {
    expect(nextPeriod(periodOf(date, by), by).period).toBe(period);
  });

  it('begins on the day after, for a century', () => {
    for (const by of ['week', 'month', 'quarter'] as const) {
      let period = periodOf('1950-01-01', by);
      for (let count = 0; count < 5300 && period.to < '2050-01-01'; count++) {
        const next = nextPeriod(period, by);
        expect(periodOf(period.to, by)).toStrictEqual(period);
        expect(periodOf(next.from, by)).toStrictEqual(next);
        expect(Date.parse(next.from) - Date.parse(period.to)).toBe(86_400_000);
        period = next;
      }
      expect(period.to >= '2050-01-01').toBe(true);
    }
  });
});
