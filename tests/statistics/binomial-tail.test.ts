import { expect, test } from 'vitest';
import { binomialTail } from '../../src/statistics/binomial-tail.js';

test('is the sum of the binomial probabilities, the count itself included', () => {
  // By hand: 3 of 3 at one half is 1/8; 1 or fewer of 3 is (1 + 3)/8.
  expect(binomialTail(3, 3, 0.5)).toStrictEqual({ atLeast: 0.125, atMost: 1 });
  expect(binomialTail(1, 3, 0.5).atMost).toBeCloseTo(0.5, 12);
  expect(binomialTail(0, 3, 0.5).atLeast).toBeCloseTo(1, 12);
});

test('agrees with SciPy 1.10, binom.sf and binom.cdf at 0.12 of 100', () => {
  expect(binomialTail(19, 100, 0.12).atLeast).toBeCloseTo(0.028172, 6);
  expect(binomialTail(24, 100, 0.12).atLeast).toBeCloseTo(0.00064, 6);
  expect(binomialTail(5, 100, 0.12).atMost).toBeCloseTo(0.015222, 6);
});
