import { call } from '../expressions/call.js';
import { nameOf, type Tree } from '../expressions/tree.js';
import type { PressureUnit } from '../readings/pressure-units.js';
import { FACTS_USED } from './facts-used.js';
import type { LimitSet } from './limit-set.js';
import { LIMIT_UNITS } from './limit-units.js';

/** The unit in which pressures and losses of pressure are shown. All is computed in psi, and converted to be shown. */
export interface ShownIn {
  readonly shownPressure: PressureUnit;
  /** How many psi one of that unit is. */
  readonly psiPerShown: number;
}

/** Pressures as they are computed. */
export const IN_PSI: ShownIn = { shownPressure: 'psi', psiPerShown: 1 };

const PRESSURES: ReadonlySet<string> = new Set(['psi', 'psi/min', 'psi/s']);
const NUMERIC = ['at_most', 'less_than', 'at_least', 'more_than', 'between'] as const;

/** Whether a measure in that unit is a pressure, or a loss or gain of pressure over time. */
export const isPressure = (unit: string): boolean => PRESSURES.has(unit);

/**
 * The unit in which a limit set shows pressures: the one that it names as `shown_in`; else that of its first limit on a
 * pressure, or on a loss of one, that is a plain number; else that of its first check on one, with whatever limit; else psi.
 * A limit in MPa is shown in kPa, as gauges are.
 *
 * @example shownPressure(loadLimitSet('ca-ontario')) // 'kPa'
 */
export function shownPressure({ shown_in: named, checks }: LimitSet): PressureUnit {
  if (named !== undefined) return named;
  const onPressure = checks.filter(({ unit }) => isPressure(LIMIT_UNITS.get(unit)?.measureUnit ?? ''));
  const isPlain = (check: (typeof checks)[number]): boolean => NUMERIC.some((comparator) => [check[comparator]].flat().some((limit) => typeof limit === 'number' && limit !== 0));
  const first = onPressure.find(isPlain) ?? onPressure[0];
  if (first === undefined || first.unit.startsWith('psi')) return 'psi';
  return first.unit.startsWith('bar') ? 'bar' : 'kPa';
}

/** How many psi one of a unit is, by the facts on the sheet Limits; `numbers` may hold others in their place. */
export function shownIn(unit: PressureUnit, numbers: ReadonlyMap<string, number | null> = new Map()): ShownIn {
  if (unit === 'psi') return IN_PSI;
  const name = `psi_per_${unit}`;
  const { value } = FACTS_USED.find((one) => one.fact === name)!;
  return { shownPressure: unit, psiPerShown: numbers.has(`fact:${name}`) ? (numbers.get(`fact:${name}`) ?? Number.NaN) : value };
}

/**
 * The unit in which a measure is shown.
 *
 * @example unitShown('psi/min', 'kPa') // 'kPa/min'
 * @example unitShown('s', 'kPa') // 's'
 */
export function unitShown(unit: string, shown: PressureUnit): string {
  return isPressure(unit) ? shown + unit.slice('psi'.length) : unit;
}

/**
 * A value as it is shown.
 *
 * @param unit the unit that it is computed in
 * @returns null for a blank, and where the conversion gives no number
 * @example toShown(1, 'psi', shownIn('kPa')) // 6.894757293168361
 */
export function toShown(value: number | null, unit: string, { shownPressure: shown, psiPerShown }: ShownIn): number | null {
  if (value === null || shown === 'psi' || !isPressure(unit)) return value;
  const converted = value / psiPerShown;
  return Number.isFinite(converted) ? converted : null;
}

/** A value as it is shown, as a tree over the conversion on the sheet Limits. */
export function shownTree(value: Tree, unit: string, shown: PressureUnit): Tree {
  const divisor = shownDivisor(unit, shown);
  return divisor === null ? value : call('divide', value, nameOf(divisor, 'number'));
}

/** The name of the number on the sheet Limits that a value is divided by to be shown; null where it is shown as it is. */
export function shownDivisor(unit: string, shown: PressureUnit): string | null {
  return shown === 'psi' || !isPressure(unit) ? null : `fact:psi_per_${shown}`;
}
