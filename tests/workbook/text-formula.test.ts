import { describe, expect, it } from 'vitest';
import { textFormula } from '../../src/workbook/text-formula.js';

describe('a text whose numbers stand in cells', () => {
  it('is a formula that joins words and names', () => {
    expect(textFormula(['at most ', { name: 'limit_a_1', value: 60 }, ' psi'])).toStrictEqual({ text: 'at most 60 psi', formula: '"at most "&limit_a_1&" psi"' });
    expect(textFormula(['at least ', { name: 'limit_b_1', value: 0.55, times: 100 }, ' %'])).toStrictEqual({ text: 'at least 55 %', formula: '"at least "&limit_b_1*100&" %"' });
  });

  it('is no formula where no number stands in a cell', () => {
    expect(textFormula(['must be ', '', 'yes'])).toStrictEqual({ text: 'must be yes', formula: null });
  });

  it('cannot be broken out of: quotes are doubled, control characters become spaces', () => {
    const { text, formula } = textFormula(['"&HYPERLINK("x")&"\n', { name: 'limit_a_1', value: 1 }]);
    expect(text).toBe('"&HYPERLINK("x")&" 1');
    expect(formula).toBe('"""&HYPERLINK(""x"")&"" "&limit_a_1');
  });

  // A text in a formula may have 255 characters (Excel specifications and limits).
  it('is cut into pieces that a formula may hold', () => {
    const { formula } = textFormula(['"'.repeat(1000), { name: 'limit_a_1', value: 1 }]);
    const pieces = formula!.split('"&"');
    expect(pieces.length).toBeGreaterThan(4);
    for (const piece of formula!.match(/"(?:[^"]|"")*"/g)!) expect(piece.length - 2).toBeLessThanOrEqual(255);
  });
});
