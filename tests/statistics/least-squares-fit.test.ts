import { describe, expect, it } from 'vitest';
import { leastSquaresFit } from '../../src/statistics/least-squares-fit.js';

describe('leastSquaresFit', () => {
  it('finds an exact line', () => {
    expect(leastSquaresFit([0, 1, 2], [1, 2, 3])).toStrictEqual({ slope: 1, intercept: 1, residualSd: 0, meanX: 1, sxx: 2, n: 3 });
  });

  it('keeps its digits far from zero: days of a spreadsheet instead of days since the first', () => {
    const [days, values] = [[0, 3, 7, 20, 45, 90], [1, 1.2, 1.1, 1.6, 2, 2.9]];
    const [near, far] = [leastSquaresFit(days, values)!, leastSquaresFit(days.map((day) => day + 45000), values)!];
    expect(far.slope / near.slope).toBeCloseTo(1, 12);
    expect(far.residualSd / near.residualSd).toBeCloseTo(1, 10);
    expect(far.sxx).toBeCloseTo(near.sxx, 8);
    expect(far.meanX).toBeCloseTo(near.meanX + 45000, 9);
  });

  it('is flat where all values are equal', () => {
    expect(leastSquaresFit([1, 2, 3, 4], [5, 5, 5, 5])).toMatchObject({ slope: 0, intercept: 5, residualSd: 0 });
  });

  it.each([
    [[], []],
    [[1, 2], [1, 2]],
    [[0.1, 0.1, 0.1], [1, 2, 3]],
    [[1, 2, 3], [1, 2]],
    [[1, 2, 3], [1, 2, 3, 4]],
    [[1, 2, 3], [1, 2, Number.NaN]],
    [[1, 2, Infinity], [1, 2, 3]],
  ])('is null for x %j and y %j', (x, y) => {
    expect(leastSquaresFit(x, y)).toBeNull();
  });
});
