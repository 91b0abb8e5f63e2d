import { OPERATORS, type Evaluator, type Operator } from './operators.js';
import type { Tree } from './tree.js';

/**
 * Compiles a tree to a JavaScript function over the slots of one row.
 *
 * @param slotOf the position of a name's value among the slots
 * @example toFunction(tree, (name) => slots.indexOf(name))([104, 101]) // 3
 */
export function toFunction(tree: Tree, slotOf: (name: string) => number): Evaluator {
  switch (tree.kind) {
    case 'constant': {
      const { value } = tree;
      return () => value;
    }
    case 'name': {
      const slot = slotOf(tree.name);
      return (slots) => slots[slot]!;
    }
    case 'call': {
      const operator: Operator = OPERATORS[tree.operator];
      return operator.evaluator(tree.args.map((arg) => toFunction(arg, slotOf)));
    }
  }
}
