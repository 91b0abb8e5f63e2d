/**
 * The exact probability, when there is no trend and no two values are equal, of a Mann-Kendall statistic of `s` or more
 * (Kendall, Rank Correlation Methods; Gilbert (1987), table A18). By the recurrence over the number of inversions of a
 * permutation.
 *
 * @param s the statistic
 * @param n how many values
 * @example kendallExactTail(6, 4) // 0.041666…
 */
export function kendallExactTail(s: number, n: number): number {
  // shares[k]: the share of the orders of `size` values with k pairs out of order.
  let shares = [1];
  for (let size = 2; size <= n; size++) {
    const next: number[] = new Array<number>((size * (size - 1)) / 2 + 1).fill(0);
    shares.forEach((share, inversions) => {
      for (let added = 0; added < size; added++) next[inversions + added]! += share / size;
    });
    shares = next;
  }
  const most = (n * (n - 1)) / 2;
  return Math.min(1, shares.reduce((total, share, inversions) => (most - 2 * inversions >= s ? total + share : total), 0));
}
