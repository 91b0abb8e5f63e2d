import { canonicalJson } from '../util/canonical-json.js';
import { sha256 } from '../util/sha256.js';
import type { CheckPlan } from './compile-checks.js';
import type { LimitSet } from './limit-set.js';

/** One of the limit sets of a plan. */
export interface SetPart {
  readonly set: LimitSet;
  readonly sha256: string;
  /** A short name for use inside a sentence, such as `Nevada`. */
  readonly label: string;
  /** Name of its verdict among the names of the row program; the `id` of that computed column where there are several sets. */
  readonly column: string;
  readonly checks: readonly CheckPlan[];
}

/** The limit sets that a set was put together from, or itself alone, with the checks of each. */
export function setParts(set: LimitSet, checks: readonly CheckPlan[]): SetPart[] {
  const sets = set.together ?? [set];
  const labels = setLabels(sets);
  return sets.map((one, index) => {
    const names = new Set(one.checks.map(({ check }) => nameInSet(one, index, check)));
    return { set: one, sha256: sha256(canonicalJson(one)), label: labels[index]!, column: `set:${one.id}:verdict`, checks: checks.filter(({ check }) => names.has(check)) };
  });
}

/** The name of a check of one of several sets: that of the first keeps its own. */
export function nameInSet({ id }: Pick<LimitSet, 'id'>, index: number, name: string): string {
  return index === 0 ? name : `${id.replaceAll('-', '_')}_${name}`;
}

/** Short names of sets: their titles up to the first comma, or whole where that would not tell them apart. */
export function setLabels(sets: readonly Pick<LimitSet, 'title' | 'id'>[]): string[] {
  const short = ({ title }: Pick<LimitSet, 'title'>): string => title.split(',')[0]!;
  const alone = (text: (set: Pick<LimitSet, 'title' | 'id'>) => string, set: Pick<LimitSet, 'title' | 'id'>): boolean => sets.filter((other) => text(other) === text(set)).length === 1;
  return sets.map((set) => (alone(short, set) ? short(set) : alone(({ title }) => title, set) ? set.title : set.id));
}
