import fc from 'fast-check';
import { expect, it } from 'vitest';
import { boundCrossing } from '../../src/statistics/bound-crossing.js';
import { cusum } from '../../src/statistics/cusum.js';
import { individualsChart } from '../../src/statistics/individuals-chart.js';
import { leastSquaresFit } from '../../src/statistics/least-squares-fit.js';
import { mannKendall } from '../../src/statistics/mann-kendall.js';
import { quantile } from '../../src/statistics/quantile.js';
import { theilSen } from '../../src/statistics/theil-sen.js';

/** Readings of every size a cell may hold, and often equal ones. */
const number = fc.oneof(fc.constantFrom(0, -0, 1, 1e-15, 1e100, -1e100, 0.1), fc.double({ min: -1e100, max: 1e100, noNaN: true }));
const pairs = fc.array(fc.tuple(number, number), { maxLength: 12 });

/** Whether every number within is finite. */
function finite(found: unknown): boolean {
  if (typeof found === 'number') return Number.isFinite(found);
  return typeof found !== 'object' || found === null || Object.values(found).every(finite);
}

it('never gives a number that is none, whatever the size of the readings', () => {
  fc.assert(
    fc.property(pairs, number, fc.constantFrom('upper' as const, 'lower' as const), (points, limit, side) => {
      const [x, y] = [points.map(([at]) => at), points.map(([, value]) => value)];
      const fit = leastSquaresFit(x, y);
      for (const found of [
        fit,
        fit && boundCrossing(fit, limit, { side, from: Math.max(...x) }),
        mannKendall(y),
        theilSen(x, y),
        quantile(y, 0.9),
        individualsChart(y),
        cusum(y, { target: limit, k: 1, h: 5 }),
      ]) expect(finite(found), JSON.stringify(found)).toBe(true);
    }),
    { seed: 111, numRuns: 2000 },
  );
});
