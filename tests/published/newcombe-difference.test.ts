import { describe, expect, it } from 'vitest';
import { differenceOfProportions } from '../../src/statistics/difference-of-proportions.js';

describe('differenceOfProportions against published intervals', () => {
  // Newcombe RG, Statistics in Medicine 17 (1998) 873-890, table II, method 10, 95 %: the four digits printed. Quoted from
  // memory, and each worked out by hand from the paper's formula and the Wilson limits of the two rates.
  it.each([
    [56, 70, 48, 80, 0.0524, 0.3339],
    [9, 10, 3, 10, 0.1705, 0.809],
    [10, 10, 0, 20, 0.6791, 1],
  ])('%i of %i less %i of %i', (failedA, testedA, failedB, testedB, low, high) => {
    const found = differenceOfProportions({ failed: failedA, tested: testedA }, { failed: failedB, tested: testedB })!;
    expect(found.difference).toBeCloseTo(failedA / testedA - failedB / testedB, 15);
    expect(Number(found.low.toFixed(4))).toBe(low);
    expect(Number(found.high.toFixed(4))).toBe(high);
  });
});
