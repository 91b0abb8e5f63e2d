import fc from 'fast-check';
import { call } from '../../src/expressions/call.js';
import type { OperatorName } from '../../src/expressions/operators.js';
import { OPERATORS } from '../../src/expressions/operators.js';
import { constant, nameOf, type Tree, type ValueType } from '../../src/expressions/tree.js';
import { COLUMNS, NAMES, type CellContent } from './readings-in-cells.js';

/** Last operands that are always written as numbers: decimals and steps. */
const LITERAL_LAST: ReadonlyMap<OperatorName, readonly number[]> = new Map<OperatorName, readonly number[]>([
  ['round', [0, 1, 2, 6]],
  ['text', [0, 1, 2]],
  ['round_down', [0, 1, 2]],
  ['round_up_to', [30, 10, 0.5]],
]);

/** Operands kept to the span in which the operator is used: far outside it programs keep different numbers of digits. */
const SPAN: ReadonlyMap<OperatorName, readonly [low: number, high: number]> = new Map<OperatorName, readonly [number, number]>([
  ['normal_cdf', [-20, 20]],
  ['duration', [0, 100_000]],
]);

const leaf: Readonly<Record<ValueType, fc.Arbitrary<Tree>>> = {
  number: fc.oneof(
    { weight: 3, arbitrary: fc.constantFrom(...NAMES.number).map((name) => nameOf(name, 'number')) },
    { weight: 1, arbitrary: fc.constantFrom(0, 1, 2, 60, -1.5, 0.5, 3, 100, 0.1, 1e-7, -2, 12.25).map(constant) },
  ),
  text: fc.oneof(
    { weight: 3, arbitrary: fc.constantFrom(...NAMES.text).map((name) => nameOf(name, 'text')) },
    { weight: 1, arbitrary: fc.constantFrom('', 'bus', 'BUS', 'say "so"', '7', 'a*', ' psi').map(constant) },
  ),
  truth: fc.oneof(
    { weight: 3, arbitrary: fc.constantFrom(...NAMES.truth).map((name) => nameOf(name, 'truth')) },
    { weight: 1, arbitrary: fc.boolean().map(constant) },
  ),
};

function treeOf(type: ValueType, depth: number): fc.Arbitrary<Tree> {
  if (depth === 0) return leaf[type];
  const operators = (Object.keys(OPERATORS) as OperatorName[]).filter((name) => OPERATORS[name].result === type || ['choose', 'or_else', 'only_if'].includes(name));
  return fc.oneof({ weight: 1, arbitrary: leaf[type] }, ...operators.map((name) => ({ weight: 1, arbitrary: callOf(name, type, depth - 1) })));
}

function callOf(name: OperatorName, type: ValueType, depth: number): fc.Arbitrary<Tree> {
  const operator: { parameters: readonly ValueType[]; rest?: ValueType; namesOnly?: boolean } = OPERATORS[name];
  const made = (...args: fc.Arbitrary<Tree>[]): fc.Arbitrary<Tree> => fc.tuple(...args).map((operands) => call(name, ...operands));
  const literal = LITERAL_LAST.get(name);
  if (literal) return made(treeOf('number', depth), fc.constantFrom(...literal).map(constant));
  const span = SPAN.get(name);
  if (span) return made(treeOf('number', depth).map((operand) => call('min', call('max', operand, constant(span[0])), constant(span[1]))));
  if (name === 'choose') return made(treeOf('truth', depth), treeOf(type, depth), treeOf(type, depth));
  if (name === 'or_else') return made(treeOf(type, depth), treeOf(type, depth));
  if (name === 'only_if') return made(treeOf('truth', depth), treeOf(type, depth));
  if (name === 'reads') return made(fc.constantFrom(...NAMES.text).map((text) => nameOf(text, 'text')), fc.constantFrom('bus', 'Bus', 'pass').map(constant));
  if (name === 'given') return made(fc.constantFrom(...Object.entries(NAMES).flatMap(([kind, names]) => names.map((given) => nameOf(given, kind as ValueType)))));
  const operand = (wanted: ValueType): fc.Arbitrary<Tree> => (operator.namesOnly ? fc.constantFrom(...NAMES.number).map((given) => nameOf(given, 'number')) : treeOf(wanted, depth));
  const { parameters, rest } = operator;
  if (rest === undefined) return made(...parameters.map(operand));
  return fc.integer({ min: 0, max: 2 }).chain((more) => made(...parameters.map(operand), ...Array.from({ length: more }, () => operand(rest))));
}

const cell: Readonly<Record<ValueType, fc.Arbitrary<CellContent>>> = {
  number: fc.oneof(
    { weight: 4, arbitrary: fc.integer({ min: -3000, max: 20_000 }).map((hundredths) => hundredths / 100) },
    { weight: 2, arbitrary: fc.constantFrom(0, 1, -1, 2, 0.1, 0.2, 0.3, 60, 2.5, -2.5, 1.005, 1e-7, 1e300, -1e300) },
    { weight: 1, arbitrary: fc.constantFrom(null, 'abc', '7', 'never') },
  ),
  text: fc.constantFrom(null, 'bus', 'Bus', 'BUS', 'pass', 'a*', 'abc', '7'),
  truth: fc.constantFrom(null, 'yes', 'no', 'maybe'),
};

/** The cells of a row, one for each column. */
export const row = fc.tuple(...COLUMNS.map(({ type }) => cell[type]));
/** An expression of any type. */
export const tree = fc.constantFrom<ValueType[]>('number', 'number', 'truth', 'text').chain((type) => treeOf(type, 3));
