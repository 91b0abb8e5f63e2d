import { COMPARED_DECIMALS } from '../expressions/operators.js';
import { mannKendall } from '../statistics/mann-kendall.js';
import { trendInProportions } from '../statistics/trend-in-proportions.js';
import { roundHalfAway } from '../util/round-half-away.js';
import type { FleetDirection, FleetTrend } from './fleet-figures.js';
import { periodOf } from './period-of.js';
import type { PeriodLength, PeriodSummary } from './period-summary.js';

/** Fewest periods for a trend: two are none, and with four Mann-Kendall can never show one at 5 %, two-sided. */
const LEAST_PERIODS = { fail_rate: 3, median: 5 } as const;
const LEVEL = 0.05;
const MEDIANS = ['released_loss_median', 'applied_loss_median', 'buildup_time_median'] as const;

/**
 * Whether the fleet gets better from period to period: the fail rate by the Cochran-Armitage test for a trend in
 * proportions, with the number of the period as its score, and the median losses and build-up time by Mann-Kendall. All
 * of them are better when they fall. Periods without a test, or without such a value, are left out; with too few left
 * nothing is tested.
 */
export function fleetTrends(trend: readonly PeriodSummary[], by: PeriodLength): FleetTrend[] {
  return [failRateTrend(trend, by), ...MEDIANS.map((figure) => medianTrend(figure, trend))];
}

function failRateTrend(trend: readonly PeriodSummary[], by: PeriodLength): FleetTrend {
  const tested = trend.filter((period) => period.tested > 0);
  const start = tested[0] ? periodOf(tested[0].from, by).index : 0;
  const scores = tested.map(({ from }) => periodOf(from, by).index - start);
  const test = tested.length < LEAST_PERIODS.fail_rate ? null : trendInProportions(tested, scores);
  return { figure: 'fail_rate', test: 'Cochran-Armitage', ...outcome(tested.length, LEAST_PERIODS.fail_rate, test) };
}

function medianTrend(figure: (typeof MEDIANS)[number], trend: readonly PeriodSummary[]): FleetTrend {
  // Rounded as before a limit, so that the last digits of a float make no two equal medians differ.
  const values = trend.flatMap((period) => period[figure] ?? []).map((value) => roundHalfAway(value, COMPARED_DECIMALS));
  const test = values.length < LEAST_PERIODS.median ? null : mannKendall(values);
  return { figure, test: 'Mann-Kendall', ...outcome(values.length, LEAST_PERIODS.median, test) };
}

function outcome(periods: number, least: number, test: { readonly z: number; readonly p: number } | null): Pick<FleetTrend, 'periods' | 'z' | 'p' | 'direction'> {
  const shown = test !== null && test.p <= LEVEL;
  const direction: FleetDirection = periods < least ? 'too few periods' : !shown ? 'no trend shown' : test.z < 0 ? 'getting better' : 'getting worse';
  return { periods, z: test?.z ?? null, p: test?.p ?? null, direction };
}
