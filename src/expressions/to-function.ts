import { constantEvaluator, slotEvaluator, type Evaluator } from './evaluator.js';
import { OPERATORS, type Operator } from './operators.js';
import type { Tree, Value } from './tree.js';

/** Values of names that are the same for every row; blank is null. */
export type ConstantNames = ReadonlyMap<string, Value>;

const NO_CONSTANTS: ConstantNames = new Map();

/**
 * Compiles a tree to a JavaScript function over the slots of one row. What is the same for every row is worked out once.
 *
 * @param slotOf the position of a name's value among the slots
 * @param constants names that need no slot
 * @example toFunction(tree, (name) => slots.indexOf(name))([104, 101]) // 3
 */
export function toFunction(tree: Tree, slotOf: (name: string) => number, constants = NO_CONSTANTS): Evaluator {
  switch (tree.kind) {
    case 'constant':
      return constantEvaluator(tree.value);
    case 'name': {
      const constant = constants.get(tree.name);
      return constant === undefined ? slotEvaluator(slotOf(tree.name)) : constantEvaluator(constant);
    }
    case 'call': {
      const operator: Operator = OPERATORS[tree.operator];
      const args = tree.args.map((arg) => toFunction(arg, slotOf, constants));
      const evaluator = operator.evaluator(args);
      return args.every(({ constant }) => constant !== undefined) ? constantEvaluator(evaluator([])) : evaluator;
    }
  }
}
