import type { RowComparer } from './compare-rows.js';

/** Positions of rows in the two keyings that may be one inspection. */
export interface RowGroup {
  readonly a: readonly number[];
  readonly b: readonly number[];
}

/** Up to this many pairs every row of a group is held against every other. */
const MOST_PAIRS = 1024;
/** How many neighbouring filled cells make one mark of a row, and how many marks of a row are looked at. */
const CELLS_IN_MARK = 4;
const MARKS_OF_ROW = 16;
/** A mark that stands in more pairs than this tells no rows apart. */
const MOST_PAIRS_OF_MARK = 64;
/** A row that has this many candidates needs no more. */
const ENOUGH_CANDIDATES = 8;

/**
 * Pairs of a group that are worth a comparison: all of a small group; of a large one those that share a run of four
 * cells which few rows have. The work grows with the rows, not with their square; swapping the keyings or moving rows
 * changes nothing.
 */
export function candidatePairs(group: RowGroup, rows: RowComparer): (readonly [number, number])[] {
  if (group.a.length * group.b.length <= MOST_PAIRS) return group.a.flatMap((a) => group.b.map((b) => [a, b] as const));
  const holders = new Map<number, { readonly a: number[]; readonly b: number[] }>();
  for (const side of ['a', 'b'] as const) {
    for (const at of group[side]) {
      for (const mark of marksOf(rows.wordsOf(side, at))) {
        let holder = holders.get(mark);
        if (!holder) holders.set(mark, (holder = { a: [], b: [] }));
        holder[side].push(at);
      }
    }
  }
  const telling = [...holders].filter(([, { a, b }]) => a.length > 0 && b.length > 0 && a.length * b.length <= MOST_PAIRS_OF_MARK);
  telling.sort(([mark, x], [otherMark, y]) => x.a.length * x.b.length - y.a.length * y.b.length || mark - otherMark);
  return pairsOf(telling.map(([, holder]) => holder));
}

function pairsOf(holders: readonly RowGroup[]): (readonly [number, number])[] {
  const [ofA, ofB] = [new Map<number, Set<number>>(), new Map<number, Set<number>>()];
  for (const { a, b } of holders) {
    const [wantingA, wantingB] = [a.filter((at) => wants(ofA, at)), b.filter((at) => wants(ofB, at))];
    for (const atA of wantingA) {
      for (const atB of wantingB) {
        ofA.set(atA, (ofA.get(atA) ?? new Set()).add(atB));
        ofB.set(atB, (ofB.get(atB) ?? new Set()).add(atA));
      }
    }
  }
  return [...ofA].flatMap(([a, set]) => [...set].map((b) => [a, b] as const));
}

function wants(found: ReadonlyMap<number, ReadonlySet<number>>, at: number): boolean {
  return (found.get(at)?.size ?? 0) < ENOUGH_CANDIDATES;
}

/** The smallest hashes of the runs of filled cells of a row: rows that share most runs share most of these. */
function marksOf(words: readonly string[]): number[] {
  const hashes = words.flatMap((word, column) => (word === '' ? [] : [hashOf(`${column} ${word}`)]));
  const marks = new Set<number>();
  for (let from = 0; from + CELLS_IN_MARK <= hashes.length; from++) {
    let mark = 0;
    for (let index = from; index < from + CELLS_IN_MARK; index++) mark = mix(mark ^ hashes[index]!);
    marks.add(mark);
  }
  return [...marks].sort((x, y) => x - y).slice(0, MARKS_OF_ROW);
}

function hashOf(text: string): number {
  let hash = 0x811c9dc5;
  for (let index = 0; index < text.length; index++) hash = Math.imul(hash ^ text.charCodeAt(index), 0x01000193);
  return mix(hash);
}

/** Spreads the bits of a whole number of 32 bits. */
function mix(value: number): number {
  let mixed = Math.imul(value ^ (value >>> 16), 0x45d9f3b);
  mixed = Math.imul(mixed ^ (mixed >>> 16), 0x45d9f3b);
  return (mixed ^ (mixed >>> 16)) >>> 0;
}
