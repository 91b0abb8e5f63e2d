import { erf } from '../util/mathjs.js';

/** Below this the tail has digits of its own, which a difference from 1 would lose. */
const TAIL = -2.5;
/** Steps of the continued fraction: enough for every digit from the start of the tail on. */
const STEPS = 100;

/**
 * The standard normal distribution function: the probability of a value at or below `z`. By the error function of
 * mathjs (W. J. Cody's rational approximations), and in the lower tail by the continued fraction of the complementary
 * error function (Abramowitz and Stegun, 7.1.14), so that small probabilities keep their digits too.
 *
 * @example normalCdf(1.4) // 0.9192433407662289
 */
export function normalCdf(z: number): number {
  return z < TAIL ? lowerTail(-z / Math.SQRT2) : 0.5 * (1 + (erf(z / Math.SQRT2) as number));
}

function lowerTail(x: number): number {
  let fraction = x;
  for (let step = STEPS; step > 0; step--) fraction = x + step / 2 / fraction;
  return (0.5 * Math.exp(-x * x)) / (Math.sqrt(Math.PI) * fraction);
}
