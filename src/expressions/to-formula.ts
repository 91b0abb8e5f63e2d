import { TreadlebookError } from '../util/treadlebook-error.js';
import { guarded, NO_NEEDS, quoteText, type FormulaPart } from './formula-part.js';
import { OPERATORS, type Operator } from './operators.js';
import type { Tree } from './tree.js';

/** Gives the piece of formula that stands for a name. */
export type FormulaReference = (name: string) => FormulaPart;

/** The longest formula that a spreadsheet program takes, in characters. */
export const LONGEST_FORMULA = 8192;

/**
 * Compiles a tree to the text of a spreadsheet formula, without the leading `=`. It gives an empty text where the
 * function from {@link toFunction} gives null, and `yes` or `no` for a truth.
 *
 * @param where the place, for the error
 * @throws TreadlebookError `expression_invalid` for a formula longer than a cell takes
 * @example toFormula(tree, reference) // 'IF(COUNT($L4,$M4)<2,"",IFERROR($L4-$M4,""))'
 */
export function toFormula(tree: Tree, reference: FormulaReference, where?: string): string {
  const part = toFormulaPart(tree, reference, where);
  let text = withoutOuterBrackets(part.text);
  if (tree.type === 'truth') text = `IF(${text},"yes","no")`;
  if (part.mayFail) text = `IFERROR(${text},"")`;
  return withinLimit(guarded({ ...part, text }, '""'), where);
}

/**
 * Compiles a tree to a piece of formula that others can be built from.
 *
 * @throws TreadlebookError `expression_invalid` as soon as a piece is longer than a whole formula may be
 */
export function toFormulaPart(tree: Tree, reference: FormulaReference, where?: string): FormulaPart {
  switch (tree.kind) {
    case 'constant':
      return { text: constantText(tree.value), needs: NO_NEEDS, mayFail: false };
    case 'name':
      return reference(tree.name);
    case 'call': {
      const operator: Operator = OPERATORS[tree.operator];
      const part = operator.formula(tree.args.map((arg) => toFormulaPart(arg, reference, where)));
      withinLimit(part.text, where);
      for (const test of part.needs.blankTests) withinLimit(test, where);
      return part;
    }
  }
}

/** Some operators say an operand several times, so that a short expression can stand for a formula of any length. */
function withinLimit(text: string, where: string | undefined): string {
  if (text.length <= LONGEST_FORMULA) return text;
  throw new TreadlebookError({ code: 'expression_invalid', where, what: `its formula would have more than ${LONGEST_FORMULA} characters`, mend: 'split the measure, or the limit set, in two' });
}

function constantText(value: number | string | boolean): string {
  if (typeof value === 'number') return value < 0 ? `(${String(value).toUpperCase()})` : String(value).toUpperCase();
  return typeof value === 'string' ? quoteText(value) : value ? 'TRUE' : 'FALSE';
}

function withoutOuterBrackets(text: string): string {
  if (!text.startsWith('(') || !text.endsWith(')') || text.includes('"')) return text;
  let depth = 0;
  for (let index = 0; index < text.length - 1; index++) {
    if (text[index] === '(') depth += 1;
    if (text[index] === ')') depth -= 1;
    if (depth === 0) return text;
  }
  return text.slice(1, -1);
}
