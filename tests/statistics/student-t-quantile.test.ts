import { describe, expect, it } from 'vitest';
import { studentTQuantile } from '../../src/statistics/student-t-quantile.js';

describe('studentTQuantile', () => {
  // In closed form: the Cauchy distribution with 1 degree of freedom, t / sqrt(2 + t^2) = 2p - 1 with 2.
  it.each([0.6, 0.9, 0.95, 0.975, 0.999])('is the closed form with 1 and 2 degrees of freedom at %d', (p) => {
    expect(studentTQuantile(p, 1) / Math.tan(Math.PI * (p - 0.5))).toBeCloseTo(1, 12);
    expect(studentTQuantile(p, 2) / ((2 * p - 1) / Math.sqrt(2 * p * (1 - p)))).toBeCloseTo(1, 12);
  });

  // Upper critical values of NIST/SEMATECH e-Handbook 1.3.6.7.2, three decimals as printed (from memory).
  it.each([
    [0.95, 3, 2.353],
    [0.95, 4, 2.132],
    [0.975, 5, 2.571],
    [0.975, 10, 2.228],
    [0.99, 11, 2.718],
    [0.95, 30, 1.697],
  ])('is the printed value at %d with %i degrees of freedom', (p, degrees, printed) => {
    expect(Math.abs(studentTQuantile(p, degrees) - printed)).toBeLessThanOrEqual(0.0005);
  });
});
