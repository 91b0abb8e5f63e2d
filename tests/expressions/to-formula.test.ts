import ExcelJS from 'exceljs';
import { describe, expect, it } from 'vitest';
import { call } from '../../src/expressions/call.js';
import { allNeeds, blankCondition, guarded, needsBeyond, NO_NEEDS, quoteText } from '../../src/expressions/formula-part.js';
import { parseExpression } from '../../src/expressions/parse-expression.js';
import { toFormula } from '../../src/expressions/to-formula.js';
import { toFunction } from '../../src/expressions/to-function.js';
import { constant } from '../../src/expressions/tree.js';
import { recalculate, requireOutside } from '../support/recalculate.js';
import { NAME_TYPES, referenceIn, slotOf } from './readings-in-cells.js';

const formula = (text: string): string => toFormula(parseExpression(text, NAME_TYPES), referenceIn(4));

describe('toFormula', () => {
  it.each([
    ['a', 'IF(COUNT($A4)<1,"",$A4)'],
    ['a - b', 'IF(COUNT($A4,$B4)<2,"",IFERROR($A4-$B4,""))'],
    ['a + 0', 'IF(COUNT($A4)<1,"",IFERROR($A4+0,""))'],
    ['a - a', 'IF(COUNT($A4)<1,"",IFERROR($A4-$A4,""))'],
    ['60 * (a - b) / c', 'IF(COUNT($A4,$B4,$C4)<3,"",IFERROR((60*($A4-$B4))/$C4,""))'],
    ['(a + b) * (c - d)', 'IF(COUNT($A4,$B4,$C4,$D4)<4,"",IFERROR(($A4+$B4)*($C4-$D4),""))'],
    ['a <= 3', 'IF(COUNT($A4)<1,"",IF(ROUND($A4,6)<=3,"yes","no"))'],
    ['a <= -1.1234567', 'IF(COUNT($A4)<1,"",IF(ROUND($A4,6)<=ROUND((-1.1234567),6),"yes","no"))'],
    ['highest(a, b)', 'IFERROR(IF(COUNT($A4,$B4)=0,NA(),MAX($A4,$B4)),"")'],
    ['s == "bus"', 'IF($E4="","",IF(($E4="bus"),"yes","no"))'],
    ['given(a)', 'IF(NOT(COUNT($A4)<1),"yes","no")'],
    ['1e-7', '1E-7'],
    ['-1e-7', '-1E-7'],
    ['0', '0'],
    ['true', 'IF(TRUE,"yes","no")'],
    ['false', 'IF(FALSE,"yes","no")'],
    ['"say ""x"""'.replaceAll('""', '\\"'), '"say ""x"""'],
  ])('%s gives %s', (text, expected) => {
    expect(formula(text)).toBe(expected);
  });

  it('takes away brackets that hold all of it, and no others', () => {
    const of = (text: string): string => toFormula(parseExpression('a', NAME_TYPES), () => ({ text, needs: NO_NEEDS, mayFail: false }));
    expect(['($A4+1)', '(($A4)+($B4))', '($A4)+($B4)', '($A4)+1', '1+($A4)', '($A4=")")'].map(of)).toStrictEqual(['$A4+1', '($A4)+($B4)', '($A4)+($B4)', '($A4)+1', '1+($A4)', '($A4=")")']);
  });

  it('is as long as a cell takes, and no longer', () => {
    const of = (length: number): string => toFormula(parseExpression('a', NAME_TYPES), () => ({ text: 'A'.repeat(length), needs: NO_NEEDS, mayFail: false }));
    expect(of(8192)).toHaveLength(8192);
    expect(() => of(8193)).toThrow('its formula would have more than 8192 characters');
  });

  it('writes brackets out, so that the precedence of the sheet decides nothing', () => {
    expect(formula('a - (b - c)')).toContain('$A4-($B4-$C4)');
    expect(formula('a - b - c')).toContain('($A4-$B4)-$C4');
    expect(formula('-a ^ 2')).toContain('(-IF(');
  });
});

describe('quoteText', () => {
  it('doubles quotes', () => {
    expect(quoteText('a "b"')).toBe('"a ""b"""');
  });

  it('joins the pieces of a text that is too long to the same text, and leaves one that is not in one piece', () => {
    const inside = (text: string): string[] => [...text.matchAll(/"((?:[^"]|"")*)"/g)].map(([, piece]) => piece!.replaceAll('""', '"'));
    expect(quoteText('x'.repeat(255))).toBe(`"${'x'.repeat(255)}"`);
    const long = `${'a "quoted" piece, '.repeat(20)}😀${'😀'.repeat(200)}`;
    expect(inside(quoteText(long)).join('')).toBe(long);
    expect(quoteText(long).replace(/"(?:[^"]|"")*"/g, 'x')).toMatch(/^\(x(?:&x)+\)$/);
    // Two pieces of 127 characters and one of two.
    expect(inside(quoteText('y'.repeat(256))).map((piece) => piece.length)).toStrictEqual([127, 127, 2]);
    expect(inside(quoteText('z'.repeat(381))).map((piece) => piece.length)).toStrictEqual([127, 127, 127]);
  });

  it('parts a text longer than the 255 characters that Excel takes between quotes', { timeout: 120_000 }, async (context) => {
    const long = `${'a "quoted" piece of a sentence, '.repeat(12)}😀${'"'.repeat(140)}😀 end`;
    const tree = call('join', constant(long), constant('!'));
    const text = toFormula(tree, referenceIn(1));
    for (const [, inside] of text.matchAll(/"((?:[^"]|"")*)"/g)) expect(inside!.length).toBeLessThanOrEqual(255);
    expect(toFunction(tree, slotOf)([])).toBe(`${long}!`);
    requireOutside(context, 'soffice');
    const book = new ExcelJS.Workbook();
    book.addWorksheet('Text').getCell('A1').value = { formula: text };
    expect((await recalculate(new Uint8Array(await book.xlsx.writeBuffer()))).get('Text')![0]![0]).toBe(`${long}!`);
  });
});

describe('the needs of formula parts', () => {
  const part = (text: string, numbers: string[], blankTests: string[] = []) => ({ text, needs: { numbers: new Set(numbers), blankTests: new Set(blankTests) }, mayFail: false });

  it('are joined, each cell once', () => {
    expect(allNeeds([part('', ['A1', 'B1']), part('', ['B1'], ['C1=""'])])).toStrictEqual({ numbers: new Set(['A1', 'B1']), blankTests: new Set(['C1=""']) });
  });

  it('can be left out where they are met already', () => {
    expect(needsBeyond(part('', ['A1', 'B1'], ['C1=""']).needs, part('', ['A1'], ['C1=""']).needs)).toStrictEqual({ numbers: new Set(['B1']), blankTests: new Set() });
    expect(needsBeyond(part('', [], ['C1=""', 'D1=""']).needs, part('', ['A1'], ['C1=""']).needs)).toStrictEqual({ numbers: new Set(), blankTests: new Set(['D1=""']) });
  });

  it('become one condition', () => {
    expect(blankCondition(NO_NEEDS)).toBeNull();
    expect(blankCondition(part('', ['A1', 'B1']).needs)).toBe('COUNT(A1,B1)<2');
    expect(blankCondition(part('', ['A1'], ['C1=""']).needs)).toBe('OR(COUNT(A1)<1,C1="")');
    expect(guarded(part('A1*2', ['A1']), 'NA()')).toBe('IF(COUNT(A1)<1,NA(),A1*2)');
    expect(guarded(part('1', []), 'NA()')).toBe('1');
  });
});
