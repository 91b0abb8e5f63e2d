/**
 * The name nearest to a misspelt one by edit distance (Damerau-Levenshtein, adjacent swaps counted once),
 * or null when none is near: more than a third of its letters would have to change.
 *
 * @example nearestName('evalaute', ['evaluate', 'blank']) // 'evaluate'
 */
export function nearestName(misspelt: string, names: Iterable<string>): string | null {
  const wanted = misspelt.toLowerCase().slice(0, 100);
  let best: string | null = null;
  let bestDistance = Infinity;
  for (const name of names) {
    const distance = editDistance(wanted, name.toLowerCase().slice(0, 100));
    if (distance < bestDistance) [best, bestDistance] = [name, distance];
  }
  return best !== null && bestDistance <= Math.max(1, Math.floor(Math.max(wanted.length, best.length) / 3)) ? best : null;
}

function editDistance(a: string, b: string): number {
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = a[i - 1] === b[j - 1] ? 0 : 1;
      let cost = Math.min(last[j]! + 1, row[j - 1]! + 1, last[j - 1]! + change);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) cost = Math.min(cost, beforeLast[j - 2]! + 1);
      row.push(cost);
    }
    [beforeLast, last] = [last, row];
  }
  return last[b.length]!;
}
