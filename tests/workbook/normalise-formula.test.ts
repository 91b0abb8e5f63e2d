import ExcelJS from 'exceljs';
import { beforeEach, describe, expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { movedColumns, normaliseFormula } from '../../src/workbook/normalise-formula.js';
import { requireOutside } from '../support/recalculate.js';
import { convertByLibreOffice } from '../support/run-libreoffice.js';

const HERE = { row: 4, column: 1 };
const normal = (formula: string): string => normaliseFormula(formula, HERE);

describe('a normalised formula', () => {
  // The left texts are what spreadsheet programs write for the right ones; the pairs of LibreOffice are proved below against the program itself.
  it.each([
    ['spaces and line breaks', 'IF( $B4 > 1 ,\n 2 , 3 )', 'IF($B4>1,2,3)'],
    ['a space before a bracket', 'SUM ($B4:$B9)', 'SUM($B4:$B9)'],
    ['the case of functions, names and columns', 'if($b4>Fact_Sure_Z,true,false)', 'IF($B4>fact_sure_z,TRUE,FALSE)'],
    ['truth as a function', 'IF(TRUE(),FALSE( ),1)', 'IF(TRUE,FALSE,1)'],
    ['the prefix of newer functions', '_xlfn.NUMBERVALUE("1",".")', 'NUMBERVALUE("1",".")'],
    ['a sheet in quotes', "COUNTA('Problems'!$G$4:$G$9)", 'COUNTA(Problems!$G$4:$G$9)'],
    ['an apostrophe in the name of a sheet', "'driver''s'!A1", "'Driver''s'!A1"],
    ['spellings of a number', '1E+300+0.5+1000', '1e300+.50+1E3'],
    ['digits beyond the fifteenth', '3.84145882069413*$B4', '3.8414588206941254*$B4'],
    ['an equals sign', '=A4', 'A4'],
    ['braces of an array formula', '{=SUM(A4:A9)}', 'SUM(A4:A9)'],
    ['spaces in an array', '{ 1 , 2 ; 3 , 4 }', '{1,2;3,4}'],
  ])('is the same for %s', (_what, written, asWritten) => {
    expect(normal(written)).toBe(normal(asWritten));
  });

  it.each([
    ['a text of another case', '"Pass"', '"pass"'],
    ['a space in a text', '" pass"', '"pass"'],
    ['a text like a function', '"TRUE()"', '"TRUE"'],
    ['a doubled quote', '"a""b"', '"ab"'],
    ['another comparison', '$B4>3', '$B4>=3'],
    ['another number', '$B4>3', '$B4>3.0000001'],
    ['another row', '$B4', '$B5'],
    ['another column', '$B4', '$C4'],
    ['a fixed row', '$B4', '$B$4'],
    ['a fixed column', '$B4', 'B4'],
    ['another sheet', 'Limits!$B$4', '$B$4'],
    ['an intersection', '$B4:$B9 $A4:$C4', '$B4:$B9,$A4:$C4'],
    ['an intersection without its space', 'A4 B4', 'A4B4'],
    ['columns and rows of an array', '{1,2}', '{1;2}'],
    ['a lost reference', '#REF!', '$B4'],
    ['another name', 'limit_released_loss_1', 'limit_applied_loss_1'],
    ['added nothing', '$B4+0', '$B4'],
    ['another order', '$B4-$C4', '$C4-$B4'],
    ['a name that looks like a reference', 'FACT1_B4', '$B4'],
    ['a function that looks like a cell', 'LOG10($B4)', 'LOG11($B4)'],
    ['a sign that folds to a letter: that of the kelvin, a long s', '\u212a4+$\u017f$4+\u212a:\u017f', 'K4+$S$4+K:S'],
  ])('tells %s', (_what, changed, right) => {
    expect(normal(changed)).not.toBe(normal(right));
  });

  it('is the same in every row that a formula was filled down to, and in no other way', () => {
    expect(normaliseFormula('$B9*Limits!$E$5+A8', { row: 9, column: 2 })).toBe(normaliseFormula('$B4*Limits!$E$5+A3', { row: 4, column: 2 }));
    expect(normaliseFormula('$B8', { row: 9, column: 2 })).not.toBe(normaliseFormula('$B4', { row: 4, column: 2 }));
    expect(normaliseFormula('C9', { row: 9, column: 2 })).toBe(normaliseFormula('B4', { row: 4, column: 1 }));
  });

  it('takes a formula without end in its stride', () => {
    const long = `${'('.repeat(20_000)}1${')'.repeat(20_000)}`;
    expect(normal(long)).toBe(long);
    expect(normal('"'.repeat(30_001)).length).toBeGreaterThan(0);
    expect(normal(`${'A'.repeat(30_000)}!`).length).toBeGreaterThan(30_000);
  });

  it('gives other columns to references of the own sheet alone', () => {
    const next = (letters: string): string => ({ B: 'C', CG: 'CH' })[letters] ?? letters;
    expect(movedColumns('IF($B4&"B4"=Limits!$B$4:$B$9,$CG4:$B9,b4)+B4B+fact_B4', next)).toBe('IF($C4&"B4"=Limits!$B$4:$B$9,$CH4:$C9,C4)+B4B+fact_B4');
  });
});

describe('what LibreOffice writes for a formula', { timeout: 120_000 }, () => {
  beforeEach((context) => requireOutside(context, 'soffice'));

  const FORMULAS = [
    'IF($B1>1E3,TRUE,FALSE)', 'if( $b1 > 1 , "a  b" , "" )', '_xlfn.NUMBERVALUE("1,5",",",".")', "COUNTA('Problems'!$G$4:$G$9)", "'S'!$A$1+S!B2",
    '3.8414588206941254*$B1^2', '1.959963984540054*$B1', '1E+300', '1E-300*$B1', '0.1+.5', '-(-$B1)', 'SUM($B1:$C1 $C1:$D1)', 'MATCH($B1,{"a","b"},0)', 'SUM({1,2;3,4})', '$B1<>""', 'IF($B1,,2)',
    'SUM(B:B)', 'SUM($1:$1)', 'a_name*2', '50%', 'IFERROR(1/0,NA())', '"a""b"&$B1', 'ROUND($B1*86400,3)', 'LOG10($B1)', 'INDEX($B1:$D1,1,2)',
  ];

  it('normalises to the same as the formula itself', async () => {
    const file = new ExcelJS.Workbook();
    const sheet = file.addWorksheet('S');
    file.addWorksheet('Problems');
    sheet.getCell('B1').value = 1;
    file.definedNames.add('S!$B$1', 'a_name');
    FORMULAS.forEach((formula, index) => (sheet.getCell(`A${index + 1}`).value = { formula: formula.replaceAll('$B1', `$B${index + 1}`) } as ExcelJS.CellFormulaValue));
    const book = new Uint8Array(await file.xlsx.writeBuffer());
    const saved = await openXlsx((await convertByLibreOffice(book, 'book.xlsx', 'xlsx')).get('book.xlsx')!);
    const [there, written]: string[][] = [[], []];
    for await (const { number, formulas } of (await openXlsx(book)).sheets[0]!.stored().rows) written!.push(normaliseFormula(formulas[0]!.text, { row: number, column: 1 }));
    for await (const { number, formulas } of saved.sheets[0]!.stored().rows) there!.push(normaliseFormula(formulas[0]!.text, { row: number, column: 1 }));
    expect(there).toStrictEqual(written);
    expect(written).toHaveLength(FORMULAS.length);
  });
});
