import { describe, expect, it } from 'vitest';
import { DayTally } from '../../src/fleet/day-tally.js';
import type { PeriodLength } from '../../src/fleet/period-summary.js';
import { trendOfDays, type PeriodTrend } from '../../src/fleet/trend-of-days.js';
import { evaluateRow, shippedPlan } from '../support/evaluate-rows.js';

const EVALUATION = await evaluateRow(shippedPlan('common-practice'), { unit: 'T1', light_on_at: 50 });

function trendOf(dates: readonly string[], asked: PeriodLength | null = null): PeriodTrend {
  const days = new Map<string, DayTally>();
  for (const date of dates) {
    const tally = days.get(date) ?? new DayTally();
    tally.add(EVALUATION);
    days.set(date, tally);
  }
  return trendOfDays(days, asked);
}
const counts = ({ trend }: PeriodTrend): [string, number][] => trend.map(({ period, inspections }) => [period, inspections]);

describe('the trend of days', () => {
  it('lists every period from the first to the last, also the empty ones, whatever the order of the days', () => {
    expect(counts(trendOf(['2026-03-31', '2025-12-01', '2026-03-01', '2025-12-01'], 'month'))).toStrictEqual([['2025-12', 2], ['2026-01', 0], ['2026-02', 0], ['2026-03', 2]]);
    expect(counts(trendOf(['2020-12-28', '2021-01-03', '2021-01-11'], 'week'))).toStrictEqual([['2020-W53', 2], ['2021-W01', 0], ['2021-W02', 1]]);
    expect(counts(trendOf(['2025-12-31', '2026-01-01', '2026-07-01'], 'quarter'))).toStrictEqual([['2025-Q4', 1], ['2026-Q1', 1], ['2026-Q2', 0], ['2026-Q3', 1]]);
  });

  it('tells the first and the last day, and a unit once in each period', () => {
    const { by, trend } = trendOf(['2024-02-29', '2024-02-01', '2024-03-31']);
    expect(by).toBe('week');
    expect(trendOf(['2024-02-29', '2024-02-01', '2024-03-31'], 'month').trend).toMatchObject([{ period: '2024-02', from: '2024-02-01', to: '2024-02-29', inspections: 2, units: 1, tested: 2, failed: 2 }, { period: '2024-03', from: '2024-03-01', to: '2024-03-31', inspections: 1, units: 1 }]);
    expect(trend).toHaveLength(9);
  });

  it('has one period for one date, and none for none', () => {
    expect(counts(trendOf(['2026-01-01']))).toStrictEqual([['2026-W01', 1]]);
    expect(trendOf([])).toStrictEqual({ by: 'month', trend: [] });
    expect(trendOf([], 'week')).toStrictEqual({ by: 'week', trend: [] });
  });

  it('lengthens the periods of 20 years by week, and never lists more than 400', () => {
    const twenty = trendOf(['2000-01-01', '2019-12-31'], 'week');
    expect([twenty.by, twenty.trend.length, twenty.trend[0]!.period, twenty.trend.at(-1)!.period]).toStrictEqual(['month', 240, '2000-01', '2019-12']);
    // A year mistyped: 1824 years of quarters are not listed one by one.
    expect(counts(trendOf(['0202-02-03', '2026-02-03', '2026-11-03'], null))).toStrictEqual([['0202-Q1', 1], ['2026-Q1', 1], ['2026-Q4', 1]]);
  });
});
