/**
 * A p value in words that claim no more than it says.
 *
 * @param p 0 to 1
 * @example probabilityText(0.0004) // 'p < 0.001'
 */
export function probabilityText(p: number): string {
  return p < 0.001 ? 'p < 0.001' : `p = ${p.toFixed(3)}`;
}
