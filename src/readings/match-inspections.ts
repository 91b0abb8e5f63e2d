import type { RowComparer } from './compare-rows.js';
import type { Dictionary } from './dictionary.js';
import { fieldPosition } from './dictionary.js';
import type { Inspection } from './inspection.js';
import { candidatePairs, type RowGroup } from './match-candidates.js';
import { compareCodeUnits, matchGreedily } from './match-greedily.js';
import { unitKey } from './unit-key.js';

/** What two rows were matched by. */
export const MATCHED_BY = ['inspection_id', 'unit and date', 'unit or date'] as const;
export type MatchedBy = (typeof MATCHED_BY)[number];

/** Two rows, by their positions in the two keyings, that are one inspection. */
export interface InspectionMatch {
  readonly a: number;
  readonly b: number;
  readonly by: MatchedBy;
}

/** Share of the filled cells that must agree before a slip in the unit or the date is believed. */
const LEAST_SHARE = 0.5;

/**
 * Finds which rows of two keyings are one inspection: by an `inspection_id` that stands once on either side, where the unit
 * or the date agrees too (keyers who number the rows themselves give one number to different papers); then by unit and date; then, where at least half of the filled cells agree, by unit alone or date alone. Among several rows the most
 * equal cells decide. The order of the rows decides nothing, and the work grows with the rows, not with their square.
 *
 * @returns the matches in the order of the first keying
 */
export function matchInspections(rows: RowComparer, dictionary: Dictionary): InspectionMatch[] {
  const matches: InspectionMatch[] = [];
  let left: RowGroup = { a: [...rows.a.inspections.keys()], b: [...rows.b.inspections.keys()] };
  const take = (pairs: readonly (readonly [number, number])[], by: MatchedBy): void => {
    const [takenA, takenB] = [new Set(pairs.map(([a]) => a)), new Set(pairs.map(([, b]) => b))];
    for (const [a, b] of pairs) matches.push({ a, b, by });
    left = { a: left.a.filter((at) => !takenA.has(at)), b: left.b.filter((at) => !takenB.has(at)) };
  };
  const keys = keysOf(dictionary);
  const sameUnitOrDate = (a: number, b: number): boolean => [keys.unit, keys.date].some((keyOf) => keyOf(rows.a.inspections[a]!) === keyOf(rows.b.inspections[b]!));
  take(groupsOf(left, rows, keys.id).flatMap(({ a, b }) => (a.length === 1 && b.length === 1 && sameUnitOrDate(a[0]!, b[0]!) ? [[a[0]!, b[0]!] as const] : [])), 'inspection_id');
  take(groupsOf(left, rows, keys.unitAndDate).flatMap((group) => matchWithin(group, rows)), 'unit and date');
  take(matchAcross([...groupsOf(left, rows, keys.unit), ...groupsOf(left, rows, keys.date)], rows), 'unit or date');
  return matches.sort((x, y) => x.a - y.a);
}

type KeyOf = (inspection: Inspection) => string | null;

function keysOf(dictionary: Dictionary): Record<'id' | 'unit' | 'date' | 'unitAndDate', KeyOf> {
  const textOf = (name: string): KeyOf => {
    const position = fieldPosition(dictionary, name);
    return (inspection) => {
      const text = String(inspection.values[position] ?? inspection.asFound.get(name) ?? '').trim();
      return text === '' ? null : text;
    };
  };
  const [id, unitText, date] = [textOf('inspection_id'), textOf('unit'), textOf('inspected_on')];
  const unit: KeyOf = (inspection) => {
    const text = unitText(inspection);
    return text === null ? null : unitKey(text) || text;
  };
  return { id, unit, date, unitAndDate: (inspection) => (unit(inspection) === null || date(inspection) === null ? null : `${unit(inspection)} ${date(inspection)}`) };
}

/** The rows of each key that stands on both sides. */
function groupsOf(left: RowGroup, rows: RowComparer, keyOf: KeyOf): RowGroup[] {
  const groups = new Map<string, { readonly a: number[]; readonly b: number[] }>();
  for (const side of ['a', 'b'] as const) {
    for (const at of left[side]) {
      const key = keyOf(rows[side].inspections[at]!);
      if (key === null) continue;
      let group = groups.get(key);
      if (!group) groups.set(key, (group = { a: [], b: [] }));
      group[side].push(at);
    }
  }
  return [...groups.values()].filter(({ a, b }) => a.length > 0 && b.length > 0);
}

/** Pairs as many rows of one unit and date as there are: alike ones first, then by the most equal cells. */
function matchWithin(group: RowGroup, rows: RowComparer): (readonly [number, number])[] {
  if (group.a.length === 1 && group.b.length === 1) return [[group.a[0]!, group.b[0]!]];
  const alike = matchAlike(group, rows);
  const rest = without(group, alike);
  const best = matchGreedily(candidatePairs(rest, rows), rows, 0);
  const last = without(rest, best);
  const [a, b] = (['a', 'b'] as const).map((side) => inOrder(last[side], side, rows));
  return [...alike, ...best, ...a!.slice(0, b!.length).map((at, index) => [at, b![index]!] as const)];
}

/** Pairs rows of which only the unit or only the date is one. */
function matchAcross(groups: readonly RowGroup[], rows: RowComparer): (readonly [number, number])[] {
  const pairs = new Map<number, readonly [number, number]>();
  const count = rows.b.inspections.length;
  for (const group of groups) for (const pair of candidatePairs(group, rows)) pairs.set(pair[0] * count + pair[1], pair);
  return matchGreedily([...pairs.values()], rows, LEAST_SHARE);
}

/** Pairs rows that say the same, however many there are. */
function matchAlike(group: RowGroup, rows: RowComparer): (readonly [number, number])[] {
  const waiting = new Map<string, number[]>();
  for (const at of [...group.b].reverse()) {
    const content = rows.contentOf('b', at);
    const alike = waiting.get(content);
    if (alike) alike.push(at);
    else waiting.set(content, [at]);
  }
  return group.a.flatMap((at) => {
    const other = waiting.get(rows.contentOf('a', at))?.pop();
    return other === undefined ? [] : [[at, other] as const];
  });
}

function without(group: RowGroup, pairs: readonly (readonly [number, number])[]): RowGroup {
  const [a, b] = [new Set(pairs.map(([at]) => at)), new Set(pairs.map(([, at]) => at))];
  return { a: group.a.filter((at) => !a.has(at)), b: group.b.filter((at) => !b.has(at)) };
}

function inOrder(ats: readonly number[], side: 'a' | 'b', rows: RowComparer): number[] {
  const contents = new Map(ats.map((at) => [at, rows.contentOf(side, at)]));
  return [...ats].sort((x, y) => compareCodeUnits(contents.get(x)!, contents.get(y)!) || x - y);
}
