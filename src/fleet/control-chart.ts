import { cusum } from '../statistics/cusum.js';
import { individualsChart } from '../statistics/individuals-chart.js';
import { roundHalfAway } from '../util/round-half-away.js';
import type { ControlChart, ControlSignal } from './unit-summary.js';

/** Fewest losses for a chart of its own. */
const LEAST_LOSSES = 6;
/** The first losses, whose mean is the target of the CUSUM. */
const TARGET_LOSSES = 4;
/** Slack and decision limit of the CUSUM, in standard deviations. */
const SLACK = 0.5;
const DECISION = 5;
/** A loss on a limit to so many decimals is not outside. */
const COMPARED_DECIMALS = 9;

/**
 * The control chart of one loss of one unit: individuals with limits three sigma from the mean, sigma the mean moving
 * range by 1.128 (NIST/SEMATECH e-Handbook 6.3.2.2), and a CUSUM around the mean of the first four losses, slack half a
 * sigma, limit five (6.3.2.3). The lower limit is not below 0 where no loss is. Null with fewer than six losses.
 *
 * @param losses in the order of time, in one unit
 * @returns the chart in that unit; its signals tell of the latest loss only
 * @example controlChart([1, 1, 1, 1, 1, 1])?.signals // ['never moved']
 */
export function controlChart(losses: readonly number[]): ControlChart | null {
  const chart = losses.length < LEAST_LOSSES ? null : individualsChart(losses);
  if (chart === null) return null;
  const { centre, sigma } = chart;
  const moved = sigma > 0;
  const first = losses.slice(0, TARGET_LOSSES);
  const target = moved ? first.reduce((sum, loss) => sum + loss, 0) / first.length : centre;
  const h = DECISION * sigma;
  const { high, low, signals } = cusum(losses, { target, k: SLACK * sigma, h });
  const last = losses.length - 1;
  const drifts = signals.includes(last);
  const found: ControlSignal[] = [];
  if (moved && roundHalfAway(losses[last]! - chart.upper, COMPARED_DECIMALS) > 0) found.push('one reading far above its own');
  if (drifts && high[last]! > low[last]!) found.push('drifting up');
  if (drifts && low[last]! > high[last]!) found.push('drifting down');
  return {
    centre,
    upper: moved ? chart.upper : null,
    lower: !moved ? null : losses.every((loss) => loss >= 0) ? Math.max(0, chart.lower) : chart.lower,
    cusum_target: target,
    cusum_limit: moved ? h : null,
    cusum_high: high,
    cusum_low: low,
    signals: !moved ? ['never moved'] : found.length === 0 ? ['none'] : found,
  };
}
