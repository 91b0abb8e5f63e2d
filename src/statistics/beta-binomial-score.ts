import type { Proportion } from './proportion.js';

/** The log-likelihood of a beta-binomial distribution as a function of its mean and its spread, 1 / (alpha + beta). */
export interface BetaBinomialScore {
  /** Without the terms that hang on the counts alone. */
  logLikelihood(mean: number, spread: number): number;
  /** The mean of highest likelihood at a spread, sought from a first guess. */
  bestMean(spread: number, guess: number): number;
  /** The derivative of the log-likelihood by the spread. */
  rise(mean: number, spread: number): number;
}

const STEPS = 100;

/**
 * The beta-binomial log-likelihood of counts with its derivatives. A group of y failed in n gives
 * sum(j < y) ln(m + j s) + sum(j < n - y) ln(1 - m + j s) - sum(j < n) ln(1 + j s), with m the mean and s the spread
 * (Griffiths, Biometrics 29 (1973) 637-648).
 *
 * @param groups some failed and some passed
 */
export function betaBinomialScore(groups: readonly Proportion[]): BetaBinomialScore {
  const failed = exceeding(groups.map((group) => group.failed));
  const passed = exceeding(groups.map((group) => group.tested - group.failed));
  const tested = exceeding(groups.map((group) => group.tested));

  return {
    logLikelihood: (mean, spread) => {
      let sum = 0;
      for (let j = 0; j < failed.length; j++) sum += failed[j]! * Math.log(mean + j * spread);
      for (let j = 0; j < passed.length; j++) sum += passed[j]! * Math.log(1 - mean + j * spread);
      for (let j = 0; j < tested.length; j++) sum -= tested[j]! * Math.log(1 + j * spread);
      return sum;
    },
    rise: (mean, spread) => {
      let sum = 0;
      for (let j = 0; j < failed.length; j++) sum += (failed[j]! * j) / (mean + j * spread);
      for (let j = 0; j < passed.length; j++) sum += (passed[j]! * j) / (1 - mean + j * spread);
      for (let j = 0; j < tested.length; j++) sum -= (tested[j]! * j) / (1 + j * spread);
      return sum;
    },
    // Concave in the mean: Newton's method, kept between bounds that close in.
    bestMean(spread, guess) {
      let [low, high, mean] = [0, 1, guess];
      for (let step = 0; step < STEPS; step++) {
        let [slope, bend] = [0, 0];
        for (let j = 0; j < failed.length; j++) {
          const part = 1 / (mean + j * spread);
          slope += failed[j]! * part;
          bend += failed[j]! * part * part;
        }
        for (let j = 0; j < passed.length; j++) {
          const part = 1 / (1 - mean + j * spread);
          slope -= passed[j]! * part;
          bend += passed[j]! * part * part;
        }
        if (slope > 0) low = mean;
        else high = mean;
        const newton = mean + slope / bend;
        const next = newton > low && newton < high ? newton : (low + high) / 2;
        if (Math.abs(next - mean) <= 1e-15 * mean || slope === 0) return mean;
        mean = next;
      }
      return mean;
    },
  };
}

/** For each j from 0 on, how many of the counts are above it. */
function exceeding(counts: readonly number[]): Float64Array {
  const above = new Float64Array(Math.max(0, ...counts));
  for (const count of counts) for (let j = 0; j < count; j++) above[j]! += 1;
  return above;
}
