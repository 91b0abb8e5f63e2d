import { namesIn } from '../expressions/tree.js';
import { HALF_WIDTH } from '../readings/field.js';
import { checkName, PSI_FACTOR } from './check-names.js';
import type { CheckPlan } from './compile-checks.js';
import type { LimitPlan } from './compile-limit-set.js';
import { enteredName } from './say-template.js';
import { secondsName } from './working-columns.js';

/**
 * The readings that a check rests on: those from which its verdict and its chance within limit are computed, with all that they
 * are computed from. Half-widths are left out: they are a way of writing a reading.
 *
 * @returns names of fields, in the order of the readings table
 * @example checkReadings(plan, plan.checks[0]) // ['vehicles', 'pressure_unit', 'gauge_step', 'readable_to', 'released_primary_start', ...]
 */
export function checkReadings(plan: LimitPlan, check: CheckPlan): readonly string[] {
  const trees = new Map(plan.columns.map(({ id, tree }) => [id, tree]));
  const readings = new Map<string, string>([[PSI_FACTOR, 'pressure_unit']]);
  for (const { name } of plan.dictionary.fields) for (const alias of [name, enteredName(name), secondsName(name)]) readings.set(alias, name);
  const found = new Set<string>();
  const seen = new Set<string>();
  const walk = (name: string): void => {
    if (seen.has(name)) return;
    seen.add(name);
    const reading = readings.get(name);
    if (reading !== undefined) found.add(reading);
    const tree = trees.get(name);
    if (tree) for (const mentioned of namesIn(tree)) walk(mentioned);
  };
  for (const part of ['verdict', 'chance'] as const) walk(checkName(check.check, part));
  return plan.dictionary.fields.map(({ name }) => name).filter((name) => found.has(name) && !name.endsWith(HALF_WIDTH));
}
