import { betaBinomialFit } from '../statistics/beta-binomial-fit.js';
import type { FailRate } from './fail-rate.js';
import type { FailRateGroup, RatePrior } from './group-fail-rate.js';

/** Fewest groups of which anything in common can be said. */
const LEAST_GROUPS = 3;

/**
 * What the groups of a table have in common: the beta distribution of their true rates, by maximum likelihood over the
 * groups that were tested. Null with fewer than three of them, and where each failed wholly or not at all: such groups have
 * nothing in common that an estimate could be drawn towards.
 */
export function ratePrior(group: FailRateGroup, rates: readonly Pick<FailRate, 'tested' | 'failed'>[]): RatePrior | null {
  const tested = rates.filter((rate) => rate.tested > 0);
  const fit = tested.length < LEAST_GROUPS ? null : betaBinomialFit(tested);
  return fit === null || fit.weight === 0 ? null : { group, mean: fit.mean, weight: fit.weight };
}

/**
 * A group's rate drawn towards the rate of all groups, the more the fewer were tested (empirical Bayes): the mean of the
 * posterior, (failed + mean x weight) / (tested + weight). With an infinite weight it is the rate of all. Null without a
 * prior, and for a group that was not tested.
 *
 * @example estimatedRate({ group: 'site', mean: 0.136, weight: 10 }, { tested: 14, failed: 4 }) // 0.22333…
 */
export function estimatedRate(prior: RatePrior | null, { tested, failed }: Pick<FailRate, 'tested' | 'failed'>): number | null {
  if (prior === null || tested === 0) return null;
  const { mean, weight } = prior;
  return weight === null ? mean : (failed + mean * weight) / (tested + weight);
}
