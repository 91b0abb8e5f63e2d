import { describe, expect, it } from 'vitest';
import { shiftFormula } from '../../../src/formats/xlsx-reader/shift-formula.js';

describe('shiftFormula, one row down and two columns right', () => {
  // ECMA-376 Part 1, 18.17.2.3 (cell references): $ fixes a column or a row. Names and functions from 18.17.2.5 and 18.17.7.
  it.each([
    ['A1+$B1+C$1+$D$1', 'C2+$B2+E$1+$D$1'],
    ['SUM(A1:B2)', 'SUM(C2:D3)'],
    ['SUM(A:A,$B:$C,1:1,$2:3)', 'SUM(C:C,$B:$C,2:2,$2:4)'],
    ['"A1 ""B2"""&A1', '"A1 ""B2"""&C2'],
    ["'A1 it''s'!A1+Sheet1!B2", "'A1 it''s'!C2+Sheet1!D3"],
    ['LOG10(A1)+ATAN2(A1,B1)', 'LOG10(C2)+ATAN2(C2,D2)'],
    ['Table1[[#This Row],[A1]]+A1', 'Table1[[#This Row],[A1]]+C2'],
    ['[1]Other!A1', '[1]Other!C2'],
    ['A1.b+_A1+A1_x+rate2024.q', 'A1.b+_A1+A1_x+rate2024.q'],
    ['1E5+1.5E3+A1', '1E5+1.5E3+C2'],
    ['XFE1+A1048577+ABCD1', 'XFE1+A1048577+ABCD1'],
    ['XFD1+A1048576', '#REF!+#REF!'],
    ['IF(A1>=0,TRUE,FALSE)', 'IF(C2>=0,TRUE,FALSE)'],
    ['été1+A1', 'été1+C2'],
    ['', ''],
  ])('%s', (formula, shifted) => {
    expect(shiftFormula(formula)(1, 2)).toBe(shifted);
  });

  it('moves back as well, and not at all', () => {
    expect(shiftFormula('D4+$A$1')(-3, -3)).toBe('A1+$A$1');
    expect(shiftFormula('a1')(0, 0)).toBe('A1');
    expect(shiftFormula('A1')(-1, 0)).toBe('#REF!');
  });
});
