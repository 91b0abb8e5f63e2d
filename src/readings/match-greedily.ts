import type { RowAgreement, RowComparer } from './compare-rows.js';

interface Candidate extends RowAgreement {
  readonly a: number;
  readonly b: number;
}

/**
 * Takes the pair with the most equal cells, then the best of what is left, and so on. Between pairs of as many equal cells
 * the one with fewer differing cells goes first, then what the rows say decides, and only between rows that say the same
 * their place; so the outcome is the other way round when the keyings are swapped.
 *
 * @param leastShare the share of filled cells that must be equal
 */
export function matchGreedily(pairs: readonly (readonly [number, number])[], rows: RowComparer, leastShare: number): (readonly [number, number])[] {
  const candidates = pairs.map(([a, b]): Candidate => ({ a, b, ...rows.agreement(a, b) })).filter(({ equal, filled }) => equal >= leastShare * filled && (equal > 0 || leastShare === 0));
  candidates.sort((x, y) => y.equal - x.equal || x.filled - y.filled || compareContents(x, y, rows) || comparePlaces(x, y));
  const [takenA, takenB] = [new Set<number>(), new Set<number>()];
  return candidates.flatMap(({ a, b }) => {
    if (takenA.has(a) || takenB.has(b)) return [];
    takenA.add(a);
    takenB.add(b);
    return [[a, b] as const];
  });
}

/** Orders texts by their code units, in every locale alike. */
export function compareCodeUnits(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

function compareContents(x: Candidate, y: Candidate, rows: RowComparer): number {
  const [ofX, ofY] = [contentsOf(x, rows), contentsOf(y, rows)];
  return compareCodeUnits(ofX[0]!, ofY[0]!) || compareCodeUnits(ofX[1]!, ofY[1]!);
}

function contentsOf({ a, b }: Candidate, rows: RowComparer): string[] {
  return [rows.contentOf('a', a), rows.contentOf('b', b)].sort(compareCodeUnits);
}

function comparePlaces(x: Candidate, y: Candidate): number {
  return Math.abs(x.a - x.b) - Math.abs(y.a - y.b) || Math.min(x.a, x.b) - Math.min(y.a, y.b) || x.a - y.a;
}
