import { expect, test } from 'vitest';
import type { InspectionReader } from '../../src/readings/read-inspections.js';
import { repeatsBetween } from '../../src/readings/repeats-between.js';
import { readRows } from '../support/read-rows.js';

const HEADER = ['inspection_id', 'unit', 'inspected_on', 'released_primary_start', 'released_primary_end', 'released_time', 'retest_of'];
type Cells = (string | null)[];
const readerOf = async (...rows: Cells[]): Promise<InspectionReader> => (await readRows([HEADER, ...rows], { isPart: true })).reader;
const between = async (...tables: Cells[][]): Promise<unknown[]> => {
  const readers = [];
  for (const rows of tables) readers.push(await readerOf(...rows));
  return repeatsBetween(readers.map((reader, index) => ({ rowWords: (row) => `row ${row} of ${'abc'[index]}.csv`, seen: reader.seen() }))).map(({ table, code, row, field, found, expected }) => [table, code, row, field, found, /row \d+ of \w+\.csv/.exec(expected)?.[0] ?? null]);
};

const one: Cells = ['A', 'T1', '2026-03-14', '110', '108', '1:00', null];

test('the same inspection in two tables, told once for each further one', async () => {
  expect(await between([one], [[null, ...one.slice(1)]], [[null, ...one.slice(1)]])).toStrictEqual([
    [1, 'inspection_twice', 2, 'unit', 'T1', 'row 2 of a.csv'],
    [2, 'inspection_twice', 2, 'unit', 'T1', 'row 2 of a.csv'],
  ]);
});

test('one inspection_id in two tables', async () => {
  expect(await between([one], [['B', 'T2', '2026-03-14', '110', '108', '1:00', null], ['A', 'T3', '2026-03-15', '110', '108', '1:00', null]])).toStrictEqual([[1, 'inspection_id_twice', 3, 'inspection_id', 'A', 'row 2 of a.csv']]);
});

test('a unit on one day in two tables with other readings, but not a retest', async () => {
  const other = (retest: string | null): Cells => ['B', 'T1', '2026-03-14', '110', '109', '1:00', retest];
  expect(await between([one], [other(null)])).toStrictEqual([[1, 'unit_twice_on_a_day', 2, 'unit', 'T1', 'row 2 of a.csv']]);
  expect(await between([one], [other('A')])).toStrictEqual([]);
});

test('a unit spelled differently', async () => {
  expect(await between([one], [['B', 't-1', '2026-03-15', '110', '109', '1:00', null]])).toStrictEqual([[1, 'unit_spelled_differently', 2, 'unit', 't-1', 'row 2 of a.csv']]);
});

test('a retest of an inspection in any of the tables is known, one of none is not', async () => {
  const retest = (of: string): Cells => ['R', 'T1', '2026-03-20', '110', '109', '1:00', of];
  expect(await between([retest('A')], [one])).toStrictEqual([]);
  expect(await between([retest('Z')], [one])).toStrictEqual([[0, 'retest_of_unknown', 2, 'retest_of', 'Z', null]]);
  const alone = await readRows([HEADER, retest('A')]);
  expect(alone.reader.problems.map(({ code }) => code)).toStrictEqual(['retest_of_unknown']);
});
