import jstat from 'jstat';

const { studentt } = jstat.jStat;
/** Newton steps after jstat's value, which is good to about seven digits. */
const STEPS = 3;

/**
 * The quantile of Student's t distribution, for a whole number of degrees of freedom.
 *
 * @param p between 0 and 1, both excluded
 * @param degrees degrees of freedom, 1 or more
 * @example studentTQuantile(0.95, 29) // 1.699127026533…
 */
export function studentTQuantile(p: number, degrees: number): number {
  let t = studentt.inv(p, degrees);
  for (let step = 0; step < STEPS; step++) t -= (studentTCdf(t, degrees) - p) / studentt.pdf(t, degrees);
  return t;
}

/** The distribution function by its finite series (Abramowitz and Stegun, 26.7.3 and 26.7.4). */
function studentTCdf(t: number, degrees: number): number {
  const angle = Math.atan2(t, Math.sqrt(degrees));
  const [sine, cosine] = [Math.sin(angle), Math.cos(angle)];
  const odd = degrees % 2 === 1;
  let [term, series] = odd ? [cosine, degrees > 1 ? cosine : 0] : [1, 1];
  for (let power = odd ? 3 : 2; power <= degrees - 2; power += 2) {
    term *= ((power - 1) / power) * cosine * cosine;
    series += term;
  }
  const between = odd ? (2 / Math.PI) * (angle + sine * series) : sine * series;
  return 0.5 * (1 + between);
}
