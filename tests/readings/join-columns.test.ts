import { expect, test } from 'vitest';
import { fieldDictionary } from '../../src/readings/dictionary.js';
import { readHeader } from '../../src/readings/find-header.js';
import { joinColumns } from '../../src/readings/join-columns.js';

const columnsOf = (...cells: string[]): ReturnType<typeof readHeader>['columns'] => readHeader({ number: 1, cells }, fieldDictionary()).columns;
const headersOf = (joined: ReturnType<typeof joinColumns>): string[] => joined.columns.map(({ header }) => header);

test('a field is one column under whatever header, and what a later table has besides follows', () => {
  const joined = joinColumns([columnsOf('unit', 'Bay 7'), columnsOf('Unit no', 'inspected_on', 'Colour', 'Bay 7')]);
  expect(headersOf(joined)).toStrictEqual(['unit', 'Bay 7', 'inspected_on', 'Colour']);
  expect(joined.places[0]!(['b'])).toStrictEqual(['b', null]);
  expect(joined.places[1]!(['red', 'b'])).toStrictEqual(['b', 'red']);
});

test('of two columns with one header the first goes with the first and the second with the second', () => {
  const joined = joinColumns([columnsOf('unit', 'x', 'x'), columnsOf('unit', 'x'), columnsOf('unit', 'x', 'y', 'x', 'x')]);
  expect(headersOf(joined)).toStrictEqual(['unit', 'x', 'x', 'y', 'x']);
  expect(joined.places.map((place, index) => place(['1', '2', '3', '4'].slice(0, [2, 1, 4][index])))).toStrictEqual([
    ['1', '2', null, null],
    ['1', null, null, null],
    ['1', '3', '2', '4'],
  ]);
});

test('headers that are names of JavaScript are headers, and cells beyond the header stay beyond it', () => {
  const joined = joinColumns([columnsOf('unit', '__proto__'), columnsOf('unit', 'constructor', '__proto__')]);
  expect(headersOf(joined)).toStrictEqual(['unit', '__proto__', 'constructor']);
  expect(joined.places[1]!(['c', 'p', 'beyond', null])).toStrictEqual(['p', 'c', 'beyond', null]);
});

test('one table stays as it is', () => {
  const columns = columnsOf('unit', 'Bay 7', 'computed.verdict', 'as_found');
  const joined = joinColumns([columns]);
  expect(joined.columns).toStrictEqual(columns);
  const extra = ['b', 'beyond'];
  expect(joined.places[0]!(extra)).toBe(extra);
});
