/**
 * The binomial probabilities of 0 to n, each from its neighbour, outward from the most probable one: no factorial
 * overflows, whatever n.
 *
 * @param rate between 0 and 1, both excluded
 * @example binomialShares(0.5, 2) // [0.25, 0.5, 0.25]
 */
export function binomialShares(rate: number, n: number): readonly number[] {
  const weights: number[] = [];
  const odds = rate / (1 - rate);
  const mode = Math.min(n, Math.floor((n + 1) * rate));
  weights[mode] = 1;
  for (let k = mode; k < n; k++) weights[k + 1] = (weights[k]! * odds * (n - k)) / (k + 1);
  for (let k = mode; k > 0; k--) weights[k - 1] = (weights[k]! * k) / (odds * (n - k + 1));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  return weights.map((weight) => weight / total);
}
