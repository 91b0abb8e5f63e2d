import { call } from '../expressions/call.js';
import { constant, nameOf, type Tree } from '../expressions/tree.js';
import type { PressureUnit } from '../readings/pressure-units.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { measureName, type NameScope } from './name-scope.js';
import { isPressure, shownTree, unitShown } from './shown-pressure.js';

/** The name of a pressure as it was entered, in the unit of its row. */
export const enteredName = (field: string): string => `entered:${field}`;

/** What stands for a placeholder: its text, and the unit of the number in it. */
interface Said {
  readonly tree: Tree;
  readonly unit: string;
}

/** What `{value}` stands for. */
export interface SaidValue extends Said {
  /** Whether `tree` is the text of a number, in the unit in which it is shown. */
  readonly isNumber: boolean;
}

/** How a sentence is put together. */
export interface SayOptions {
  /** The unit in which pressures are shown; psi when left out. */
  readonly shown?: PressureUnit;
  /** What stands for `{value}`; without one it is refused. */
  readonly value?: SaidValue;
}

/**
 * Turns a sentence with readings in braces into a tree that gives the text:
 * `{value}` the measure, `{entered NAME}` a pressure as entered, `{duration NAME}` seconds in words, `{NAME}` a reading.
 * It is blank when any of them is blank. A pressure or a loss in psi is said in the unit in which it is shown, and the unit
 * that follows it, as in `{value} psi/min`, gives way to that; where none follows, it is put there.
 *
 * @throws TreadlebookError `limit_set_invalid`
 */
export function sayTemplate(template: string, scope: NameScope, where: string, { shown = 'psi', value }: SayOptions = {}): Tree {
  const pieces = template.split(/(\{[^{}]*\})/).filter((piece) => piece !== '');
  if (/[{}]/.test(template.replace(/\{[^{}]*\}/g, ''))) {
    throw new TreadlebookError({ code: 'limit_set_invalid', where, what: 'a brace in the sentence has no partner', mend: 'write readings as {NAME}' });
  }
  const trees: Tree[] = [];
  for (const [index, piece] of pieces.entries()) {
    if (!piece.startsWith('{')) {
      if (pieces[index] !== '') trees.push(constant(pieces[index]!));
      continue;
    }
    const { tree, unit } = placeholder(piece.slice(1, -1).trim(), scope, where, { shown, value });
    trees.push(tree);
    if (shown === 'psi' || !isPressure(unit)) continue;
    const rest = pieces[index + 1] ?? '';
    const own = rest.startsWith('{') ? '' : (/^ ?psi(?:\/[a-z]+)?(?![a-z/])/.exec(rest)?.[0] ?? '');
    trees.push(constant(` ${unitShown(unit, shown)}`));
    if (own.trim() === unit) pieces[index + 1] = rest.slice(own.length);
  }
  return trees.length === 1 ? trees[0]! : call('join', ...trees);
}

function placeholder(words: string, scope: NameScope, where: string, { shown, value }: Required<Pick<SayOptions, 'shown'>> & Pick<SayOptions, 'value'>): Said {
  if (words === 'value' && value) return value.isNumber ? value : { tree: value.tree, unit: '' };
  const [first, second] = words.split(/\s+/) as [string, string | undefined];
  const name = second ?? first;
  const type = scope.typeOf(name);
  if (type === undefined || type === 'truth') throw new TreadlebookError({ code: 'limit_set_invalid', where, what: `{${words}} names no number or text`, mend: 'put the name of a reading or measure between the braces' });
  const tree = nameOf(scope.isReading(name) ? name : measureName(name), type);
  if (second === undefined) return type === 'text' ? { tree, unit: '' } : { tree: numberText(tree, scope.unitOf(name), shown), unit: scope.unitOf(name) };
  if (first === 'entered' && scope.isPressure(name)) return { tree: call('text', nameOf(enteredName(name), 'number'), constant(2)), unit: '' };
  if (first === 'duration' && type === 'number') return { tree: call('duration', tree), unit: '' };
  throw new TreadlebookError({ code: 'limit_set_invalid', where, what: `{${words}} is not understood`, mend: 'write {NAME}, {entered NAME} for a pressure, {duration NAME} for a number or {value}' });
}

/** A number as it is said: two decimals at most, a pressure in bar three; without its unit. */
export function numberText(value: Tree, unit: string, shown: PressureUnit): Tree {
  return call('text', shownTree(value, unit, shown), constant(shown === 'bar' && isPressure(unit) ? 3 : 2));
}
