import { nameOf, numbersIn, type Tree } from './tree.js';

/** A tree whose only number constant was replaced by a name, and that number. */
export interface Hoisted {
  readonly tree: Tree;
  readonly value: number;
}

/**
 * Puts a name in the place of the only number constant of a tree, so that the number can stand in a cell of its own.
 * Null when the tree has none or several.
 *
 * @example hoistNumber(parse('0.5 * cut_out'), 'limit:warning') // { value: 0.5, tree: limit:warning * cut_out }
 */
export function hoistNumber(tree: Tree, name: string): Hoisted | null {
  const numbers = numbersIn(tree);
  return numbers.length === 1 ? { tree: replaced(tree, name), value: numbers[0]! } : null;
}

function replaced(tree: Tree, name: string): Tree {
  if (tree.kind === 'constant' && typeof tree.value === 'number') return nameOf(name, 'number');
  return tree.kind === 'call' ? { ...tree, args: tree.args.map((arg) => replaced(arg, name)) } : tree;
}
