import { fieldDictionary } from '../readings/dictionary.js';
import { canonicalJson } from '../util/canonical-json.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import type { LimitSet } from './limit-set.js';
import { nameInSet, setLabels } from './set-parts.js';
import { sharedMeasures } from './shared-measures.js';

/**
 * Several limit sets as one, for a fleet that crosses borders. The first is the main one: its checks keep their names, those
 * of the others get the name of their set before them (`us_nevada_released_loss`); every title names its set. Columns and
 * measures that are the same are taken once.
 *
 * @throws TreadlebookError `limit_set_invalid` for a set that is named twice, and for a column or measure that the sets define differently
 * @example combineLimitSets([loadLimitSet('us-nevada'), loadLimitSet('us-new-hampshire')]).id // 'us-nevada,us-new-hampshire'
 */
export function combineLimitSets(sets: readonly LimitSet[]): LimitSet {
  const [main, ...others] = sets as [LimitSet, ...LimitSet[]];
  if (others.length === 0) return main;
  const twice = sets.find(({ id }, index) => sets.findIndex((other) => other.id === id) !== index);
  if (twice) throw new TreadlebookError({ code: 'limit_set_invalid', where: twice.id, what: 'the set is named twice', mend: 'name each set once' });
  const labels = setLabels(sets);
  const renamed = sets.map((set, index) => ({ ...set, ...withNames(set, index, labels[index]!) }));
  const interval = sets.find((set) => set.interval !== undefined)?.interval;
  return {
    ...main,
    id: sets.map(({ id }) => id).join(','),
    title: sets.map(({ title }) => title).join('; '),
    authority: sets.map(({ authority }) => authority).join('; '),
    notice: [...new Set(sets.flatMap(({ notice }) => notice.split(/(?<=\.) (?=[A-Z])/)))].join(' '),
    columns: merged(sets, 'column', ({ columns }) => columns.map((column) => [column.name, column]), fieldDictionary().fields.map((field) => [field.name, field])),
    measures: merged(sets, 'measure', ({ measures }) => measures.map((measure) => [measure.measure, measure]), sharedMeasures().map((measure) => [measure.measure, measure])),
    checks: renamed.flatMap(({ checks }) => checks),
    conditions: renamed.flatMap(({ conditions }) => conditions),
    ...(interval ? { interval } : {}),
    together: sets,
  };
}

function withNames(set: LimitSet, index: number, label: string): Pick<LimitSet, 'checks' | 'conditions'> {
  const named = (name: string): string => nameInSet(set, index, name);
  return {
    checks: set.checks.map((check) => ({ ...check, check: named(check.check), title: `${check.title} (${label})`, ...(check.either_of === undefined ? {} : { either_of: named(check.either_of) }) })),
    conditions: set.conditions.map((condition) => ({ ...condition, checks: condition.checks.map(named) })),
  };
}

/** What the sets add, each name once; what one of them defines must mean the same to all. */
function merged<T>(sets: readonly LimitSet[], what: 'column' | 'measure', ofSet: (set: LimitSet) => readonly (readonly [string, T])[], shared: readonly (readonly [string, T])[]): T[] {
  const known = new Map(shared);
  const added = new Map<string, { readonly item: T; readonly id: string }>();
  for (const set of sets) {
    for (const [name, item] of ofSet(set)) {
      const first = added.get(name);
      if (first && canonicalJson(first.item) !== canonicalJson(item)) throw clash(what, name, first.id, set.id);
      if (!first) added.set(name, { item, id: set.id });
    }
  }
  for (const [name, { item, id }] of added) {
    const other = known.has(name) && canonicalJson(known.get(name)) !== canonicalJson(item) ? sets.find((set) => !ofSet(set).some(([own]) => own === name)) : undefined;
    if (other) throw clash(what, name, id, other.id);
  }
  return [...added.values()].map(({ item }) => item);
}

function clash(what: string, name: string, one: string, other: string): TreadlebookError {
  return new TreadlebookError({ code: 'limit_set_invalid', where: `${one} and ${other}, ${what} ${name}`, what: `the sets do not mean the same by this ${what}`, mend: `give the ${what} of one of them another name` });
}
