import { call } from '../expressions/call.js';
import { constant, type Tree } from '../expressions/tree.js';
import { fieldDictionary } from '../readings/dictionary.js';
import { anyOf, falseIfBlank, measureOf, part } from './check-names.js';
import type { CheckPlan } from './compile-checks.js';
import { likelyPlaces, type LikelyPlace } from './likely-places.js';
import { NameScope } from './name-scope.js';
import { compileMeasures } from './compile-measures.js';
import { sharedMeasures } from './shared-measures.js';

/** A rule of where to look first, and when it holds. */
export interface LikelyPlacePlan {
  readonly place: LikelyPlace;
  /** Its `when`, compiled; null where it has none. */
  readonly when: Tree | null;
  readonly holds: Tree;
}

/** The rules that can hold with these checks, in their order; those that name a measure without a check are left out. */
export function likelyPlacePlans(checks: readonly CheckPlan[]): LikelyPlacePlan[] {
  // A scope of their own: a column that a limit set adds under a measure's name must not change what a rule means.
  const scope = standardScope();
  return likelyPlaces().flatMap((place) => {
    const when = place.when === undefined ? null : scope.parse(place.when, `likely place ${place.id}, when`, 'truth');
    const holds = holdsTree(place, when, checks);
    return holds === null ? [] : [{ place, when, holds }];
  });
}

function standardScope(): NameScope {
  const dictionary = fieldDictionary();
  const scope = new NameScope(dictionary);
  compileMeasures(sharedMeasures(), { dictionary, scope, halfWidths: new Set() });
  return scope;
}

function holdsTree({ failed, failed_side: side, passed }: LikelyPlace, when: Tree | null, checks: readonly CheckPlan[]): Tree | null {
  const decidable = checks.filter(({ comparator }) => comparator !== 'no_number');
  const checksOf = (measure: string): CheckPlan[] => decidable.filter((check) => check.measure.measure.measure === measure);
  const tests: Tree[] = [];
  for (const measure of failed) {
    const fails = checksOf(measure).filter(canFail).flatMap((check) => failsTree(check, side) ?? []);
    if (fails.length === 0) return null;
    tests.push(anyOf(fails));
  }
  for (const measure of passed) {
    const own = checksOf(measure);
    if (own.length === 0) return null;
    tests.push(anyOf(own.map((check) => reads(check, 'pass'))));
    if (own.length > 1) tests.push(call('not', anyOf(own.flatMap((check) => [reads(check, 'fail'), reads(check, 'recheck')]))));
  }
  if (when !== null) tests.push(falseIfBlank(when));
  return tests.length === 1 ? tests[0]! : call('and', ...tests);
}

/** Outside an advisory limit nothing fails. */
const canFail = ({ alternatives }: CheckPlan): boolean => alternatives.some(({ check }) => check.severity !== 'advisory');

const reads = (check: CheckPlan, verdict: string): Tree => call('reads', part(check, 'verdict'), constant(verdict));

/** Yes when the check fails on that side of its limit; null when it cannot. */
function failsTree(check: CheckPlan, side: 'above' | 'below' | undefined): Tree | null {
  const fails = reads(check, 'fail');
  if (side === undefined) return fails;
  switch (check.comparator) {
    case 'at_most':
    case 'less_than':
      return side === 'above' ? fails : null;
    case 'at_least':
    case 'more_than':
      return side === 'below' ? fails : null;
    case 'between': {
      const beyond = side === 'above' ? call('greater', measureOf(check), part(check, 'limit_high')) : call('less', measureOf(check), part(check, 'limit'));
      return call('and', fails, falseIfBlank(beyond));
    }
    default:
      return null;
  }
}
