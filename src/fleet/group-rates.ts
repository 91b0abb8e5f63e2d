import type { FailRate } from './fail-rate.js';
import type { FailRateGroup, GroupFailRate, RatePrior } from './group-fail-rate.js';
import { groupFlag } from './group-flag.js';
import { estimatedRate, ratePrior } from './rate-prior.js';

/** The fail rates of one table. */
export interface GroupRates {
  readonly rates: readonly GroupFailRate[];
  /** Null with fewer than three groups that were tested. */
  readonly prior: RatePrior | null;
}

/**
 * Completes the fail rates of one table with the estimate and the flag of each group, and puts the worst first: by the
 * estimate, else by the rate; where these are the same, by the lower end of the interval, so that the surer one stands
 * first; groups that were not tested last. Periods stay in the order of time.
 */
export function groupRates(group: FailRateGroup, counted: readonly (FailRate & { readonly name: string })[]): GroupRates {
  const prior = ratePrior(group, counted);
  const sum = (count: 'tested' | 'failed'): number => counted.reduce((total, rate) => total + rate[count], 0);
  const target = sum('tested') === 0 ? null : sum('failed') / sum('tested');
  const rates = counted.map(({ name, tested, failed, recheck, rate, low, high }): GroupFailRate => {
    const count = { tested, failed };
    return { group, name, tested, failed, recheck, rate, low, high, estimate: estimatedRate(prior, count), flag: groupFlag(group, count, target) };
  });
  if (group !== 'period') rates.sort(worseFirst);
  return { rates, prior };
}

function worseFirst(a: GroupFailRate, b: GroupFailRate): number {
  const badness = ({ estimate, rate }: GroupFailRate): number => estimate ?? rate ?? -1;
  return badness(b) - badness(a) || (b.low ?? -1) - (a.low ?? -1) || (a.name < b.name ? -1 : 1);
}
