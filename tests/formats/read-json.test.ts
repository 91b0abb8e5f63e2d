import { describe, expect, it } from 'vitest';
import { readJson } from '../../src/formats/read-json.js';
import { TreadlebookError } from '../../src/util/treadlebook-error.js';
import { all } from './csv-text.js';

async function rowsOf(text: string): Promise<unknown[]> {
  return (await all(readJson(text, 'fleet.json').rows)).map(({ number, cells }) => [number, ...cells]);
}

function refusalOf(text: string): TreadlebookError {
  try {
    readJson(text, 'fleet.json');
  } catch (error) {
    if (error instanceof TreadlebookError) return error;
    throw error;
  }
  throw new Error('nothing was refused');
}

describe('a table from JSON', () => {
  it('has the keys as columns, in order of first appearance, and the position in the list as row number', async () => {
    expect(await rowsOf('[{"unit":"K-1","cut_in":101},{"site":"Quay","unit":"K-2","audible_leak":true,"notes":null}]')).toStrictEqual([
      [0, 'unit', 'cut_in', 'site', 'audible_leak', 'notes'],
      [1, 'K-1', 101, null, null, null],
      [2, 'K-2', null, 'Quay', true, null],
    ]);
  });

  it('may stand under "inspections", after a byte order mark, and may be empty', async () => {
    expect(await rowsOf('\ufeff{"format":"x","inspections":[{"unit":"K-1"}]}')).toStrictEqual([[0, 'unit'], [1, 'K-1']]);
    expect(await rowsOf('[]')).toStrictEqual([]);
    expect(await rowsOf('{"inspections":[{}]}')).toStrictEqual([[0], [1]]);
  });

  it('takes names such as __proto__ and constructor for text', async () => {
    expect(await rowsOf('[{"__proto__":"a","constructor":"b","toString":"c","unit":"K-1"}]')).toStrictEqual([[0, '__proto__', 'constructor', 'toString', 'unit'], [1, 'a', 'b', 'c', 'K-1']]);
    expect(refusalOf('{"__proto__":{"inspections":[]}}').what).toBe('it is not a list of inspections');
  });

  it.each([
    ['[{"unit":', 'fleet.json', /^it is not JSON: /],
    ['', 'fleet.json', /^it is not JSON/],
    ['"text"', 'fleet.json', /not a list of inspections/],
    ['{"inspections":{}}', 'fleet.json', /not a list of inspections/],
    ['[{"unit":"K-1"},7]', 'fleet.json', /not a list of inspections/],
    ['[[1]]', 'fleet.json', /not a list of inspections/],
    ['[{"unit":"K-1"},{"unit":["K-2"]}]', 'fleet.json, item 2, unit', /neither text, number, yes\/no nor null/],
    ['[{"cut_in":1e999}]', 'fleet.json, item 1, cut_in', /neither text, number/],
  ])('%s is refused, with the place', (text, where, what) => {
    const error = refusalOf(text);
    expect([error.code, error.where]).toStrictEqual(['input_unreadable', where]);
    expect(error.what).toMatch(what);
    expect(error.mend).toMatch(/\S/);
  });
});
