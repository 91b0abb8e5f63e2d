import type { RowComparer } from './compare-rows.js';

/** Positions of rows in the two keyings that may be one inspection. */
export interface RowGroup {
  readonly a: readonly number[];
  readonly b: readonly number[];
}

/** Up to this many pairs every row of a group is held against every other. */
const MOST_PAIRS = 1024;
/** How many neighbouring telling cells make one mark of a row, and how many marks of a row are looked at. */
const CELLS_IN_MARK = [2, 3, 4] as const;
const MARKS_OF_ROW = 24;
/** A mark that stands in more pairs than this tells no rows apart. */
const MOST_PAIRS_OF_MARK = 64;
/** A row that has this many candidates needs no more. */
const ENOUGH_CANDIDATES = 8;

/**
 * Pairs of a group that are worth a comparison: all of a small group; of a large one those that share a run of two to
 * four cells which few rows have. The work grows with the rows, not with their square; swapping the keyings or moving rows
 * changes nothing.
 */
export function candidatePairs(group: RowGroup, rows: RowComparer): (readonly [number, number])[] {
  if (group.a.length * group.b.length <= MOST_PAIRS) return group.a.flatMap((a) => group.b.map((b) => [a, b] as const));
  const isTelling = tellingCells(group, rows);
  const holders = new Map<number, { readonly a: number[]; readonly b: number[] }>();
  for (const side of ['a', 'b'] as const) {
    for (const at of group[side]) {
      for (const mark of marksOf(rows.wordsOf(side, at).map(cellHash).filter(isTelling))) {
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

/** Tells the cells that at most half of the rows of a group have. */
function tellingCells(group: RowGroup, rows: RowComparer): (hash: number | null) => hash is number {
  const counts = new Map<number, number>();
  for (const side of ['a', 'b'] as const) {
    for (const at of group[side]) {
      for (const hash of rows.wordsOf(side, at).map(cellHash)) if (hash !== null) counts.set(hash, (counts.get(hash) ?? 0) + 1);
    }
  }
  const most = (group.a.length + group.b.length) / 2;
  return (hash): hash is number => hash !== null && counts.get(hash)! <= most;
}

/** The smallest hashes of the runs of telling cells of a row: rows that share most runs share most of these. */
function marksOf(cells: readonly number[]): number[] {
  const marks = new Set<number>();
  for (const length of CELLS_IN_MARK) {
    for (let from = 0; from + length <= cells.length; from++) {
      let mark: number = length;
      for (let index = from; index < from + length; index++) mark = mix(mark ^ cells[index]!);
      marks.add(mark);
    }
  }
  return [...marks].sort((x, y) => x - y).slice(0, MARKS_OF_ROW);
}

/** A number for a word in its column; null for a blank cell. */
function cellHash(word: string, column: number): number | null {
  return word === '' ? null : hashOf(`${column} ${word}`);
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
