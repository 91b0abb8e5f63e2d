import type { Reason } from '../../fleet/fleet-figures.js';
import { circuitsOfCheck } from '../../limits/circuits-of-check.js';
import type { CheckPlan } from '../../limits/compile-checks.js';
import type { LimitPlan } from '../../limits/compile-limit-set.js';
import { columnRangeName } from '../defined-names.js';

/** A reason for a failure, and the live formula that counts it. */
export interface CountedReason {
  readonly name: string;
  readonly formula: string;
}

/** Of more circuits than these not every combination is listed, but only each alone and all together. */
const MOST_COMBINED = 5;

/**
 * Every reason for which an inspection can fail by the checks of a plan, by name, in the words of `failureReason`, with
 * the formula that counts it over Readings.
 */
export function countedReasons(plan: LimitPlan): CountedReason[] {
  const decided = plan.checks.filter(({ comparator }) => comparator !== 'no_number');
  const reasons = new Map<string, CountedReason>();
  for (const { name, formula } of decided.flatMap((check) => reasonsOf(plan, check))) {
    // Checks of one title count as one reason.
    const key = name.toLowerCase();
    const known = reasons.get(key);
    reasons.set(key, known ? { name: known.name, formula: `${known.formula}+${formula}` } : { name, formula });
  }
  return [...reasons.values()].sort((a, b) => (a.name < b.name ? -1 : 1));
}

function reasonsOf(plan: LimitPlan, check: CheckPlan): CountedReason[] {
  const verdict = columnRangeName(`computed.${check.check}_check_verdict`);
  const circuits = [...new Set(circuitsOfCheck(check).map(({ circuit }) => circuit))];
  if (circuits.length === 0) return [{ name: check.title, formula: `COUNTIF(${verdict},"fail")` }];
  const range = (circuit: string): string => columnRangeName(plan.columns.find(({ id }) => id === `check:${check.check}:circuit:${circuit}`)!.name);
  const counted = (failed: readonly string[]): string =>
    `SUMPRODUCT((${verdict}="fail")*${circuits.map((circuit) => `(${range(circuit)}${failed.includes(circuit) ? '=' : '<>'}"fail")`).join('*')})`;
  return combinations(circuits).map((failed) => ({ name: nameOf(check.title, failed, circuits.length), formula: counted(failed) }));
}

function combinations(circuits: readonly string[]): (readonly string[])[] {
  if (circuits.length > MOST_COMBINED) return [[], ...circuits.map((circuit) => [circuit]), circuits];
  return circuits.reduce<readonly (readonly string[])[]>((sets, circuit) => [...sets, ...sets.map((set) => [...set, circuit])], [[]]) as (readonly string[])[];
}

function nameOf(title: string, failed: readonly string[], all: number): string {
  const words = failed.map((circuit) => circuit.replaceAll('_', ' '));
  if (words.length === 0) return title;
  if (words.length === 1) return `${title}: ${words[0]} circuit`;
  if (words.length === all) return `${title}: ${all === 2 ? 'both' : 'all'} circuits`;
  return `${title}: ${words.slice(0, -1).join(', ')} and ${words.at(-1)} circuits`;
}

/** The formula that counts the failed inspections at which the place of a cell was heard leaking. */
export function placeFormula(cell: string): string {
  return `IF(${cell}="",0,SUMPRODUCT((readings_leak_place=${cell})*(computed_verdict="fail")))`;
}

/** How often a name is among the reasons, in whatever case; 0 where it is not. */
export function failedOf(reasons: readonly Reason[], name: string): number {
  return reasons.find(({ reason }) => reason.toLowerCase() === name.toLowerCase())?.failed ?? 0;
}
