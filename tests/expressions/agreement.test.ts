import ExcelJS from 'exceljs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { call } from '../../src/expressions/call.js';
import type { OperatorName } from '../../src/expressions/operators.js';
import { OPERATORS } from '../../src/expressions/operators.js';
import { toFormula } from '../../src/expressions/to-formula.js';
import { toFunction } from '../../src/expressions/to-function.js';
import type { Tree, Value, ValueType } from '../../src/expressions/tree.js';
import { constant, nameOf } from '../../src/expressions/tree.js';
import { recalculate, requireOutside } from '../support/recalculate.js';
import { cellOf, COLUMNS, NAMES, referenceIn, slotOf, slotValue, type CellContent } from './readings-in-cells.js';

const SEED = 20_260_314;
const TREES = 600;

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

const row = fc.tuple(...COLUMNS.map(({ type }) => cell[type]));
const tree = fc.constantFrom<ValueType[]>('number', 'number', 'truth', 'text').chain((type) => treeOf(type, 3));

function agrees(expected: Value, found: string): boolean {
  if (expected === null) return found === '';
  if (typeof expected === 'boolean') return found === (expected ? 'yes' : 'no');
  if (typeof expected === 'string') return plain(found) === plain(expected);
  if (found.trim() === '' || !Number.isFinite(Number(found))) return false;
  return Math.abs(Number(found) - expected) <= 1e-9 * Math.max(1, Math.abs(expected));
}

/** Programs write numbers of 1E+15 and more in ways of their own inside a text: `1e+300`, `1E+300`, `1.00E+300`. */
function plain(text: string): string {
  return text.replace(/e\+0*(?=\d)/gi, 'e+').replace(/\d+(?:\.\d+)?/g, (digits) => (digits.length < 15 ? digits : String(Number(Number(digits).toPrecision(12)))));
}

describe('the two back ends', () => {
  it('give the same for random expressions over random readings, recalculated by LibreOffice', { timeout: 240_000 }, async (context) => {
    requireOutside(context, 'soffice');
    const samples = fc.sample(fc.tuple(tree, row), { numRuns: TREES, seed: SEED });
    const book = new ExcelJS.Workbook();
    const sheet = book.addWorksheet('Readings');
    const expected: Value[] = [];
    for (const [index, [made, content]] of samples.entries()) {
      const at = index + 1;
      for (const [column, value] of content.entries()) if (value !== null) sheet.getCell(cellOf(COLUMNS[column]!.name, at)).value = value;
      sheet.getCell(`Z${at}`).value = { formula: toFormula(made, referenceIn(at)) };
      expected.push(toFunction(made, slotOf)(content.map((value, column) => slotValue(COLUMNS[column]!.type, value))));
    }
    const rows = (await recalculate(new Uint8Array(await book.xlsx.writeBuffer()))).get('Readings')!;
    const differing = samples.flatMap(([, content], index) => {
      const found = rows[index]?.[25] ?? '';
      if (agrees(expected[index]!, found)) return [];
      return [{ row: index + 1, content: content.join(' | '), function: expected[index], formula: found, text: String((sheet.getCell(`Z${index + 1}`).value as { formula: string }).formula) }];
    });
    expect(differing).toStrictEqual([]);
    // The samples are worth the comparison only when most of them give something.
    expect(expected.filter((value) => value !== null).length).toBeGreaterThan(TREES / 2);
  });
});
