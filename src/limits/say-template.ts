import { call } from '../expressions/call.js';
import { constant, nameOf, type Tree } from '../expressions/tree.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { measureName, type NameScope } from './name-scope.js';

/** The name of a pressure as it was entered, in the unit of its row. */
export const enteredName = (field: string): string => `entered:${field}`;

/**
 * Turns a sentence with readings in braces into a tree that gives the text:
 * `{value}` the measure, `{entered NAME}` a pressure as entered, `{duration NAME}` seconds in words, `{NAME}` a reading.
 * It is blank when any of them is blank.
 *
 * @param value the tree that stands for `{value}`; without one `{value}` is refused
 * @throws TreadlebookError `limit_set_invalid`
 */
export function sayTemplate(template: string, scope: NameScope, where: string, value?: Tree): Tree {
  const pieces = template.split(/(\{[^{}]*\})/).filter((piece) => piece !== '');
  if (/[{}]/.test(template.replace(/\{[^{}]*\}/g, ''))) {
    throw new TreadlebookError({ code: 'limit_set_invalid', where, what: 'a brace in the sentence has no partner', mend: 'write readings as {NAME}' });
  }
  const trees = pieces.map((piece) => (piece.startsWith('{') ? placeholder(piece.slice(1, -1).trim(), scope, where, value) : constant(piece)));
  return trees.length === 1 ? trees[0]! : call('join', ...trees);
}

function placeholder(words: string, scope: NameScope, where: string, value: Tree | undefined): Tree {
  if (words === 'value' && value) return value;
  const [first, second] = words.split(/\s+/) as [string, string | undefined];
  const name = second ?? first;
  const type = scope.typeOf(name);
  if (type === undefined || type === 'truth') throw new TreadlebookError({ code: 'limit_set_invalid', where, what: `{${words}} names no number or text`, mend: 'put the name of a reading or measure between the braces' });
  const tree = nameOf(scope.isReading(name) ? name : measureName(name), type);
  if (second === undefined) return type === 'text' ? tree : call('text', tree, constant(2));
  if (first === 'entered' && scope.isPressure(name)) return call('text', nameOf(enteredName(name), 'number'), constant(2));
  if (first === 'duration' && type === 'number') return call('duration', tree);
  throw new TreadlebookError({ code: 'limit_set_invalid', where, what: `{${words}} is not understood`, mend: 'write {NAME}, {entered NAME} for a pressure, {duration NAME} for a number or {value}' });
}
