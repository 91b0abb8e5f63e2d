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

/** What is said of one figure of the fleet: its name, and a sentence. */
export interface TrendSentence {
  readonly figure: string;
  readonly sentence: string;
}

/**
 * Whether a figure gets better or worse from period to period, in words, with its test.
 *
 * @example
 * trendSentence({ figure: 'fail_rate', test: 'Cochran-Armitage', periods: 14, z: -2.31, p: 0.0209, direction: 'getting better' }, 'month').sentence
 * // 'getting better: it falls from month to month (Cochran-Armitage test over 14 months: z = -2.31, p = 0.021)'
 */
export function trendSentence({ figure, test, periods, z, p, direction }: FleetTrend, by: PeriodLength): TrendSentence {
  const many = `${periods} ${by}${periods === 1 ? '' : 's'}`;
  const what = figure === 'fail_rate' ? 'it' : 'the median';
  if (z === null || p === null) return { figure: FIGURES[figure], sentence: `${direction === 'too few periods' ? `too few ${by}s` : direction}: ${many} with a value` };
  const tested = `(${test} test over ${many}: z = ${z.toFixed(2)}, ${probabilityText(p)})`;
  const sentence = direction === 'getting better' || direction === 'getting worse' ? `${direction}: ${what} ${WORDS[direction]} from ${by} to ${by} ${tested}` : `${direction} ${tested}`;
  return { figure: FIGURES[figure], sentence };
}
