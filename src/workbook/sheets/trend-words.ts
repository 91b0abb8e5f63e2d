import type { FleetTrend } from '../../fleet/fleet-figures.js';
import type { PeriodLength } from '../../fleet/period-summary.js';
import { probabilityText } from '../probability-text.js';

const FIGURES: Readonly<Record<FleetTrend['figure'], string>> = {
  fail_rate: 'Fail rate',
  released_loss_median: 'Loss, brakes released',
  applied_loss_median: 'Loss, brakes applied',
  buildup_time_median: 'Build-up time',
};
const WORDS = { 'getting better': 'falls', 'getting worse': 'rises' } as const;

/** What is said of one figure of the fleet: its name, which way it goes, and a sentence with the test. */
export interface TrendSentence {
  readonly figure: string;
  readonly direction: string;
  readonly sentence: string;
}

/**
 * Whether a figure gets better or worse from period to period, in words, with its test. A figure with too few values, or
 * with values that are all equal, was not tested.
 *
 * @example
 * trendSentence({ figure: 'fail_rate', test: 'Cochran-Armitage', periods: 14, z: -2.31, p: 0.0209, direction: 'getting better' }, 'month')
 * // { figure: 'Fail rate', direction: 'getting better', sentence: 'it falls from month to month (Cochran-Armitage test over 14 months: z = -2.31, p = 0.021)' }
 */
export function trendSentence({ figure, test, periods, z, p, direction }: FleetTrend, by: PeriodLength): TrendSentence {
  const many = `${periods} ${by}${periods === 1 ? '' : 's'}`;
  const said = { figure: FIGURES[figure], direction: direction === 'too few periods' ? `too few ${by}s` : direction };
  if (direction === 'too few periods') return { ...said, sentence: `${many} with a value` };
  if (z === null || p === null) return { ...said, sentence: `the same in all ${many}` };
  const tested = `${test} test over ${many}: z = ${z.toFixed(2)}, ${probabilityText(p)}`;
  if (direction !== 'getting better' && direction !== 'getting worse') return { ...said, sentence: tested };
  return { ...said, sentence: `${figure === 'fail_rate' ? 'it' : 'the median'} ${WORDS[direction]} from ${by} to ${by} (${tested})` };
}
