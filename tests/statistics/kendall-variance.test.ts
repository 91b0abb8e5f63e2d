import { describe, expect, it } from 'vitest';
import { kendallVariance } from '../../src/statistics/kendall-variance.js';

/** The mean of S squared over every order of the values: what the variance is, counted out. */
function countedOut(values: readonly number[], times: readonly number[]): number {
  const all = orders(values);
  return all.reduce((sum, order) => sum + statistic(order, times) ** 2, 0) / all.length;
}

function orders(values: readonly number[]): number[][] {
  if (values.length < 2) return [[...values]];
  return values.flatMap((value, i) => orders(values.toSpliced(i, 1)).map((rest) => [value, ...rest]));
}

function statistic(values: readonly number[], times: readonly number[]): number {
  let s = 0;
  for (let j = 1; j < values.length; j++) for (let i = 0; i < j; i++) s += Math.sign(values[j]! - values[i]!) * Math.sign(times[j]! - times[i]!);
  return s;
}

describe('kendallVariance', () => {
  // The expected value is the definition itself: the variance over all orders.
  it.each([
    [[1, 2], [1, 2]],
    [[1, 2, 3, 4, 5], [1, 2, 3, 4, 5]],
    [[1, 1, 2, 3, 4, 4], [1, 2, 3, 4, 5, 6]],
    [[1, 2, 3, 4, 5, 6], [1, 1, 1, 2, 3, 3]],
    [[1, 1, 2, 2, 2, 3], [1, 1, 2, 2, 3, 4]],
    [[1, 1, 1, 2], [5, 5, 6, 6]],
    [[1, 1, 1, 2, 3], [5, 5, 5, 6, 7]],
    [[1, 1, 1, 1, 2, 2], [4, 5, 5, 5, 6, 7]],
    [[7, 7, 7], [1, 2, 2]],
    [[1, 1, 2], [3, 3, 3]],
    [[1, 2], [4, 4]],
    [[1, 1], [4, 4]],
  ])('of %j at the times %j', (values, times) => {
    expect(kendallVariance(values, times)).toBeCloseTo(countedOut(values, times), 10);
  });

  it('takes times as all different where none are given', () => {
    expect(kendallVariance([1, 1, 2, 3])).toBe(kendallVariance([1, 1, 2, 3], [1, 2, 3, 4]));
    expect(kendallVariance([])).toBe(0);
  });
});
