import type { Tree } from './tree.js';

/** A tree with its names replaced. */
export function rename(tree: Tree, newName: (name: string) => string): Tree {
  if (tree.kind === 'name') return { ...tree, name: newName(tree.name) };
  return tree.kind === 'call' ? { ...tree, args: tree.args.map((arg) => rename(arg, newName)) } : tree;
}
