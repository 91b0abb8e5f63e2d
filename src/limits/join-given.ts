import { call } from '../expressions/call.js';
import { constant, type Tree } from '../expressions/tree.js';
import { anyOf } from './check-names.js';

/** The texts that are given, one after the other with a space between them; blank when none is. */
export function joinGiven(texts: readonly Tree[]): Tree {
  if (texts.length === 0) return call('only_if', constant(false), constant(''));
  const given = texts.map((text) => call('given', text));
  const pieces = texts.map((text, index) => {
    const gap = index === 0 ? null : call('choose', anyOf(given.slice(0, index)), constant(' '), constant(''));
    return call('or_else', gap === null ? text : call('join', gap, text), constant(''));
  });
  return call('only_if', anyOf(given), pieces.length === 1 ? pieces[0]! : call('join', ...pieces));
}
