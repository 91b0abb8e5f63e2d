import { call } from '../expressions/call.js';
import { hoistNumber } from '../expressions/hoist-number.js';
import { constant, nameOf, type Tree } from '../expressions/tree.js';
import type { PressureUnit } from '../readings/pressure-units.js';
import { nearestName } from '../util/nearest-name.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import type { MeasurePlan, RecheckPlan } from './compile-measures.js';
import { LIMIT_UNITS } from './limit-units.js';
import { COMPARATORS, type Check, type Comparator, type Condition, type LimitSet, type Source } from './limit-set.js';
import type { NameScope } from './name-scope.js';
import { sayTemplate } from './say-template.js';

/** A number of a limit set that stands in a cell of the sheet Limits, so that a changed cell changes the verdicts. */
export interface LimitCell {
  /** Its name among the names of the row program, such as `limit:released_loss:1`. */
  readonly name: string;
  readonly value: number;
}

/** One of the alternatives of a check. */
export interface AlternativePlan {
  readonly check: Check;
  /** When it applies; null when it always does. */
  readonly when: Tree | null;
  /** The limits in the unit of the measure: one, or two for `between`, none for `must_be` and `no_number`. */
  readonly limits: readonly Tree[];
  /** The cells of those limits in the unit as printed; null where a limit is an expression without a single number. */
  readonly cells: readonly (LimitCell | null)[];
}

/** A check, compiled to trees. */
export interface CheckPlan {
  readonly check: string;
  readonly title: string;
  readonly comparator: Comparator;
  readonly optional: boolean;
  /** The name of the routes of which one is enough; null for a check that stands alone. */
  readonly eitherOf: string | null;
  /** The names of the other routes. */
  readonly otherRoutes: readonly string[];
  readonly measure: MeasurePlan;
  readonly alternatives: readonly AlternativePlan[];
  readonly rechecks: readonly RecheckPlan[];
}

/** A condition of an authority, with the cell of its number. */
export interface ConditionPlan {
  readonly condition: Condition;
  readonly recheck: RecheckPlan;
  readonly cell: LimitCell | null;
}

/** Lists of the workbook are by title, so that each check needs one of its own. */
function refuseSharedTitles({ checks }: LimitSet): void {
  const named = new Map<string, string>();
  for (const { check, title } of checks) {
    const other = named.get(title.toLowerCase());
    if (other !== undefined && other !== check) throw invalid(`check ${check}`, `its title ${JSON.stringify(title)} is that of the check ${other}`, 'give each check a title of its own');
    named.set(title.toLowerCase(), check);
  }
}

/** Compiles the conditions of a limit set. */
export function compileConditions(set: LimitSet, scope: NameScope, shown: PressureUnit): ConditionPlan[] {
  const counts = new Map<string, number>();
  return set.conditions.map((condition) => {
    const [first] = condition.checks as [string];
    const ordinal = (counts.get(first) ?? 0) + 1;
    counts.set(first, ordinal);
    const where = `condition ${ordinal} of ${first}`;
    for (const name of condition.checks) {
      if (set.checks.some((check) => check.check === name)) continue;
      const near = nearestName(name, set.checks.map((check) => check.check));
      throw new TreadlebookError({ code: 'limit_set_invalid', where, what: `no check is named ${name}`, mend: near ? `did you mean ${near}?` : 'name a check of this set' });
    }
    const when = scope.parse(condition.recheck_when, `${where}, recheck_when`, 'truth');
    const name = `condition:${first}:${ordinal}`;
    const hoisted = hoistNumber(when, name);
    return {
      condition,
      recheck: { when: hoisted?.tree ?? when, say: sayTemplate(condition.say, scope, `${where}, say`, { shown }) },
      cell: hoisted && { name, value: hoisted.value },
    };
  });
}

/**
 * Compiles the checks of a limit set, gathered by name.
 *
 * @throws TreadlebookError `limit_set_invalid`
 */
export function compileChecks(set: LimitSet, scope: NameScope, measures: readonly MeasurePlan[], conditions: readonly ConditionPlan[]): CheckPlan[] {
  const groups = new Map<string, Check[]>();
  for (const check of set.checks) groups.set(check.check, [...(groups.get(check.check) ?? []), check]);
  refuseSharedTitles(set);
  return [...groups].map(([name, checks]) => {
    const [first] = checks as [Check];
    const comparator = comparatorOf(first);
    const measure = measureOf(first, measures);
    for (const check of checks) {
      if (comparatorOf(check) !== comparator || check.measure !== first.measure || check.optional !== first.optional || check.title !== first.title || check.either_of !== first.either_of || check.without_ends !== first.without_ends || check.no_number !== first.no_number) {
        throw invalid(`check ${name}`, 'its alternatives differ in measure, comparator, title, optional, either_of or without_ends', 'give the one that differs a name of its own');
      }
    }
    for (const check of checks.slice(0, -1)) {
      if (check.when === undefined) throw invalid(`check ${name}`, 'an alternative without `when` hides those below it', 'put it last, or give it a `when`');
    }
    const wantsTruth = comparator === 'must_be';
    if (comparator !== 'no_number' && (measure.type === 'truth') !== wantsTruth) throw invalid(`check ${name}`, `the measure ${first.measure} is ${measure.type === 'truth' ? 'a yes/no' : 'a number'}`, wantsTruth ? 'must_be is for yes/no measures' : 'use must_be for a yes/no measure');
    if (measure.type === 'text') throw invalid(`check ${name}`, `the measure ${first.measure} is a text`, 'compare it in the measure, to get a yes/no');
    const ownConditions = conditions.filter(({ condition }) => condition.checks.includes(name)).map(({ recheck }) => recheck);
    return {
      check: name,
      title: first.title,
      comparator,
      optional: first.optional || comparator === 'no_number',
      eitherOf: first.either_of ?? null,
      otherRoutes: otherRoutes(first, set),
      measure,
      alternatives: checks.map((check, index) => alternative(check, comparator, measure, scope, index + 1)),
      rechecks: [...measure.rechecks, ...ownConditions],
    };
  });
}

function otherRoutes({ check, either_of: route }: Check, set: LimitSet): readonly string[] {
  if (route === undefined) return [];
  const others = new Set(set.checks.filter((other) => other.either_of === route && other.check !== check).map((other) => other.check));
  if (others.size === 0) throw invalid(`check ${check}, either_of`, `no other check is a route of ${route}`, 'give another check the same either_of, or leave it out');
  return [...others];
}

/** The comparator that a check has. */
export function comparatorOf(check: Check): Comparator {
  return COMPARATORS.find((name) => check[name] !== undefined)!;
}

/** The limits of a check as they stand in its file. */
export function printedLimits(check: Check): readonly (number | string)[] {
  const comparator = comparatorOf(check);
  if (comparator === 'between') return check.between!;
  if (comparator === 'no_number' || comparator === 'must_be') return [];
  return [check[comparator]!];
}

/** The source of the alternative that applied. */
export function sourceOf(alternative: AlternativePlan): Source {
  return alternative.check.source;
}

function measureOf(check: Check, measures: readonly MeasurePlan[]): MeasurePlan {
  const plan = measures.find(({ measure }) => measure.measure === check.measure);
  if (plan) return plan;
  const near = nearestName(check.measure, measures.map(({ measure }) => measure.measure));
  throw invalid(`check ${check.check}`, `no measure is named ${check.measure}`, near ? `did you mean ${near}?` : 'define it under measures');
}

function alternative(check: Check, comparator: Comparator, measure: MeasurePlan, scope: NameScope, ordinal: number): AlternativePlan {
  const where = `check ${check.check}`;
  const factor = unitFactor(check, measure, where);
  const printed = printedLimits(check);
  const [low, high] = printed;
  if (typeof low === 'number' && typeof high === 'number' && low > high) throw invalid(`${where}, between`, `the lower end ${low} is above the upper end ${high}`, 'put the lower end first');
  const ends = printed.length === 2 ? ['_low', '_high'] : [''];
  const limits: Tree[] = [];
  const cells: (LimitCell | null)[] = [];
  for (const [index, limit] of printed.entries()) {
    const name = `limit:${check.check}:${ordinal}${ends[index]}`;
    const tree = typeof limit === 'number' ? constant(limit) : scope.parse(limit, `${where}, ${comparator}`, 'number');
    const hoisted = hoistNumber(tree, name);
    cells.push(hoisted && { name, value: hoisted.value });
    const used = hoisted?.tree ?? tree;
    limits.push(factor === null ? used : call('multiply', used, factor));
  }
  return { check, when: check.when === undefined ? null : scope.parse(check.when, `${where}, when`, 'truth'), limits, cells };
}

function unitFactor(check: Check, measure: MeasurePlan, where: string): Tree | null {
  const unit = LIMIT_UNITS.get(check.unit);
  if (!unit || unit.measureUnit !== measure.measure.unit) {
    const fitting = [...LIMIT_UNITS].filter(([, { measureUnit }]) => measureUnit === measure.measure.unit).map(([name]) => name || 'an empty text');
    throw invalid(where, `the unit ${JSON.stringify(check.unit)} does not fit the measure ${check.measure}`, `use ${fitting.join(' or ')}`);
  }
  const { factor, times = 1, minutes = 1 } = unit;
  const one = typeof factor === 'number' ? constant(factor) : nameOf(`fact:${factor}`, 'number');
  const scaled = times === 1 ? one : call('multiply', one, constant(times));
  if (minutes !== 1) return call('divide', scaled, constant(minutes));
  return factor === 1 ? null : scaled;
}

function invalid(where: string, what: string, mend: string): TreadlebookError {
  return new TreadlebookError({ code: 'limit_set_invalid', where, what, mend });
}
