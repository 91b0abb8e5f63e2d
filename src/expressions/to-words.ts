import { OPERATORS, type Operator } from './operators.js';
import type { Tree } from './tree.js';

/**
 * An expression in words, for people who do not read formulas.
 *
 * @example toWords(tree, (name) => titles[name]) // '(60 times (primary start minus primary end)) divided by time'
 */
export function toWords(tree: Tree, title: (name: string) => string): string {
  const words = wordsOf(tree, title);
  return words.startsWith('(') && matchesWhole(words) ? words.slice(1, -1) : words;
}

function wordsOf(tree: Tree, title: (name: string) => string): string {
  switch (tree.kind) {
    case 'constant':
      return tree.value === '' ? 'an empty text' : String(tree.value);
    case 'name':
      return title(tree.name);
    case 'call':
      return (OPERATORS[tree.operator] as Operator).words(tree.args.map((arg) => wordsOf(arg, title)));
  }
}

function matchesWhole(words: string): boolean {
  let depth = 0;
  for (let index = 0; index < words.length; index++) {
    if (words[index] === '(') depth += 1;
    if (words[index] === ')') depth -= 1;
    if (depth === 0) return index === words.length - 1;
  }
  return false;
}
