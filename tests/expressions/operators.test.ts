import ExcelJS from 'exceljs';
import { describe, expect, it } from 'vitest';
import { OPERATORS, type OperatorName } from '../../src/expressions/operators.js';
import { toFormula } from '../../src/expressions/to-formula.js';
import { toFunction } from '../../src/expressions/to-function.js';
import type { Tree, Value } from '../../src/expressions/tree.js';
import { recalculate, requireOutside } from '../support/recalculate.js';
import { OPERATOR_CASES } from './operator-cases.js';
import { cellOf, COLUMNS, referenceIn, slotOf, slotValue } from './readings-in-cells.js';

const NAMES = Object.keys(OPERATORS) as OperatorName[];
const CASES = NAMES.flatMap((name) => OPERATOR_CASES[name]);

/** The operators that a tree holds. */
function operatorsIn(tree: Tree): OperatorName[] {
  return tree.kind === 'call' ? [tree.operator, ...tree.args.flatMap(operatorsIn)] : [];
}

function expectValue(found: Value, gives: Value): void {
  if (typeof gives === 'number') {
    expect(typeof found).toBe('number');
    expect(found as number).toBeCloseTo(gives, 9);
  } else expect(found).toBe(gives);
}

describe.each(NAMES)('the operator %s', (name) => {
  it('has cases of its own', () => {
    expect(OPERATOR_CASES[name].length).toBeGreaterThan(1);
    for (const { tree } of OPERATOR_CASES[name].slice(0, 1)) expect(operatorsIn(tree)).toContain(name);
  });

  it.each(OPERATOR_CASES[name].map(({ tree, cells, gives }) => [toFormula(tree, referenceIn(1)), JSON.stringify(cells), gives, tree, cells] as const))('as a function: %s with %s gives %s', (_formula, _cells, gives, tree, cells) => {
    const slots = COLUMNS.map((column) => slotValue(column.type, cells[column.name] ?? null));
    expectValue(toFunction(tree, slotOf)(slots), gives);
  });
});

describe('the operators as formulas', () => {
  it('give in LibreOffice what they must', { timeout: 180_000 }, async (context) => {
    requireOutside(context, 'soffice');
    const book = new ExcelJS.Workbook();
    const sheet = book.addWorksheet('Cases');
    for (const [index, { tree, cells }] of CASES.entries()) {
      for (const [name, content] of Object.entries(cells)) sheet.getCell(cellOf(name, index + 1)).value = content;
      sheet.getCell(`Z${index + 1}`).value = { formula: toFormula(tree, referenceIn(index + 1)) };
    }
    const rows = (await recalculate(new Uint8Array(await book.xlsx.writeBuffer()))).get('Cases')!;
    const found = CASES.map(({ tree, cells, gives }, index) => {
      const cell = rows[index]?.[25] ?? '';
      return { formula: toFormula(tree, referenceIn(index + 1)), cells, gives: typeof gives === 'number' && cell !== '' ? Number(Number(cell).toFixed(9)) : cell };
    });
    const wanted = CASES.map(({ tree, cells, gives }, index) => ({
      formula: toFormula(tree, referenceIn(index + 1)),
      cells,
      gives: gives === null ? '' : typeof gives === 'boolean' ? (gives ? 'yes' : 'no') : typeof gives === 'number' ? Number(gives.toFixed(9)) : gives,
    }));
    expect(found).toStrictEqual(wanted);
  });
});
