import { expect, it } from 'vitest';
import { betaBinomialScore } from '../../src/statistics/beta-binomial-score.js';

// Of n = 2 with mean 1/2 and spread 1 (alpha = beta = 1/2), one fails with probability 2 B(3/2, 3/2) / B(1/2, 1/2) = 1/4; without the
// binomial coefficient 2 that is 1/8. Both fail with B(5/2, 1/2) / B(1/2, 1/2) = 3/8. Griffiths, Biometrics 29 (1973) 637-648.
it.each([
  [1, 1 / 8],
  [2, 3 / 8],
  [0, 3 / 8],
])('gives the logarithm of the probability that %d of 2 fail', (failed, probability) => {
  expect(betaBinomialScore([{ failed, tested: 2 }]).logLikelihood(0.5, 1)).toBeCloseTo(Math.log(probability), 12);
});

it('adds the groups, and rises by the spread as its difference quotient does', () => {
  const { logLikelihood, rise, bestMean } = betaBinomialScore([{ failed: 1, tested: 2 }, { failed: 2, tested: 2 }]);
  expect(logLikelihood(0.5, 1)).toBeCloseTo(Math.log(3 / 64), 12);
  const step = 1e-5;
  expect(rise(0.6, 1)).toBeCloseTo((logLikelihood(0.6, 1 + step) - logLikelihood(0.6, 1 - step)) / (2 * step), 8);
  // The mean of highest likelihood lies higher than those beside it.
  const mean = bestMean(1, 0.5);
  for (const beside of [mean - 0.01, mean + 0.01]) expect(logLikelihood(beside, 1)).toBeLessThan(logLikelihood(mean, 1));
});
