import ExcelJS from 'exceljs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { toFormula } from '../../src/expressions/to-formula.js';
import { toFunction } from '../../src/expressions/to-function.js';
import type { Value } from '../../src/expressions/tree.js';
import { recalculate, requireOutside } from '../support/recalculate.js';
import { row, tree } from './random-expressions.js';
import { cellOf, COLUMNS, referenceIn, slotOf, slotValue } from './readings-in-cells.js';

const SEED = 20_260_314;
const TREES = 600;

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
