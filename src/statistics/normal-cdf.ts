import { erf } from 'mathjs/number';

/**
 * The standard normal distribution function: the probability of a value at or below `z`. By the error function of
 * mathjs (W. J. Cody's rational approximations), good to about 1e-15.
 *
 * @example normalCdf(1.4) // 0.9192433407662289
 */
export function normalCdf(z: number): number {
  if (z === Infinity) return 1;
  if (z === -Infinity) return 0;
  return 0.5 * (1 + (erf(z / Math.SQRT2) as number));
}
