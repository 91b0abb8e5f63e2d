import { describe, expect, it } from 'vitest';
import { fieldDictionary } from '../../src/readings/dictionary.js';
import { needlePairs, splitNeedlePairs } from '../../src/readings/split-needle-pairs.js';
import type { RawCell } from '../../src/util/raw-table.js';

type Header = Parameters<typeof needlePairs>[0];
const dictionary = fieldDictionary();
const extra = (header: string): unknown => ({ role: 'extra', header });
const field = (name: string): unknown => ({ role: 'field', header: name, position: dictionary.position.get(name)! });
const pairs = (...columns: readonly unknown[]): ReturnType<typeof needlePairs> => needlePairs({ row: 3, columns, repeated: [] } as unknown as Header, dictionary);

describe('the columns in which both needles may stand', () => {
  it('name a test and a point, or the point alone right of one that names the test', () => {
    expect(pairs(field('unit'), extra('Released start'), extra('end'), extra('Weather'))).toStrictEqual([
      { column: 1, header: 'Released start', primary: 'released_primary_start', secondary: 'released_secondary_start' },
      { column: 2, header: 'end', primary: 'released_primary_end', secondary: 'released_secondary_end' },
    ]);
  });

  it('are none left of any test, none whose fields another column holds, either of them, and no second for the same fields', () => {
    expect(pairs(extra('start'), extra('end'))).toStrictEqual([]);
    expect(pairs(field('released_primary_start'), extra('Released start'))).toStrictEqual([]);
    expect(pairs(field('released_secondary_start'), extra('Released start'))).toStrictEqual([]);
    expect(pairs(extra('Released start'), extra('Start, released')).map(({ column }) => column)).toStrictEqual([0]);
  });

  it('are none in a table that the program wrote, nor among its own fields', () => {
    expect(pairs(extra('Released start'), { role: 'computed', header: 'computed.verdict' })).toStrictEqual([]);
    expect(pairs({ role: 'as_found', header: 'Released start' })).toStrictEqual([]);
  });
});

describe('a row with such columns made into two', () => {
  const found = pairs(field('unit'), extra('Released start'), extra('Weather'), extra('Released end'));
  const split = (...cells: RawCell[]): readonly RawCell[] => splitNeedlePairs({ number: 4, cells }, found, 3).cells;

  it('is the header with the names of the fields, and rows above it as they were', () => {
    const row = { number: 3, cells: ['unit', 'Released start', 'Weather', 'Released end'] };
    expect(splitNeedlePairs(row, found, 3).cells).toStrictEqual(['unit', 'released_primary_start', 'released_secondary_start', 'Weather', 'released_primary_end', 'released_secondary_end']);
    const above = { number: 2, cells: ['', '115/112', '', ''] };
    expect(splitNeedlePairs(above, found, 3)).toBe(above);
  });

  it('says where each cell stood, and of which no value was stored', () => {
    const row = splitNeedlePairs({ number: 9, cells: ['K-1', '115/112', null, null, null], unstored: [0, 1, 2, 3, 4] }, found, 3);
    expect(row.origins).toStrictEqual([0, 1, 1, 2, 3, 3, 4].map((column) => ({ row: 9, column })));
    expect(row.unstored).toStrictEqual([0, 1, 3, 4, 6]);
    expect(splitNeedlePairs({ number: 9, cells: ['K-1'] }, found, 3)).not.toHaveProperty('unstored');
  });

  it.each<[RawCell, RawCell, RawCell]>([
    ['115/112', '115', '112'],
    ['115 & 112 psi', '115 psi', '112 psi'],
    ['115psi+112', '115 psi', '112 psi'],
    ['7,9 bar / 7,7 bar', '7,9 bar', '7,7 bar'],
    ['790 kPa / 112 psi', '790 kPa', '112 psi'],
    [' 115 / 112 ', '115', '112'],
    [109, 109, null],
    [null, null, null],
    ['about 115/112', 'about 115/112', null],
    ['115/112 with the engine on', '115/112 with the engine on', null],
    ['115/112/110', '115/112/110', null],
    ['115 front/112', '115 front/112', null],
    ['115-112', '115-112', null],
    ['115 ?/112', '115 ?/112', null],
  ])('has %j as %j and %j', (cell, primary, secondary) => expect(split('K-1', cell).slice(1)).toStrictEqual([primary, secondary]));
});
