import { boundCrossing } from '../statistics/bound-crossing.js';
import { leastSquaresFit } from '../statistics/least-squares-fit.js';
import { mannKendall } from '../statistics/mann-kendall.js';
import { theilSen } from '../statistics/theil-sen.js';
import { controlChart } from './control-chart.js';
import type { LossSeries } from './loss-series.js';
import { monthsAfter } from './next-due.js';
import { ordinalDate, ordinalDay } from './ordinal-day.js';
import type { Crossing, Direction, LossTrend } from './unit-summary.js';

/** Fewest days for a trend: below, no two-sided test at 5 % can show one (Kendall's exact distribution). */
const LEAST_DATES = 5;
const SIGNIFICANT = 0.05;
const SLOPE_DAYS = 90;
/** How far ahead a crossing is told: ten years. */
const MOST_MONTHS = 120;
/** What floating point may take from a whole day. */
const ROUNDING = 1e-7;

/**
 * Which way a loss goes, and when it reaches its limit: the Theil-Sen slope with its interval, the Mann-Kendall test,
 * and, where it rises, the day on which the one-sided 95 % confidence bound of its least-squares line meets the limit
 * (ICH Q1E). Needs five different days.
 *
 * @param series the losses since the repair
 * @param loss the measure and its unit
 * @param sinceRepair the repair at which the series begins; null where it begins with the first inspection
 * @example lossTrend(series, { measure: 'released_loss', unit: 'psi/min' }, null).direction // 'rising'
 */
export function lossTrend({ dates, losses, limit }: LossSeries, { measure, unit }: Pick<LossTrend, 'measure' | 'unit'>, sinceRepair: string | null): LossTrend {
  const days = dates.map((date) => ordinalDay(date) - ordinalDay(dates[0]!));
  const enough = dates.length >= LEAST_DATES;
  const sen = enough ? theilSen(days, losses) : null;
  const p = (enough ? mannKendall(losses)?.p : null) ?? null;
  const direction = directionOf(sen?.slope ?? null, p);
  return {
    measure,
    unit,
    dates,
    losses,
    limit,
    since_repair: sinceRepair,
    slope_per_90_days: per90(sen?.slope),
    slope_low: per90(sen?.low),
    slope_high: per90(sen?.high),
    p,
    direction,
    ...crossingOf(direction, dates, days, losses, limit),
    control: controlChart(losses),
  };
}

function directionOf(slope: number | null, p: number | null): Direction {
  if (slope === null || p === null) return 'too few inspections';
  if (p > SIGNIFICANT || slope === 0) return 'steady';
  return slope > 0 ? 'rising' : 'falling';
}

function crossingOf(direction: Direction, dates: readonly string[], days: readonly number[], losses: readonly number[], limit: number | null): { crossing: Crossing; crosses_on: string | null } {
  const told = (crossing: Crossing): { crossing: Crossing; crosses_on: null } => ({ crossing, crosses_on: null });
  if (direction === 'too few inspections') return told(direction);
  if (limit === null) return told('no limit');
  const fit = direction === 'rising' ? leastSquaresFit(days, losses) : null;
  const at = fit && boundCrossing(fit, limit, { side: 'upper', confidence: 0.95, from: days.at(-1)! });
  if (at === null) return told('no rise shown');
  if (at === 'already reached') return told(at);
  const latest = monthsAfter(dates.at(-1)!, MOST_MONTHS);
  const day = Math.floor(at + ROUNDING) + ordinalDay(dates[0]!);
  if (latest === null || day > ordinalDay(latest)) return told('beyond 10 years');
  return { crossing: 'on the day shown', crosses_on: ordinalDate(day) };
}

function per90(slope: number | null | undefined): number | null {
  return slope == null ? null : SLOPE_DAYS * slope;
}
