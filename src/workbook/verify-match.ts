import type { Line } from './verify-line.js';

/** Lines that belong together, and those without a partner. */
export interface MatchedLines {
  readonly pairs: readonly (readonly [expected: Line, found: Line])[];
  readonly missing: readonly Line[];
  readonly added: readonly Line[];
}

/** Pairs lines by a key, so that sorted and shifted lines find their partners; lines of one key in their order. */
export function matchLines(expected: readonly Line[], found: readonly Line[], keyOf: (line: Line) => string): MatchedLines {
  const free = new Map<string, Line[]>();
  for (const line of found) {
    const key = keyOf(line);
    free.set(key, [...(free.get(key) ?? []), line]);
  }
  const pairs: (readonly [Line, Line])[] = [];
  const missing: Line[] = [];
  for (const line of expected) {
    const partner = free.get(keyOf(line))?.shift();
    if (partner) pairs.push([line, partner]);
    else missing.push(line);
  }
  const added = [...free.values()].flat().sort((a, b) => a.number - b.number);
  return { pairs, missing, added };
}

/** Pairs what is left where it stands at the same place between lines that have partners: there a line was changed, not replaced. */
export function pairInOrder({ pairs, missing, added }: MatchedLines): MatchedLines {
  const before = (number: number, side: 0 | 1): number => pairs.reduce((last, pair) => (pair[side].number < number ? Math.max(last, pair[side].number) : last), 0);
  const partnerRow = new Map<number, number>([[0, 0], ...pairs.map(([expected, found]) => [expected.number, found.number] as const)]);
  const more: (readonly [Line, Line])[] = [];
  const stillMissing: Line[] = [];
  const left = new Set(added);
  for (const line of missing) {
    const after = partnerRow.get(before(line.number, 0))!;
    const partner = [...left].find((candidate) => before(candidate.number, 1) === after);
    if (partner) {
      left.delete(partner);
      more.push([line, partner]);
    } else {
      stillMissing.push(line);
    }
  }
  return { pairs: [...pairs, ...more].sort(([a], [b]) => a.number - b.number), missing: stillMissing, added: [...left] };
}
