import fc from 'fast-check';
import { beforeAll, describe, expect, it, type TestContext } from 'vitest';
import { betaBinomialFit } from '../../src/statistics/beta-binomial-fit.js';
import { boundCrossing } from '../../src/statistics/bound-crossing.js';
import { funnelLimit } from '../../src/statistics/funnel-limit.js';
import { leastSquaresFit } from '../../src/statistics/least-squares-fit.js';
import { mannKendall } from '../../src/statistics/mann-kendall.js';
import { normalQuantile } from '../../src/statistics/normal-quantile.js';
import type { Proportion } from '../../src/statistics/proportion.js';
import { quantile } from '../../src/statistics/quantile.js';
import { studentTQuantile } from '../../src/statistics/student-t-quantile.js';
import { theilSen } from '../../src/statistics/theil-sen.js';
import { trendInProportions } from '../../src/statistics/trend-in-proportions.js';
import { wilsonInterval } from '../../src/statistics/wilson-interval.js';
import { askScipy, missingScipy, pythonWithScipy } from './ask-scipy.js';

// Every expected value here is an answer of SciPy (or NumPy), another program that knows nothing of this one. The data sets
// are drawn at random with a fixed seed; all are answered by one process.

const SETS = 300;
const draw = <T>(seed: number, data: fc.Arbitrary<T>): T[] => fc.sample(data, { seed, numRuns: SETS });
const reading = fc.integer({ min: -2000, max: 12000 }).map((value) => value / 100);
const points = (min: number, max: number): fc.Arbitrary<{ x: number[]; y: number[] }> =>
  fc.array(fc.tuple(fc.integer({ min: 0, max: 1200 }), reading), { minLength: min, maxLength: max }).filter((pairs) => new Set(pairs.map(([x]) => x)).size > 2)
    .map((pairs) => ({ x: pairs.map(([x]) => x), y: pairs.map(([, y]) => y) }));
const proportion = (most: number): fc.Arbitrary<Proportion> =>
  fc.integer({ min: 1, max: most }).chain((tested) => fc.record({ failed: fc.integer({ min: 0, max: tested }), tested: fc.constant(tested) }));
/** Groups about a common rate, with more or less spread about it. */
const groups = fc.tuple(fc.integer({ min: 20, max: 600 }), fc.integer({ min: 0, max: 1000 })).chain(([rate, spread]) =>
  fc.array(fc.tuple(fc.integer({ min: 1, max: 80 }), fc.integer({ min: -1000, max: 1500 })), { minLength: 3, maxLength: 30 }).map((drawn) =>
    drawn.map(([tested, shift]) => ({ failed: Math.min(tested, Math.max(0, Math.round(((tested * rate) / 1000) * (1 + (spread * shift) / 1e6)))), tested }))));
const mixed = (all: readonly Proportion[]): boolean => all.some(({ failed, tested }) => failed > 0 && failed < tested);

const DATA = {
  mann_kendall: draw(1, fc.uniqueArray(reading, { minLength: 2, maxLength: 20 })),
  mann_kendall_tied: draw(2, fc.array(fc.integer({ min: 0, max: 12 }), { minLength: 3, maxLength: 40 }).filter((values) => new Set(values).size < values.length)),
  theil_sen: draw(3, points(3, 40)),
  crossing: draw(4, fc.record({
    points: points(3, 25), drift: fc.integer({ min: -200, max: 200 }), room: fc.integer({ min: 0, max: 300 }),
    side: fc.constantFrom('upper' as const, 'lower' as const), confidence: fc.constantFrom(0.8, 0.9, 0.95, 0.99),
  })).map(({ points: { x, y }, drift, room, side, confidence }) => ({
    x, y: y.map((value, i) => value / 4 + (drift * x[i]!) / 1000), limit: side === 'upper' ? room : -room, side, confidence, from: Math.max(...x),
  })),
  beta_binomial: draw(5, groups.filter(mixed)).slice(0, 100),
  funnel: draw(6, fc.tuple(fc.integer({ min: 1, max: 99 }).map((rate) => rate / 100), fc.integer({ min: 1, max: 5000 }), fc.constantFrom(0.001, 0.025, 0.975, 0.999))),
  wilson: draw(7, proportion(5000)),
  trend: draw(8, fc.array(proportion(60), { minLength: 2, maxLength: 15 }).filter(mixed)),
  quantile: draw(9, fc.tuple(fc.array(reading, { minLength: 1, maxLength: 60 }), fc.integer({ min: 0, max: 1000 }).map((share) => share / 1000))),
  normal_quantile: [0.001, 0.025, 0.1, 0.5, 0.8, 0.95, 0.975, 0.999],
  student_t_quantile: [0.55, 0.8, 0.9, 0.95, 0.975, 0.999].flatMap((p) => [1, 2, 3, 4, 5, 8, 13, 29, 30, 120, 1001].map((degrees) => [p, degrees] as const)),
};

const PYTHON = pythonWithScipy();
let answers: Record<string, unknown[]> = {};

beforeAll(() => {
  if (PYTHON === null) return;
  answers = askScipy(PYTHON, {
    mann_kendall: DATA.mann_kendall.map((values) => [values]),
    mann_kendall_tied: DATA.mann_kendall_tied.map((values) => [values]),
    theil_sen: DATA.theil_sen.map(({ x, y }) => [x, y]),
    line: DATA.theil_sen.map(({ x, y }) => [x, y]),
    crossing: DATA.crossing.map(({ x, y, limit, side, confidence, from }) => [x, y, limit, side, confidence, from]),
    beta_binomial: DATA.beta_binomial.map((counts) => [counts, betaBinomialFit(counts)]),
    funnel: DATA.funnel,
    wilson: DATA.wilson.map(({ failed, tested }) => [failed, tested]),
    trend: DATA.trend.map((counts) => [counts]),
    quantile: DATA.quantile,
    normal_quantile: DATA.normal_quantile.map((p) => [p]),
    student_t_quantile: DATA.student_t_quantile,
  });
});

/** The data of one kind beside SciPy's answers. */
function answered<K extends keyof typeof DATA, A>(context: TestContext, kind: K, name: string = kind): (readonly [(typeof DATA)[K][number], A])[] {
  if (PYTHON === null) return missingScipy(context);
  const found = answers[name] ?? [];
  expect(found.length).toBe(DATA[kind].length);
  expect(found.length).toBeGreaterThan(7);
  return DATA[kind].map((data, i) => [data, found[i] as A]);
}

/** Agreement to a share of the expected value, or to that much where it is small. */
function near(found: number | null | undefined, expected: number, tolerance: number): void {
  expect(Math.abs(found! - expected), `${found} against ${expected}`).toBeLessThanOrEqual(tolerance * Math.max(1, Math.abs(expected)));
}

describe('beside SciPy', () => {
  it('exact Mann-Kendall p', (context) => {
    for (const [values, p] of answered<'mann_kendall', number>(context, 'mann_kendall')) {
      const found = mannKendall(values)!;
      expect(found.exact).toBe(true);
      near(found.p, p, 1e-12);
    }
  });

  it('Mann-Kendall with ties', (context) => {
    for (const [values, { s, p }] of answered<'mann_kendall_tied', { s: number; p: number }>(context, 'mann_kendall_tied')) {
      const found = mannKendall(values)!;
      expect(found.s).toBe(s);
      expect(found.exact).toBe(false);
      near(found.p, p, 1e-12);
    }
  });

  it('Theil-Sen slope and intercept', (context) => {
    for (const [{ x, y }, [slope, intercept]] of answered<'theil_sen', [number, number]>(context, 'theil_sen')) {
      const found = theilSen(x, y)!;
      near(found.slope, slope, 1e-11);
      near(found.intercept, intercept, 1e-10);
    }
  });

  it('least squares', (context) => {
    for (const [{ x, y }, [slope, intercept, error]] of answered<'theil_sen', [number, number, number]>(context, 'theil_sen', 'line')) {
      const found = leastSquaresFit(x, y)!;
      near(found.slope, slope, 1e-10);
      near(found.intercept, intercept, 1e-10);
      near(found.residualSd / Math.sqrt(found.sxx), error, 1e-9);
    }
  });

  it('where the bound of a fitted mean meets a limit', (context) => {
    const kinds = new Set<string>();
    for (const [{ x, y, limit, side, confidence, from }, expected] of answered<'crossing', number | 'already reached' | null>(context, 'crossing')) {
      const found = boundCrossing(leastSquaresFit(x, y)!, limit, { side, confidence, from });
      kinds.add(typeof expected === 'number' ? 'crossing' : String(expected));
      // The reference looks 2^23 / 64 spans ahead and no further.
      if (expected === null && typeof found === 'number') expect(found).toBeGreaterThan(from + (Math.max(...x) - Math.min(...x)) * 2 ** 17 * 0.999);
      else if (typeof expected === 'number') near(found as number, expected, 1e-9);
      else expect(found).toBe(expected);
    }
    expect([...kinds].sort()).toStrictEqual(['already reached', 'crossing', 'null']);
  });

  it('the highest beta-binomial likelihood', (context) => {
    let spread = 0;
    for (const [counts, { reached, best, mean }] of answered<'beta_binomial', { reached: number; best: number; mean: number }>(context, 'beta_binomial')) {
      const found = betaBinomialFit(counts)!;
      expect(reached).toBeGreaterThanOrEqual(best - 1e-6);
      near(found.mean, mean, 1e-5);
      if (found.weight !== null) spread += 1;
    }
    expect(spread).toBeGreaterThan(20);
    expect(spread).toBeLessThan(80);
  });

  it('funnel limits', (context) => {
    for (const [[target, tested, p], limit] of answered<'funnel', number>(context, 'funnel')) near(funnelLimit(target, tested, p), limit, 1e-9);
  });

  it('the Wilson interval', (context) => {
    for (const [{ failed, tested }, [low, high]] of answered<'wilson', [number, number]>(context, 'wilson')) {
      const found = wilsonInterval(failed, tested)!;
      near(found.low, low, 1e-12);
      near(found.high, high, 1e-12);
    }
  });

  it('a trend in proportions', (context) => {
    for (const [counts, { z, p }] of answered<'trend', { z: number; p: number }>(context, 'trend')) {
      const found = trendInProportions(counts)!;
      near(found.z, z, 1e-10);
      near(found.p, p, 1e-10);
    }
  });

  it('quantiles', (context) => {
    for (const [[values, share], expected] of answered<'quantile', number>(context, 'quantile')) near(quantile(values, share), expected, 1e-12);
  });

  it('quantiles of the normal and of the t distribution', (context) => {
    for (const [p, expected] of answered<'normal_quantile', number>(context, 'normal_quantile')) near(normalQuantile(p), expected, 1e-12);
    for (const [[p, degrees], expected] of answered<'student_t_quantile', number>(context, 'student_t_quantile')) near(studentTQuantile(p, degrees), expected, 1e-12);
  });
});
