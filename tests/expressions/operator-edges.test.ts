import { describe, expect, it } from 'vitest';
import { call } from '../../src/expressions/call.js';
import { toFunction } from '../../src/expressions/to-function.js';
import { constant, nameOf, type Tree, type Value, type ValueType } from '../../src/expressions/tree.js';

const NAMES = ['x', 'y', 'z'];
const valueOf = (tree: Tree, ...slots: readonly Value[]): Value => toFunction(tree, (name) => NAMES.indexOf(name))(slots);
const names = (type: ValueType): Tree[] => NAMES.map((name) => nameOf(name, type));
const [x, y] = names('number') as [Tree, Tree];

describe('and, or of more than two', () => {
  // Blank where any is blank, whatever the others say; in each of three places.
  it.each<[readonly Value[], Value, Value]>([
    [[true, true, true], true, true],
    [[false, true, true], false, true],
    [[true, true, false], false, true],
    [[false, false, true], false, true],
    [[false, false, false], false, false],
    [[null, true, true], null, null],
    [[false, null, true], null, null],
    [[true, false, null], null, null],
  ])('%j', (slots, both, either) => {
    expect([valueOf(call('and', ...names('truth')), ...slots), valueOf(call('or', ...names('truth')), ...slots)]).toStrictEqual([both, either]);
  });
});

describe('numbers at their edges', () => {
  it('a power that vanishes is blank, and of zero is zero', () => {
    const power = call('power', x, y);
    expect([valueOf(power, 10, -400), valueOf(power, 10, -310)]).toStrictEqual([null, null]);
    expect(valueOf(power, 2, -1022)).toBe(2 ** -1022);
    expect([valueOf(power, 0, 5), valueOf(power, 0, 0.5)]).toStrictEqual([0, 0]);
  });

  it('what is left of near opposites is noise below 2^-48 of them, and a difference from there on', () => {
    const difference = call('subtract', x, y);
    expect([valueOf(difference, 1, 1 - 2 ** -49), valueOf(difference, 1, 1 - 2 ** -48)]).toStrictEqual([0, 2 ** -48]);
    expect([valueOf(call('add', x, y), -1, 1 - 2 ** -49), valueOf(call('add', x, y), -1, 1 - 2 ** -48)]).toStrictEqual([0, -(2 ** -48)]);
  });

  it('the lowest and the highest may stand in any place', () => {
    const [low, high] = [call('lowest', ...names('number')), call('highest', ...names('number'))];
    for (const slots of [[1, 2, 3], [2, 1, 3], [3, 2, 1], [2, 3, 1]]) expect([valueOf(low, ...slots), valueOf(high, ...slots)]).toStrictEqual([1, 3]);
  });
});

describe('what is the same for every row', () => {
  const constants = new Map<string, Value>([['k', 7], ['blank', null], ['yes', true]]);
  const known = (tree: Tree): Value => toFunction(tree, () => 0, constants)(['of the row']);

  it('is taken by its name and not from the row', () => {
    expect([known(nameOf('k', 'number')), known(nameOf('blank', 'number')), known(call('negate', nameOf('k', 'number')))]).toStrictEqual([7, null, -7]);
  });

  it('is given where it is not blank', () => {
    expect([known(call('given', nameOf('k', 'number'))), known(call('given', nameOf('blank', 'number')))]).toStrictEqual([true, false]);
  });

  it('reads as the row does, or as another constant', () => {
    const text = nameOf('x', 'text');
    expect([known(call('reads', text, constant('of the row'))), known(call('reads', text, constant('else')))]).toStrictEqual([true, false]);
    expect([known(call('reads', constant('a'), constant('a'))), known(call('reads', constant('a'), constant('b')))]).toStrictEqual([true, false]);
    expect([valueOf(call('reads', ...names('text').slice(0, 2)), 'a', 'a'), valueOf(call('reads', ...names('text').slice(0, 2)), 'a', 'b')]).toStrictEqual([true, false]);
  });

  it('makes a condition that always holds give its value', () => {
    expect([known(call('only_if', nameOf('yes', 'truth'), nameOf('k', 'number'))), known(call('only_if', nameOf('blank', 'truth'), nameOf('k', 'number')))]).toStrictEqual([7, null]);
  });
});
