import { describe, expect, it } from 'vitest';
import { call } from '../../src/expressions/call.js';
import { NO_NEEDS, type FormulaPart } from '../../src/expressions/formula-part.js';
import { OPERATORS } from '../../src/expressions/operators.js';
import { parseExpression } from '../../src/expressions/parse-expression.js';
import { toFormula } from '../../src/expressions/to-formula.js';
import { toWords } from '../../src/expressions/to-words.js';
import { constant, nameOf, type Tree } from '../../src/expressions/tree.js';
import { NAME_TYPES, referenceIn } from './readings-in-cells.js';

const parse = (text: string): Tree => parseExpression(text, NAME_TYPES);
const [a, b] = [nameOf('a', 'number'), nameOf('b', 'number')];
const [s, t] = [nameOf('s', 'text'), nameOf('t', 'text')];
const p = nameOf('p', 'truth');
const P_BLANK = 'AND($G4<>"yes",$G4<>"no")';
const Q_BLANK = 'AND($H4<>"yes",$H4<>"no")';

/**
 * One tree for each operator, its formula in row 4 and its words. A formula is an empty text where a cell that it needs holds no
 * number, or no text; it is compared to six decimals, and an error of its own becomes an empty text. What such formulas give
 * is compared with the functions by LibreOffice in the tests of the operators.
 */
const CASES: readonly (readonly [operator: string, tree: Tree, formula: string, words: string])[] = [
  ['add', parse('a + b'), 'IF(COUNT($A4,$B4)<2,"",IFERROR($A4+$B4,""))', 'a plus b'],
  ['subtract', parse('a - b'), 'IF(COUNT($A4,$B4)<2,"",IFERROR($A4-$B4,""))', 'a minus b'],
  ['multiply', parse('a * b'), 'IF(COUNT($A4,$B4)<2,"",IFERROR($A4*$B4,""))', 'a times b'],
  ['divide', parse('a / b'), 'IF(COUNT($A4,$B4)<2,"",IFERROR($A4/$B4,""))', 'a divided by b'],
  ['power', parse('a ^ b'), 'IF(COUNT($A4,$B4)<2,"",IFERROR(IF(OR(AND($A4=0,$B4<=0),AND($A4<0,INT($B4)<>$B4)),NA(),($A4^$B4)),""))', 'a to the power b'],
  ['negate', parse('-a'), 'IF(COUNT($A4)<1,"",-$A4)', 'minus a'],
  ['less', parse('a < b'), 'IF(COUNT($A4,$B4)<2,"",IF(ROUND($A4,6)<ROUND($B4,6),"yes","no"))', 'a is less than b'],
  ['less_or_equal', parse('a <= b'), 'IF(COUNT($A4,$B4)<2,"",IF(ROUND($A4,6)<=ROUND($B4,6),"yes","no"))', 'a is at most b'],
  ['greater', parse('a > b'), 'IF(COUNT($A4,$B4)<2,"",IF(ROUND($A4,6)>ROUND($B4,6),"yes","no"))', 'a is more than b'],
  ['greater_or_equal', parse('a >= b'), 'IF(COUNT($A4,$B4)<2,"",IF(ROUND($A4,6)>=ROUND($B4,6),"yes","no"))', 'a is at least b'],
  ['equal', parse('a == b'), 'IF(COUNT($A4,$B4)<2,"",IF(ROUND($A4,6)=ROUND($B4,6),"yes","no"))', 'a equals b'],
  ['unequal', parse('a != b'), 'IF(COUNT($A4,$B4)<2,"",IF(ROUND($A4,6)<>ROUND($B4,6),"yes","no"))', 'a differs from b'],
  ['same_text', parse('s == t'), 'IF(OR($E4="",$F4=""),"",IF($E4=$F4,"yes","no"))', 's is t'],
  ['other_text', parse('s != t'), 'IF(OR($E4="",$F4=""),"",IF($E4<>$F4,"yes","no"))', 's is not t'],
  ['and', parse('p and q'), `IF(OR(${P_BLANK},${Q_BLANK}),"",IF(AND(($G4="yes"),($H4="yes")),"yes","no"))`, 'p and q'],
  ['or', parse('p or q'), `IF(OR(${P_BLANK},${Q_BLANK}),"",IF(OR(($G4="yes"),($H4="yes")),"yes","no"))`, 'p or q'],
  ['not', parse('not p'), `IF(${P_BLANK},"",IF(NOT(($G4="yes")),"yes","no"))`, 'not (p)'],
  ['max', parse('max(a, b, 3)'), 'IF(COUNT($A4,$B4)<2,"",MAX($A4,$B4,3))', 'the larger of a, b, 3'],
  ['min', parse('min(a, b, 3)'), 'IF(COUNT($A4,$B4)<2,"",MIN($A4,$B4,3))', 'the smaller of a, b, 3'],
  ['abs', parse('abs(a)'), 'IF(COUNT($A4)<1,"",ABS($A4))', 'the size of a'],
  ['sqrt', parse('sqrt(a)'), 'IF(COUNT($A4)<1,"",IFERROR(SQRT($A4),""))', 'the square root of a'],
  ['exp', parse('exp(a)'), 'IF(COUNT($A4)<1,"",IFERROR(EXP($A4),""))', 'e to the power a'],
  ['ln', parse('ln(a)'), 'IF(COUNT($A4)<1,"",IFERROR(LN($A4),""))', 'the natural logarithm of a'],
  ['round', parse('round(a, 1)'), 'IF(COUNT($A4)<1,"",ROUND($A4,1))', 'a rounded to 1 decimals'],
  ['highest', parse('highest(a, b)'), 'IFERROR(IF(COUNT($A4,$B4)=0,NA(),MAX($A4,$B4)),"")', 'the higher of a and b (of those given)'],
  ['lowest', parse('lowest(a, b)'), 'IFERROR(IF(COUNT($A4,$B4)=0,NA(),MIN($A4,$B4)),"")', 'the lower of a and b (of those given)'],
  ['given', parse('given(a)'), 'IF(NOT(COUNT($A4)<1),"yes","no")', 'a is given'],
  ['choose', parse('a > 3 ? a : b'), 'IF(COUNT($A4)<1,"",IFERROR(IF((ROUND($A4,6)>3),$A4,IF(COUNT($B4)<1,NA(),$B4)),""))', 'a if a is more than 3, otherwise b'],
  ['or_else', call('or_else', a, b), 'IFERROR(IF(COUNT($A4)<1,IF(COUNT($B4)<1,NA(),$B4),$A4),"")', 'a, or b where that is blank'],
  ['only_if', parse('only_if(a > 1, b)'), 'IF(OR(COUNT($B4)<1,NOT(IF(COUNT($A4)<1,FALSE,(ROUND($A4,6)>1)))),"",$B4)', 'b, only if a is more than 1'],
  ['reads', call('reads', s, constant('pass')), 'IF(EXACT($E4,"pass"),"yes","no")', 's reads pass'],
  ['join', call('join', s, t), 'IF(OR($E4="",$F4=""),"",$E4&$F4)', 'st'],
  ['text', call('text', a, constant(2)), 'IF(COUNT($A4)<1,"",(ROUND($A4,2)&""))', 'a'],
  ['duration', call('duration', a), 'IF(COUNT($A4)<1,"",IF(ROUND($A4,0)<120,ROUND($A4,1)&" s",INT(ROUND($A4,0)/60)&" min"&IF(MOD(ROUND($A4,0),60)>0," "&MOD(ROUND($A4,0),60)&" s","")))', 'a'],
  ['round_up_to', call('round_up_to', a, constant(30)), 'IF(COUNT($A4)<1,"",IFERROR(-INT(-ROUND($A4/30,6))*30,""))', 'a rounded up to a multiple of 30'],
  ['round_down', call('round_down', a, constant(2)), 'IF(COUNT($A4)<1,"",IFERROR(INT(ROUND($A4*10^2,6))/10^2,""))', 'a rounded down to 2 decimals'],
  ['root_of_squares', call('root_of_squares', a, b), 'IF(COUNT($A4,$B4)<2,"",IFERROR(SQRT(SUMSQ($A4,$B4)),""))', 'the root of the sum of squares of a, b'],
  ['normal_cdf', call('normal_cdf', a), 'IF(COUNT($A4)<1,"",IFERROR(NORMSDIST($A4),""))', 'the normal probability of a'],
];

describe('the operators in a cell and in words', () => {
  it.each(CASES)('%s', (operator, tree, formula, words) => {
    expect(tree).toMatchObject({ operator });
    expect([toFormula(tree, referenceIn(4)), toWords(tree, (name) => name)]).toStrictEqual([formula, words]);
  });

  it('are all of them', () => {
    expect(CASES.map(([operator]) => operator)).toStrictEqual(Object.keys(OPERATORS));
  });

  it.each<[string, Tree, string]>([
    // Only a branch that can lack something or fail makes the whole fail.
    ['a > 3 ? 1 : 2', parse('a > 3 ? 1 : 2'), 'IF(COUNT($A4)<1,"",IF((ROUND($A4,6)>3),1,2))'],
    ['a > 3 ? 1 / a : 2', parse('a > 3 ? 1 / a : 2'), 'IF(COUNT($A4)<1,"",IFERROR(IF((ROUND($A4,6)>3),(1/$A4),2),""))'],
    ['a > 3 ? 2 : 1 / a', parse('a > 3 ? 2 : 1 / a'), 'IF(COUNT($A4)<1,"",IFERROR(IF((ROUND($A4,6)>3),2,(1/$A4)),""))'],
    ['1 / a > 3 ? 2 : 1', parse('1 / a > 3 ? 2 : 1'), 'IF(COUNT($A4)<1,"",IFERROR(IF((ROUND((1/$A4),6)>3),2,1),""))'],
    ['max(a / b, a)', parse('max(a / b, a)'), 'IF(COUNT($A4,$B4)<2,"",IFERROR(MAX(($A4/$B4),$A4),""))'],
    // A quotient may fail, and what stands for it then may not.
    ['a / b, or -1', call('or_else', call('divide', a, b), constant(-1)), 'IF(COUNT($A4,$B4)<2,(-1),IFERROR(($A4/$B4),(-1)))'],
    ['a number, or what may fail', call('or_else', constant(1), call('divide', a, b)), '1'],
    ['what may fail, or what may fail', call('or_else', call('divide', constant(1), a), call('divide', constant(2), a)), 'IFERROR(IF(COUNT($A4)<1,IF(COUNT($A4)<1,NA(),(2/$A4)),IFERROR((1/$A4),IF(COUNT($A4)<1,NA(),(2/$A4)))),"")'],
    // A truth of a cell holds or is blank; one that may fail does not hold where it fails.
    ['a, only if p', call('only_if', p, a), `IF(OR(COUNT($A4)<1,${P_BLANK},NOT(($G4="yes"))),"",$A4)`],
    ['s, only if a / b > 1', call('only_if', call('greater', call('divide', a, b), constant(1)), s), 'IF(OR($E4="",NOT(IF(COUNT($A4,$B4)<2,FALSE,IFERROR((ROUND(($A4/$B4),6)>1),FALSE)))),"",$E4)'],
  ])('%s', (_what, tree, formula) => {
    expect(toFormula(tree, referenceIn(4))).toBe(formula);
  });

  it('of a name that needs nothing', () => {
    const always = (text: string): FormulaPart => ({ text, needs: NO_NEEDS, mayFail: false });
    expect(toFormula(call('given', a), () => always('7'))).toBe('IF(TRUE,"yes","no")');
    // Cells alone are counted; beside anything else each stands with what it needs, out of reach where it lacks that.
    expect(toFormula(call('highest', a, b), () => always('7'))).toBe('MAX(7,7)');
    const mixed = (name: string): FormulaPart => (name === 'a' ? always('7') : referenceIn(4)(name));
    expect(toFormula(call('highest', a, b), mixed)).toBe('MAX(7,IF(COUNT($B4)<1,-1E+300,$B4))');
    expect(toFormula(call('lowest', a, b), mixed)).toBe('MIN(7,IF(COUNT($B4)<1,1E+300,$B4))');
    const tested = (name: string): FormulaPart => ({ text: name, needs: { numbers: new Set(), blankTests: new Set([`${name}=""`]) }, mayFail: false });
    expect(toFormula(call('highest', a, b), tested)).toBe('IFERROR(IF(AND(a="",b=""),NA(),MAX(IF(a="",-1E+300,a),IF(b="",-1E+300,b))),"")');
    const failing = (name: string): FormulaPart => ({ ...always(name), mayFail: name === 'b' });
    expect(toFormula(call('highest', a, b), failing)).toBe('IFERROR(MAX(a,b),"")');
  });
});
