import type { OperatorName } from './operators.js';
import type { ValueType } from './value.js';

export type { Value, ValueType } from './value.js';

/** An expression as a tree. It is made by the parser or by the constructors below, and compiled by the back ends. */
export type Tree =
  | { readonly kind: 'constant'; readonly type: ValueType; readonly value: number | string | boolean }
  | { readonly kind: 'name'; readonly type: ValueType; readonly name: string }
  | { readonly kind: 'call'; readonly type: ValueType; readonly operator: OperatorName; readonly args: readonly Tree[] };

/** A constant of an expression. */
export function constant(value: number | string | boolean): Tree {
  const type = typeof value === 'number' ? 'number' : typeof value === 'string' ? 'text' : 'truth';
  return { kind: 'constant', type, value };
}

/** A name of an expression: a reading, a measure, or another computed column. */
export function nameOf(name: string, type: ValueType): Tree {
  return { kind: 'name', type, name };
}

/** True when a tree is this constant. */
export function isConstant(tree: Tree, value: number | string | boolean): boolean {
  return tree.kind === 'constant' && tree.value === value;
}

/** The names that a tree mentions, each once, in order of first mention. */
export function namesIn(tree: Tree, found = new Set<string>()): Set<string> {
  if (tree.kind === 'name') found.add(tree.name);
  if (tree.kind === 'call') for (const arg of tree.args) namesIn(arg, found);
  return found;
}

/** The number constants of a tree, in order. */
export function numbersIn(tree: Tree): number[] {
  if (tree.kind === 'constant') return typeof tree.value === 'number' ? [tree.value] : [];
  return tree.kind === 'call' ? tree.args.flatMap(numbersIn) : [];
}

/** True when a tree has more nodes than that. A part that stands in several places counts each time, as every compiler walks it each time. */
export function isLargerThan(tree: Tree, most: number): boolean {
  let left = most;
  const walk = (part: Tree): boolean => {
    left -= 1;
    return left >= 0 && (part.kind !== 'call' || part.args.every(walk));
  };
  return !walk(tree);
}
