import type { MathNode } from 'mathjs';
import { parse } from '../util/mathjs.js';
import { nearestName } from '../util/nearest-name.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { call } from './call.js';
import { OPERATORS, SMALLEST_NORMAL, type Operator, type OperatorName } from './operators.js';
import { constant, isLargerThan, nameOf, type Tree, type ValueType } from './tree.js';

/** Control characters, halves of characters, and what XML 1.0 excludes (section 2.2). */
const IN_NO_CELL = /[\p{Cc}\p{Cs}\ufffe\uffff]/u;

/** The type of each name that an expression may mention. */
export type NameTypes = ReadonlyMap<string, ValueType>;

/** Longest expression, in characters. */
export const LONGEST_EXPRESSION = 1000;
/** Deepest nesting. */
export const DEEPEST_EXPRESSION = 64;
/** Most nodes of its tree; a spreadsheet's function takes 255 arguments. */
export const MOST_EXPRESSION_NODES = 250;

/**
 * Parses an expression over names, by mathjs, and checks its syntax tree against a list of what is allowed.
 * Nothing is evaluated by mathjs.
 *
 * Allowed: numbers, texts in quotes, `true` and `false`, declared names, `+ - * / ^`, comparisons (also chained),
 * `and or not`, `? :`, and the functions `min max abs round sqrt exp ln highest lowest given only_if`.
 *
 * @throws TreadlebookError `expression_invalid` with what is wrong and the mend
 * @example parseExpression('60 * (start - end) / time', new Map([['start', 'number'], ['end', 'number'], ['time', 'number']]))
 */
export function parseExpression(text: string, names: NameTypes): Tree {
  if (text.trim() === '') throw invalid('the expression is empty', 'write one, such as cut_out - cut_in');
  if (text.length > LONGEST_EXPRESSION) throw invalid(`the expression has ${text.length} characters`, `keep it under ${LONGEST_EXPRESSION}; split it into two measures`);
  checkBrackets(text);
  let root: MathNode;
  try {
    root = parse(text) as MathNode;
  } catch (cause) {
    throw new TreadlebookError({ code: 'expression_invalid', what: `it cannot be parsed: ${cause instanceof Error ? shortened(cause.message) : 'unknown fault'}`, mend: 'check brackets, commas and operators', cause });
  }
  const tree = new Translator(names).translate(root, 0);
  // A chain of comparisons says its inner operands twice, and chains within chains twice as many each.
  if (isLargerThan(tree, MOST_EXPRESSION_NODES)) throw tooLarge();
  return tree;
}

/** Long runs of brackets or signs are refused before mathjs sees them: its parser recurses. */
function checkBrackets(text: string): void {
  let depth = 0;
  for (const character of text) {
    if ('([{'.includes(character)) depth += 1;
    if (')]}'.includes(character)) depth -= 1;
    if (depth > DEEPEST_EXPRESSION) throw tooDeep();
  }
  if (/(?:[-+!~]\s*|not\s+){64}/.test(text)) throw tooDeep();
}

interface AnyNode {
  readonly type: string;
  readonly fn?: unknown;
  readonly op?: string;
  readonly args?: readonly AnyNode[];
  readonly implicit?: boolean;
  readonly isPercentage?: boolean;
  readonly content?: AnyNode;
  readonly value?: unknown;
  readonly name?: string;
  readonly condition?: AnyNode;
  readonly trueExpr?: AnyNode;
  readonly falseExpr?: AnyNode;
  readonly conditionals?: readonly string[];
  readonly params?: readonly AnyNode[];
}

const RELATIONS: Readonly<Record<string, OperatorName>> = {
  smaller: 'less',
  smallerEq: 'less_or_equal',
  larger: 'greater',
  largerEq: 'greater_or_equal',
  equal: 'equal',
  unequal: 'unequal',
};
const BINARY: Readonly<Record<string, OperatorName>> = { ...RELATIONS, add: 'add', subtract: 'subtract', multiply: 'multiply', divide: 'divide', pow: 'power', and: 'and', or: 'or' };
const FUNCTIONS: ReadonlyMap<string, OperatorName> = new Map(
  Object.entries(OPERATORS as Record<string, Operator>).flatMap(([name, { written }]) => (written && 'function' in written ? [[written.function, name as OperatorName]] : [])),
);
/** What is refused, by kind of node: what it is, and the mend. */
const REFUSED: ReadonlyMap<string, readonly [what: string, mend: string]> = new Map<string, readonly [string, string]>([
  ['AssignmentNode', ['an assignment', 'a single = assigns; compare with ==']],
  ['FunctionAssignmentNode', ['the definition of a function', 'add a measure instead']],
  ['BlockNode', ['a sequence of expressions', 'write one expression, without ; and on one line']],
  ['ArrayNode', ['a list', 'name the readings one by one']],
  ['ObjectNode', ['an object', 'name the readings one by one']],
  ['AccessorNode', ['a member of a name', 'use plain names']],
  ['IndexNode', ['a member of a name', 'use plain names']],
  ['RangeNode', ['a range', 'a condition is written a ? b : c']],
]);

class Translator {
  private nodes = 0;

  constructor(private readonly names: NameTypes) {}

  translate(given: unknown, depth: number): Tree {
    const node = given as AnyNode;
    this.nodes += 1;
    if (depth > DEEPEST_EXPRESSION) throw tooDeep();
    if (this.nodes > MOST_EXPRESSION_NODES) throw tooLarge();
    const next = (child: AnyNode | undefined): Tree => this.translate(child, depth + 1);
    switch (node.type) {
      case 'ConstantNode':
        return this.constant(node.value);
      case 'ParenthesisNode':
        return next(node.content);
      case 'SymbolNode':
        return this.name(node.name ?? '');
      case 'ConditionalNode':
        return call('choose', next(node.condition), next(node.trueExpr), next(node.falseExpr));
      case 'RelationalNode':
        return this.chain(node.conditionals ?? [], (node.params ?? []).map(next));
      case 'OperatorNode':
        return this.operator(node, (node.args ?? []).map(next));
      case 'FunctionNode':
        return this.function(node, () => (node.args ?? []).map(next));
      default:
        throw refused(node.type);
    }
  }

  private constant(value: unknown): Tree {
    if (typeof value === 'number' && value !== 0 && Math.abs(value) < SMALLEST_NORMAL) throw invalid(`${value} is too small for a spreadsheet`, 'write 0');
    if (typeof value === 'number' && Number.isFinite(value)) return constant(value);
    if (typeof value === 'string' && IN_NO_CELL.test(value)) throw invalid(`the text ${JSON.stringify(value)} holds a character that no cell can hold`, 'leave out line breaks and control characters');
    if (typeof value === 'string' || typeof value === 'boolean') return constant(value);
    throw invalid(`${String(value)} is no plain number`, 'write a number, a text in quotes, true or false');
  }

  private name(name: string): Tree {
    const type = this.names.get(name);
    if (type !== undefined) return nameOf(name, type);
    const near = nearestName(name, this.names.keys());
    throw invalid(`the name ${shortened(name)} is unknown`, near ? `did you mean ${near}?` : '`treadlebook fields` lists the readings, `treadlebook limits` the measures');
  }

  private operator(node: AnyNode, args: readonly Tree[]): Tree {
    const written = String(node.fn);
    if (node.isPercentage) throw invalid('the operator % is not part of the expression language', 'divide by 100');
    if (node.implicit) throw invalid('a product is written without its sign', 'write * between the two');
    if (written === 'unaryMinus') return negative(args[0]!);
    if (written === 'unaryPlus' && args[0]!.type === 'number') return args[0]!;
    if (written === 'not') return call('not', args[0]!);
    const operator = Object.hasOwn(BINARY, written) ? BINARY[written] : undefined;
    if (!operator) throw invalid(`the operator ${node.op ?? written} is not part of the expression language`, 'use + - * / ^, comparisons, and, or, not, ? :');
    return args.slice(1).reduce((left, right) => typedCall(operator, left, right), args[0]!);
  }

  private function(node: AnyNode, operands: () => readonly Tree[]): Tree {
    const callee = node.fn as AnyNode | undefined;
    const name = callee?.type === 'SymbolNode' ? (callee.name ?? '') : '';
    const operator = FUNCTIONS.get(name);
    if (!operator) {
      const near = nearestName(name, FUNCTIONS.keys());
      throw invalid(name ? `the function ${shortened(name)} is unknown` : 'only functions called by name are allowed', near ? `did you mean ${near}?` : `the functions are ${[...FUNCTIONS.keys()].join(', ')}`);
    }
    const args = operands();
    if (operator === 'round' && args.length === 1) return call('round', args[0]!, constant(0));
    return call(operator, ...args);
  }

  private chain(conditionals: readonly string[], operands: readonly Tree[]): Tree {
    const links = conditionals.map((relation, index) => {
      const operator = Object.hasOwn(RELATIONS, relation) ? RELATIONS[relation] : undefined;
      if (!operator) throw invalid(`the comparison ${relation} is not part of the expression language`, 'use < <= > >= == !=');
      return typedCall(operator, operands[index]!, operands[index + 1]!);
    });
    return links.reduce((left, right) => call('and', left, right));
  }
}

function typedCall(operator: OperatorName, left: Tree, right: Tree): Tree {
  if (left.type === 'text' && right.type === 'text') {
    if (operator === 'equal') return call('same_text', left, right);
    if (operator === 'unequal') return call('other_text', left, right);
  }
  return call(operator, left, right);
}

function negative(arg: Tree): Tree {
  return arg.kind === 'constant' && typeof arg.value === 'number' ? constant(arg.value === 0 ? 0 : -arg.value) : call('negate', arg);
}

function refused(kind: string): TreadlebookError {
  const [what, mend] = REFUSED.get(kind) ?? [kind, 'use arithmetic, comparisons, and, or, not, ? : and the listed functions'];
  return invalid(`${what} is not part of the expression language`, mend);
}

/** A text for an error line, which echoes no page of it. */
function shortened(text: string): string {
  return text.length > 120 ? `${text.slice(0, 120)}…` : text;
}

function tooLarge(): TreadlebookError {
  return invalid(`the expression has more than ${MOST_EXPRESSION_NODES} parts`, 'split it into two measures');
}

function tooDeep(): TreadlebookError {
  return invalid(`the expression is nested more than ${DEEPEST_EXPRESSION} deep`, 'split it into two measures');
}

function invalid(what: string, mend?: string): TreadlebookError {
  return new TreadlebookError({ code: 'expression_invalid', what, mend });
}
