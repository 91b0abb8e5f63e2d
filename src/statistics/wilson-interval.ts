/** z of a two-sided 95 % interval. */
export const Z_95 = 1.959963984540054;

/**
 * The Wilson score interval of a proportion, without continuity correction (Newcombe, Statistics in Medicine 17 (1998)
 * 857-872). Null when nothing was tested.
 *
 * @param failed how many of them, 0 to `tested`
 * @returns both ends, between 0 and 1
 * @example wilsonInterval(81, 263) // { low: 0.2552885…, high: 0.3662095… }
 */
export function wilsonInterval(failed: number, tested: number, z = Z_95): { readonly low: number; readonly high: number } | null {
  if (tested === 0) return null;
  const rate = failed / tested;
  const spread = (z * z) / tested;
  const centre = (rate + spread / 2) / (1 + spread);
  const half = (z * Math.sqrt((rate * (1 - rate)) / tested + spread / (4 * tested))) / (1 + spread);
  return { low: failed === 0 ? 0 : Math.max(0, centre - half), high: failed === tested ? 1 : Math.min(1, centre + half) };
}
