import { describe, expect, it } from 'vitest';
import { wilsonInterval } from '../../src/statistics/wilson-interval.js';

describe('wilsonInterval against published intervals', () => {
  // Newcombe RG, Statistics in Medicine 17 (1998) 857-872, worked examples, Wilson score method without continuity
  // correction, 95 %: the four digits printed, and ten digits recomputed from the formula.
  it.each([
    [81, 263, 0.2553, 0.3662, 0.2552885199, 0.366209577],
    [0, 20, 0, 0.1611, 0, 0.1611251581],
    [1, 29, 0.0061, 0.1718, 0.0061132143, 0.1717552188],
  ])('%i of %i', (failed, tested, lowPrinted, highPrinted, low, high) => {
    const found = wilsonInterval(failed, tested)!;
    expect(Number(found.low.toFixed(4))).toBe(lowPrinted);
    expect(Number(found.high.toFixed(4))).toBe(highPrinted);
    expect(found.low).toBeCloseTo(low, 10);
    expect(found.high).toBeCloseTo(high, 10);
  });

  it('is none of the other two methods that Newcombe prints beside it', () => {
    // 81 of 263 with continuity correction: 0.2535 to 0.3682; Clopper-Pearson: 0.2527 to 0.3676.
    const found = wilsonInterval(81, 263)!;
    expect(found.low).toBeGreaterThan(0.2536);
    expect(found.high).toBeLessThan(0.3675);
  });

  // Recomputed from the formula of that paper with exact rationals; 95 %.
  it.each([
    [29, 29, 0.8830302015, 1],
    [5, 10, 0.2365930905, 0.7634069095],
    [1, 10, 0.0178762131, 0.4041500268],
    [0, 10, 0, 0.2775327999],
    [10, 10, 0.7224672001, 1],
    [0, 1, 0, 0.7934506856],
    [1, 1, 0.2065493144, 1],
    [0, 8, 0, 0.3244075649],
    [2, 7, 0.082218924, 0.6410655482],
  ])('%i of %i, recomputed', (failed, tested, low, high) => {
    const found = wilsonInterval(failed, tested)!;
    expect(found.low).toBeCloseTo(low, 10);
    expect(found.high).toBeCloseTo(high, 10);
  });

  it('takes the z of another level: 3 of 12 at 80 %', () => {
    // z(90 %) of the standard normal distribution, 1.2815515655446004; recomputed from the formula.
    const found = wilsonInterval(3, 12, 1.2815515655446004)!;
    expect(found.low).toBeCloseTo(0.1268698982, 10);
    expect(found.high).toBeCloseTo(0.4333239642, 10);
  });
});
