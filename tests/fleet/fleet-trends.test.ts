import { describe, expect, it } from 'vitest';
import { fleetTrends } from '../../src/fleet/fleet-trends.js';
import { nextPeriod, periodOf } from '../../src/fleet/period-of.js';
import type { PeriodSummary } from '../../src/fleet/period-summary.js';

const NOTHING = { recheck: 0, low: null, high: null, released_loss_median: null, released_loss_p90: null, applied_loss_median: null, applied_loss_p90: null, buildup_time_median: null, buildup_time_p90: null };

/** Periods one after the other, month by month; null is a period without an inspection. */
function periods<T>(values: readonly (T | null)[], of: (value: T) => Partial<PeriodSummary>): PeriodSummary[] {
  let calendar = periodOf('2025-10-01', 'month');
  return values.map((value) => {
    const { period, from, to } = calendar;
    calendar = nextPeriod(calendar, 'month');
    return { period, from, to, inspections: 0, units: 0, tested: 0, failed: 0, rate: null, ...NOTHING, ...(value === null ? {} : of(value)) };
  });
}
const rates = (values: readonly (readonly [number, number] | null)[]): PeriodSummary[] => periods(values, ([failed, tested]) => ({ failed, tested, rate: failed / tested }));
const medians = (values: readonly (number | null)[]): PeriodSummary[] => periods(values, (value) => ({ released_loss_median: value, applied_loss_median: 100 - value, buildup_time_median: 60 }));

describe('the trend of the fail rate', () => {
  it('is that of Cochran and Armitage', () => {
    // R, help of prop.trend.test: smokers 83, 90, 129, 70 of 86, 93, 136, 82 patients: X-squared = 8.2249, df = 1, p-value = 0.004132.
    const [trend] = fleetTrends(rates([[83, 86], [90, 93], [129, 136], [70, 82]]), 'month');
    expect(trend).toMatchObject({ figure: 'fail_rate', test: 'Cochran-Armitage', periods: 4, direction: 'getting better' });
    expect(trend!.z).toBeLessThan(0);
    expect(trend!.z! ** 2).toBeCloseTo(8.2249, 4);
    expect(trend!.p).toBeCloseTo(0.004132, 6);
    const [turned] = fleetTrends(rates([[70, 82], [129, 136], [90, 93], [83, 86]]), 'month');
    expect(turned).toMatchObject({ z: expect.closeTo(-trend!.z!, 10) as number, direction: 'getting worse' });
  });

  it('leaves out periods without a test, and keeps their time', () => {
    // The same counts with the scores 0, 1, 2, 5: N r^2 of score and outcome over the 397 patients is 11.4758804660 (NumPy corrcoef).
    const [trend] = fleetTrends(rates([null, [83, 86], [90, 93], [129, 136], null, null, [70, 82], null]), 'month');
    expect(trend!.periods).toBe(4);
    expect(trend!.z! ** 2).toBeCloseTo(11.475880466, 8);
  });

  it('is not told with fewer than three periods with tests, and not shown where none or all failed', () => {
    expect(fleetTrends(rates([[9, 10], [0, 10], null]), 'month')[0]).toStrictEqual({ figure: 'fail_rate', test: 'Cochran-Armitage', periods: 2, z: null, p: null, direction: 'too few periods' });
    expect(fleetTrends([], 'week')[0]).toMatchObject({ periods: 0, direction: 'too few periods' });
    for (const failed of [0, 10]) expect(fleetTrends(rates([[failed, 10], [failed, 10], [failed, 10]]), 'month')[0]).toMatchObject({ periods: 3, direction: 'no trend shown' });
    expect(fleetTrends(rates([[1, 10], [2, 10], [1, 10]]), 'month')[0]).toMatchObject({ z: expect.closeTo(0, 12) as number, direction: 'no trend shown' });
  });
});

describe('the trend of a median', () => {
  it('is that of Mann and Kendall, exact for few periods', () => {
    // Sen, JASA 63 (1968) 1379-1389: seven rising values, S 21, exact two-sided p 2/5040.
    const [, released, applied, buildup] = fleetTrends(medians([9, 15, null, 19, 20, 45, 55, 78]), 'month');
    expect(released).toMatchObject({ figure: 'released_loss_median', test: 'Mann-Kendall', periods: 7, p: expect.closeTo(2 / 5040, 12) as number, direction: 'getting worse' });
    expect(applied).toMatchObject({ figure: 'applied_loss_median', periods: 7, p: expect.closeTo(2 / 5040, 12) as number, direction: 'getting better' });
    expect(buildup).toStrictEqual({ figure: 'buildup_time_median', test: 'Mann-Kendall', periods: 7, z: 0, p: 1, direction: 'no trend shown' });
  });

  it('corrects for ties', () => {
    // US EPA QA/G-9S (2006) p. 109: S 22, Z 1.685 printed; ten digits recomputed.
    expect(fleetTrends(medians([10, 10, 10, 5, 10, 20, 18, 17, 15, 24, 15]), 'month')[1]).toMatchObject({ z: expect.closeTo(1.6849497898, 9) as number, p: expect.closeTo(0.0919982592, 9) as number, direction: 'no trend shown' });
  });

  it('takes medians that differ in the last digits of a float for the same', () => {
    expect(fleetTrends(medians([0.1 * 3, 0.3, 0.7 - 0.4, 0.3, 0.9 / 3]), 'month')[1]).toMatchObject({ z: 0, p: 1, direction: 'no trend shown' });
  });

  it('is not told with fewer than five values', () => {
    expect(fleetTrends(medians([1, 2, 3, 4]), 'month')[1]).toStrictEqual({ figure: 'released_loss_median', test: 'Mann-Kendall', periods: 4, z: null, p: null, direction: 'too few periods' });
    expect(fleetTrends(medians([1, 2, 3, 4, 5]), 'month')[1]!.direction).toBe('getting worse');
  });
});
