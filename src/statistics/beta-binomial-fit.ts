import { betaBinomialScore } from './beta-binomial-score.js';
import type { Proportion } from './proportion.js';

/** The spread of failure rates over groups: a beta distribution with alpha = mean * weight, beta = (1 - mean) * weight. */
export interface BetaBinomialFit {
  /** The mean of the rates. */
  readonly mean: number;
  /** alpha + beta: how many tests the prior counts for. Null: without end, all groups share one rate. */
  readonly weight: number | null;
}

/** Spreads (1 / weight) among which the maximum is looked for, four for each power of ten. */
const SPREADS = Array.from({ length: 69 }, (_, i) => 10 ** ((i - 34) / 4));

/**
 * Fits a beta-binomial distribution by maximum likelihood (Griffiths, Biometrics 29 (1973) 637-648, in the mean and the
 * spread 1/weight, which leaves no gamma functions and takes the plain binomial in as spread 0). Groups without tests
 * are left out; null where none has any. Where the groups differ no more than chance makes them, or each has one test
 * only, or none or all failed, the weight is null and the mean the pooled rate. Where every group failed wholly or not
 * at all the likelihood rises without end as the weight falls: the weight is 0.
 *
 * @example betaBinomialFit([{ failed: 0, tested: 10 }, { failed: 1, tested: 10 }, { failed: 8, tested: 10 }]) // { mean: 0.2879…, weight: 1.1929… }
 */
export function betaBinomialFit(counts: readonly Proportion[]): BetaBinomialFit | null {
  const groups = counts.filter(({ tested }) => tested > 0);
  if (groups.length === 0) return null;
  const tested = groups.reduce((sum, group) => sum + group.tested, 0);
  const failed = groups.reduce((sum, group) => sum + group.failed, 0);
  const pooled: BetaBinomialFit = { mean: failed / tested, weight: null };
  if (failed === 0 || failed === tested || groups.every((group) => group.tested === 1)) return pooled;
  if (groups.every((group) => group.failed === 0 || group.failed === group.tested)) {
    return { mean: groups.filter((group) => group.failed > 0).length / groups.length, weight: 0 };
  }

  const likelihood = betaBinomialScore(groups);
  let best = { ...pooled, height: likelihood.logLikelihood(pooled.mean, 0) };
  let start = pooled.mean;
  let before = 0;
  SPREADS.forEach((spread, i) => {
    start = likelihood.bestMean(spread, start);
    const rise = likelihood.rise(start, spread);
    // The likelihood over the spread has a top where its rise turns into a fall.
    if (before > 0 && rise <= 0) {
      const top = peak(SPREADS[i - 1]!, spread, (at) => likelihood.rise(likelihood.bestMean(at, start), at));
      const mean = likelihood.bestMean(top, start);
      const height = likelihood.logLikelihood(mean, top);
      if (height > best.height) best = { mean, weight: 1 / top, height };
    }
    before = rise;
  });
  return { mean: best.mean, weight: best.weight };
}

/** Where a falling function crosses 0 between two spreads, by halving on the logarithmic scale. */
function peak(low: number, high: number, rise: (spread: number) => number): number {
  while (high / low > 1 + 1e-14) {
    const middle = Math.sqrt(low * high);
    if (rise(middle) > 0) low = middle;
    else high = middle;
  }
  return Math.sqrt(low * high);
}
