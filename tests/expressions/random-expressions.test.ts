import { describe, expect, it } from 'vitest';
import { parseExpression } from '../../src/expressions/parse-expression.js';
import { LONGEST_FORMULA, toFormula } from '../../src/expressions/to-formula.js';
import { toFunction } from '../../src/expressions/to-function.js';
import { toWords } from '../../src/expressions/to-words.js';
import type { Tree, Value } from '../../src/expressions/tree.js';
import { TreadlebookError } from '../../src/util/treadlebook-error.js';
import { SeededRandom } from '../support/seeded-random.js';
import { changedSince, watchPrototypes } from '../support/watch-prototypes.js';
import { ESCAPES } from './escapes.js';
import { formulaFault } from './formula-grammar.js';
import { COLUMNS, NAME_TYPES, referenceIn, slotOf } from './readings-in-cells.js';

const RUNS = 10_000;
const CODE = ['globalThis.escaped=1', 'constructor', '__proto__', 'prototype', 'toString', 'valueOf', 'eval', 'Function', 'process.exit(7)', 'require("fs")', 'this', 'import("x")', '=>', '${a}', '`', '/a/g', '...', '//', '/*', '*/', 'new ', 'delete ', 'typeof ', 'await ', 'async ', '?.', '??', '&&', '||', '!==', '===', '**', '++', '--', '<<', '>>>', '\\', '\\u0061'];
const MATHJS = ['evaluate("1")', 'parse(a)', 'import(a)', 'createUnit("x")', 'simplify(a)', 'derivative(a,b)', 'chain(a)', 'typed(a)', 'map([1],abs)', 'f(x)=x', 'a=1', '[1,2;3]', '{a:1}', '1:3', '.a', '["a"]', "'", '!', '%', ' mod ', ' to ', ' in ', ' xor ', '#', ';', '\n', ' end ', 'i', 'e', 'pi', 'Infinity', 'NaN', 'null', 'undefined', '0x1f', '0b1', '0o7', '1e999', '1e-999', '5 cm'];
const SHEET = ['=', 'A1', '$A$1', 'Sheet1!A1', "'a b'!A1", '<>', '&', '@', '#REF!', 'SUM(A1:B2)', 'HYPERLINK("x")', 'INDIRECT("A1")', 'WEBSERVICE("x")', '"', '""', ';', '{1,2}', 'TRUE', 'R1C1', '_xlfn.X()', "|' /C x'!A0"];
const UNICODE = ['é', 'а', 'ａ', '𝒶', '\u202e', '\u200d', '\u00ad', '\u00a0', '\u2028', '\ufeff', '\u0000', '\u001b[31m', '\ud800', '😀', '×', '−', '≤', '²', '１', '“a”', '\uffff'];
const OWN = ['a', 'b', 's', 'p', '(', ')', '+', '-', '*', '/', '^', '<', '<=', '>', '>=', '==', '!=', ' and ', ' or ', 'not ', '?', ':', ',', 'max(', 'min(', 'abs(', 'round(', 'sqrt(', 'exp(', 'ln(', 'highest(', 'lowest(', 'given(', 'only_if(', '1', '0.5', '2', '1e3', '"x"', "'y'", 'true', 'false', ' '];

/** An expression of that type by the rules. */
function sound(random: SeededRandom, type: 'number' | 'text' | 'truth', depth: number): string {
  const number = (): string => sound(random, 'number', depth - 1);
  const truth = (): string => sound(random, 'truth', depth - 1);
  if (type === 'text') return depth > 0 && random.chance(0.2) ? `(${truth()} ? ${sound(random, 'text', depth - 1)} : "z")` : random.of(['s', 't', '"x"', "'it''s'".replace("''", ''), '"é 😀"', '"=1+1"', '"a""'.slice(0, 3)]);
  if (type === 'truth') {
    if (depth <= 0) return random.of(['p', 'q', 'true', 'false', 'given(a)', 'given(s)']);
    return random.of([() => `${number()} ${random.of(['<', '<=', '>', '>=', '==', '!='])} ${number()}`, () => `${number()} < ${number()} <= ${number()}`, () => `(${truth()} and ${truth()})`, () => `(${truth()} or ${truth()})`, () => `not ${random.of(['p', `(${truth()})`])}`, () => `${sound(random, 'text', depth - 1)} == ${sound(random, 'text', depth - 1)}`])();
  }
  if (depth <= 0) return random.of(['a', 'b', 'c', 'd', '0', '1', '60', '0.5', '1e-7', '1e21', '123456.789', '0xff']);
  return random.of([
    () => `(${number()} ${random.of(['+', '-', '*', '/'])} ${number()})`,
    () => `${random.of(['a', '2', `(${number()})`])} ^ ${random.of(['2', 'b', '0.5'])}`,
    () => `-${random.of(['a', `(${number()})`])}`,
    () => `${random.of(['abs', 'sqrt', 'exp', 'ln', 'round'])}(${number()})`,
    () => `round(${number()}, ${random.below(4)})`,
    () => `${random.of(['max', 'min'])}(${number()}, ${number()})`,
    () => `${random.of(['highest', 'lowest'])}(a, b, c)`,
    () => `(${truth()} ? ${number()} : ${number()})`,
    () => `only_if(${truth()}, ${number()})`,
  ])();
}

/** A text with a piece of another language put in, taken out or put in the place of something. */
function spoilt(random: SeededRandom, text: string): string {
  let changed = text;
  for (let changes = 1 + random.below(3); changes > 0; changes--) {
    const at = random.below(changed.length + 1);
    const piece = random.of(random.of([CODE, MATHJS, SHEET, UNICODE, OWN]));
    changed = random.of([() => changed.slice(0, at) + piece + changed.slice(at), () => changed.slice(0, at) + changed.slice(at + 1 + random.below(4)), () => changed.slice(0, at) + piece + changed.slice(at + piece.length)])();
  }
  return changed;
}

function hostile(random: SeededRandom): string {
  return random.of([
    () => sound(random, random.of(['number', 'text', 'truth']), 1 + random.below(4)),
    () => spoilt(random, sound(random, random.of(['number', 'text', 'truth']), 1 + random.below(4))),
    () => spoilt(random, random.of(ESCAPES).text),
    () => Array.from({ length: 1 + random.below(12) }, () => random.of(random.of([CODE, MATHJS, SHEET, UNICODE, OWN, OWN, OWN]))).join(''),
  ])();
}

const NUMBERS: readonly Value[] = [null, 0, 1, -1, 0.1, 104, 1e300, -1e-300, 5e-324, Number.MAX_SAFE_INTEGER];
function anySlots(random: SeededRandom): Value[] {
  return COLUMNS.map(({ type }) => (type === 'number' ? random.of(NUMBERS) : type === 'text' ? random.of([null, '', 'x', 'é', '=1', '__proto__']) : random.of([null, true, false])));
}

function isOfType(value: Value, type: string): boolean {
  return value === null || (type === 'number' ? Number.isFinite(value) : typeof value === (type === 'text' ? 'string' : 'boolean'));
}

describe(`${RUNS} random texts of JavaScript, mathjs, spreadsheets and Unicode`, () => {
  it('run no code and leave nothing behind; what is taken can be computed, and is a formula', { timeout: 120_000 }, () => {
    const before = watchPrototypes();
    const random = new SeededRandom(20261107);
    const counts = { taken: 0, refused: 0, tooLong: 0 };
    for (let run = 0; run < RUNS; run++) {
      const text = hostile(random);
      const tree = parsed(text);
      if (tree === null) {
        counts.refused += 1;
        continue;
      }
      counts.taken += 1;
      const compute = toFunction(tree, slotOf);
      for (let rows = 0; rows < 4; rows++) expect(isOfType(compute(anySlots(random)), tree.type), text).toBe(true);
      expect(toWords(tree, (name) => name), text).not.toBe('');
      const formula = formulaOf(tree);
      if (formula === null) counts.tooLong += 1;
      else expect(formulaFault(formula), text).toBeNull();
    }
    expect(changedSince(before)).toStrictEqual([]);
    // Many of each kind, or the texts show nothing.
    expect(counts.taken).toBeGreaterThan(RUNS / 5);
    expect(counts.refused).toBeGreaterThan(RUNS / 3);
    expect(counts.tooLong).toBeLessThan(RUNS / 20);
  });
});

function parsed(text: string): Tree | null {
  try {
    return parseExpression(text, NAME_TYPES);
  } catch (error) {
    expect(error, text).toBeInstanceOf(TreadlebookError);
    const { code, message } = error as TreadlebookError;
    expect(code).toBe('expression_invalid');
    expect(message).not.toMatch(/[\p{Cc}\u2028\u2029]/u);
    return null;
  }
}

function formulaOf(tree: Tree): string | null {
  try {
    const formula = toFormula(tree, referenceIn(4));
    expect(formula.length).toBeLessThanOrEqual(LONGEST_FORMULA);
    return formula;
  } catch (error) {
    expect(error).toMatchObject({ code: 'expression_invalid', what: `its formula would have more than ${LONGEST_FORMULA} characters` });
    return null;
  }
}

describe('the check of formulas itself', () => {
  it.each(['1+', '(1', '1)', 'IF(1)', 'ROUND(1)', 'FOO(1)', '"a', '1,2', 'MAX()', '1 + 2', 'a', '=1', '1=', 'IF(1,,2)', ''])('finds the fault in %j', (formula) => {
    expect(formulaFault(formula)).not.toBeNull();
  });

  it.each(['1', '-1', '(-(1))', 'IF($A4>=5,"a""b",NA())', 'ROUND($A4*2,6)<>0', '"a"&"b"', '1.5E-7+1E+21'])('takes %j', (formula) => {
    expect(formulaFault(formula)).toBeNull();
  });
});
