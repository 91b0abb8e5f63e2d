import { call } from '../expressions/call.js';
import { NO_NEEDS } from '../expressions/formula-part.js';
import { toFormulaPart } from '../expressions/to-formula.js';
import { toFunction } from '../expressions/to-function.js';
import { constant, namesIn, nameOf, type Tree } from '../expressions/tree.js';
import { fact } from '../limits/check-names.js';
import { FACTS_USED } from '../limits/facts-used.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import type { PressureUnit } from '../readings/pressure-units.js';
import { cellName } from './defined-names.js';
import type { GaugeUsed } from './gauges-used.js';
import type { LeakLimit } from './leak-limits.js';

/** Holds of the table on the sheet Start here, in minutes. */
export const SHEET_HOLDS = [1, 2, 5] as const;

/** A formula and the value that it gives. */
export interface FormulaValue {
  readonly formula: string;
  readonly result: number | string;
}

/** One line of the table: the gauge's readability, the limit, after how many seconds an unmoved needle passes, and for each hold the sure pass and fail. */
export interface HoldFormulas {
  readonly readable: FormulaValue;
  readonly limit: FormulaValue;
  readonly unmoved: FormulaValue;
  readonly holds: readonly { readonly pass: FormulaValue; readonly fail: FormulaValue }[];
}

/** Decimals of pressures in each unit. */
export const HOLD_DECIMALS: Readonly<Record<PressureUnit, number>> = { psi: 1, kPa: 1, bar: 2 };

const READABLE_CELL = 'cell:readable';
const LIMIT_CELL = 'cell:limit';

/**
 * The formulas of one line, over the cells of the sheet Limits and two of its own, in the unit of the gauge. They are those of
 * `holdToDecide` and `sureLosses`; a sure pass is rounded down and a sure fail up.
 *
 * @param cells the addresses of the readability and the limit of the line
 */
export function holdFormulas(plan: LimitPlan, gauge: GaugeUsed, leak: LeakLimit, cells: { readonly readable: string; readonly limit: string }): HoldFormulas {
  const values = new Map<string, number>([...FACTS_USED.map(({ fact: name, value }) => [`fact:${name}`, value] as const), ...plan.cells.map(({ name, value }) => [name, value] as const)]);
  const text = (tree: Tree): string => toFormulaPart(tree, (name) => ({ text: name === READABLE_CELL ? cells.readable : name === LIMIT_CELL ? cells.limit : cellName(name), needs: NO_NEEDS, mayFail: false })).text;
  const value = (tree: Tree): number | boolean => {
    const names = [...namesIn(tree)];
    return toFunction(tree, (name) => names.indexOf(name))(names.map((name) => values.get(name)!)) as number | boolean;
  };
  const both = (tree: Tree): FormulaValue => ({ formula: text(tree), result: value(tree) as number });
  const readable = both(readableTree(gauge));
  values.set(READABLE_CELL, readable.result as number);
  const limit = both(gauge.unit === 'psi' ? leak.tree : call('divide', leak.tree, fact(`psi_per_${gauge.unit}`)));
  values.set(LIMIT_CELL, limit.result as number);

  const [readableCell, limitCell] = [nameOf(READABLE_CELL, 'number'), nameOf(LIMIT_CELL, 'number')];
  const margin = call('divide', call('multiply', fact('sure_z'), readableCell), call('sqrt', constant(6)));
  const decimals = constant(HOLD_DECIMALS[gauge.unit]);
  const unmoved = call('round_up_to', call('divide', call('multiply', constant(60), margin), limitCell), constant(1));
  const holds = SHEET_HOLDS.map((minutes) => {
    const atLimit = call('multiply', constant(minutes), limitCell);
    const [none, pass] = [call('less', atLimit, margin), call('round_down', call('subtract', atLimit, margin), decimals)];
    const fail = call('negate', call('round_down', call('negate', call('add', atLimit, margin)), decimals));
    return { pass: { formula: `IF(${text(none)},"none",${text(pass)})`, result: value(none) === true ? 'none' : (value(pass) as number) }, fail: both(fail) };
  });
  return { readable, limit, unmoved: both(unmoved), holds };
}

/** As in the working columns of Readings: as given; else the step of a digital gauge, or the needle's part of a dial's. */
function readableTree({ unit, step, readableTo }: GaugeUsed): Tree {
  if (readableTo !== null) return constant(readableTo);
  const inPsi = unit === 'psi' ? constant(step!) : call('multiply', constant(step!), fact(`psi_per_${unit}`));
  return call('choose', call('less_or_equal', inPsi, fact('digital_step')), constant(step!), call('multiply', fact('needle_share'), constant(step!)));
}
