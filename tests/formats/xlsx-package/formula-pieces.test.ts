import { describe, expect, it } from 'vitest';
import { formulaAt, formulaPieces } from '../../../src/formats/xlsx-package/formula-pieces.js';

function moved(formula: string, from: number, to: number): string | undefined {
  return formulaAt(formulaPieces(formula, from).pieces, to);
}

describe('formulaPieces', () => {
  // What moves is what is relative in R1C1 notation: ECMA-376 Part 1, 18.3.1.40 and 18.17.2.3.
  it.each([
    ['A4', 'A9'],
    ['$A4+A$4+$A$4', '$A9+A$4+$A$4'],
    ['SUM(A3:B5)', 'SUM(A8:B10)'],
    ['SUM(A$4:A4)', 'SUM(A$4:A9)'],
    ['SUM(A:A,$B:C)', 'SUM(A:A,$B:C)'],
    ['SUM(4:6,$4:6)', 'SUM(9:11,$4:11)'],
    ['LOG10(A4)+ATAN2(B4,1)', 'LOG10(A9)+ATAN2(B9,1)'],
    ['IF(A4="A4 is ""B4""",B4,"")', 'IF(A9="A4 is ""B4""",B9,"")'],
    ["'A4 it''s B4'!C4+Limits!C4", "'A4 it''s B4'!C9+Limits!C9"],
    ['Q1!A4', 'Q1!A9'],
    ['1E5+A4*2.5E-3', '1E5+A9*2.5E-3'],
    ['STDEV.S(A4)+T.TEST(B4,C4,1,2)', 'STDEV.S(A9)+T.TEST(B9,C9,1,2)'],
    ['limit_a4+a4.b4+x.A4', 'limit_a4+a4.b4+x.A4'],
    ['XFD4+XFE4+ABCD4', 'XFD9+XFE4+ABCD4'],
    ['Checks[[#This Row],[A4]]+A4', 'Checks[[#This Row],[A4]]+A9'],
    ["Checks[it'[A4']]*A4", "Checks[it'[A4']]*A9"],
    ['[1]Sheet!A4', '[1]Sheet!A9'],
    ['IF(ISNA(#N/A),#REF!,A4)', 'IF(ISNA(#N/A),#REF!,A9)'],
    ['_xlfn.IFS(A4>1,TRUE)', '_xlfn.IFS(A9>1,TRUE)'],
    ['ÄB4+Ä4', 'ÄB4+Ä4'],
    ['{1,2;3,4}*A4', '{1,2;3,4}*A9'],
    ['a4&" "&-A4%', 'a9&" "&-A9%'],
  ])('moves %s down five rows', (formula, expected) => {
    expect(moved(formula, 4, 9)).toBe(expected);
    expect(moved(formula, 4, 4)).toBe(formula);
  });

  it('gives nothing for a reference that leaves the sheet', () => {
    expect(moved('A1', 4, 3)).toBe(undefined);
    expect(moved('A1048576', 4, 5)).toBe(undefined);
    expect(moved('A1048575', 4, 5)).toBe('A1048576');
  });

  it('shares what Excel shares: nothing relative on another sheet, no structured reference', () => {
    const shareable = (formula: string): boolean => formulaPieces(formula, 4).shareable;
    for (const formula of ['A4+B3', 'Limits!$B$2*A4', 'SUM(Limits!$B$2:$C$9)+A4', 'VLOOKUP(A4,Limits!$A:$B,2)', '"Limits!B2"&A4', 'limit*A4', 'SUM(Limits!$4:$6)']) {
      expect([formula, shareable(formula)]).toStrictEqual([formula, true]);
    }
    for (const formula of ['Limits!B2', 'Limits!$B2', "'a b'!B$2", 'SUM(Limits!$B$2:$C9)', 'SUM(Limits!A:A)', 'T[x]', 'Limits!name', 'SUM(Limits!4:$6)']) {
      expect([formula, shareable(formula)]).toStrictEqual([formula, false]);
    }
  });
});
