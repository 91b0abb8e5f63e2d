import { describe, expect, test } from 'vitest';
import { fieldDictionary } from '../../src/readings/dictionary.js';
import { needlePairs, splitNeedlePairs } from '../../src/readings/split-needle-pairs.js';
import type { RawCell } from '../../src/util/raw-table.js';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';

const read = async (...lines: string[]): ReturnType<typeof evaluateReadings> => evaluateReadings(new TextEncoder().encode(lines.join('\n')), { format: 'csv' });

describe('both needles in one cell, below a header that names no circuit', () => {
  test('become the readings of the two circuits', async () => {
    const fleet = await read('Unit,Date,Released start,Released end,Released min,Weather', 'T1,2026-03-14,115/112,113 & 110 psi,1,rain', 'T2,2026-03-14,7.9/7.7 bar,109,1,sun');
    const value = (row: number, field: string): unknown => fleet.evaluations[row]!.inspection.values[fleet.plan.dictionary.position.get(field)!] ?? null;
    expect(['released_primary_start', 'released_secondary_start', 'released_primary_end', 'released_secondary_end', 'released_time'].map((field) => value(0, field))).toStrictEqual([115, 112, 113, 110, 60]);
    // 1 bar = 14.503 773 773 psi, NIST SP 811 Appendix B.
    expect(value(1, 'released_primary_start')).toBeCloseTo(7.9 * 14.503773773, 6);
    expect(value(1, 'released_secondary_start')).toBeCloseTo(7.7 * 14.503773773, 6);
    expect([value(1, 'released_primary_end'), value(1, 'released_secondary_end')]).toStrictEqual([109, null]);
    expect(fleet.problems).toStrictEqual([]);
    expect(fleet.notes).toHaveLength(2);
    expect(fleet.evaluations.map(({ inspection }) => inspection.extra)).toStrictEqual([['rain'], ['sun']]);
  });

  test('a problem names the cell of the file', async () => {
    const fleet = await read('Unit,Released start,Released end,Date', 'T1,115/11O,113/110,2026-03-14');
    expect(fleet.problems.map(({ code, cell, found }) => [code, cell, found])).toStrictEqual([['not_understood', 'B2', '115/11O']]);
  });

  test('a column of the office\'s own in a table that the program wrote is not split', async () => {
    const fleet = await read('unit,inspected_on,Released start,computed.verdict', 'T1,2026-03-14,115/112,pass');
    expect(fleet.evaluations[0]!.inspection.extra).toStrictEqual(['115/112']);
  });

  test('a column that names its circuit still takes one needle only', async () => {
    const fleet = await read('Unit,Date,Released primary start', 'T1,2026-03-14,115/112');
    expect(fleet.problems.map(({ code, cell }) => [code, cell])).toStrictEqual([['not_understood', 'C2']]);
  });
});

type Header = Parameters<typeof needlePairs>[0];
const dictionary = fieldDictionary();
const extra = (header: string): unknown => ({ role: 'extra', header });
const field = (name: string): unknown => ({ role: 'field', header: name, position: dictionary.position.get(name)! });
const pairs = (...columns: readonly unknown[]): ReturnType<typeof needlePairs> => needlePairs({ row: 3, columns, repeated: [] } as unknown as Header, dictionary);

describe('the columns in which both needles may stand', () => {
  test('name a test and a point, or the point alone right of one that names the test', () => {
    expect(pairs(field('unit'), extra('Released start'), extra('end'), extra('Weather'))).toStrictEqual([
      { column: 1, header: 'Released start', primary: 'released_primary_start', secondary: 'released_secondary_start' },
      { column: 2, header: 'end', primary: 'released_primary_end', secondary: 'released_secondary_end' },
    ]);
  });

  test('are none left of any test, none whose fields another column holds, either of them, and no second for the same fields', () => {
    expect(pairs(extra('start'), extra('end'))).toStrictEqual([]);
    expect(pairs(field('released_primary_start'), extra('Released start'))).toStrictEqual([]);
    expect(pairs(field('released_secondary_start'), extra('Released start'))).toStrictEqual([]);
    expect(pairs(extra('Released start'), extra('Start, released')).map(({ column }) => column)).toStrictEqual([0]);
  });

  test('are none in a table that the program wrote, nor among its own fields', () => {
    expect(pairs(extra('Released start'), { role: 'computed', header: 'computed.verdict' })).toStrictEqual([]);
    expect(pairs({ role: 'as_found', header: 'Released start' })).toStrictEqual([]);
  });
});

describe('a row with such columns made into two', () => {
  const found = pairs(field('unit'), extra('Released start'), extra('Weather'), extra('Released end'));
  const split = (...cells: RawCell[]): readonly RawCell[] => splitNeedlePairs({ number: 4, cells }, found, 3).cells;

  test('is the header with the names of the fields, and rows above it as they were', () => {
    const row = { number: 3, cells: ['unit', 'Released start', 'Weather', 'Released end'] };
    expect(splitNeedlePairs(row, found, 3).cells).toStrictEqual(['unit', 'released_primary_start', 'released_secondary_start', 'Weather', 'released_primary_end', 'released_secondary_end']);
    const above = { number: 2, cells: ['', '115/112', '', ''] };
    expect(splitNeedlePairs(above, found, 3)).toBe(above);
  });

  test('says where each cell stood, and of which no value was stored', () => {
    const row = splitNeedlePairs({ number: 9, cells: ['K-1', '115/112', null, null, null], unstored: [0, 1, 2, 3, 4] }, found, 3);
    expect(row.origins).toStrictEqual([0, 1, 1, 2, 3, 3, 4].map((column) => ({ row: 9, column })));
    expect(row.unstored).toStrictEqual([0, 1, 3, 4, 6]);
    expect(splitNeedlePairs({ number: 9, cells: ['K-1'] }, found, 3)).not.toHaveProperty('unstored');
  });

  test.each<[RawCell, RawCell, RawCell]>([
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
