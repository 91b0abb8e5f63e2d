import { describe, expect, test } from 'vitest';
import type { ReshapedTable } from '../../src/readings/checklist-reshaped-table.js';
import { reshapeChecklist } from '../../src/readings/reshape-checklist.js';
import { TreadlebookError } from '../../src/util/treadlebook-error.js';
import { dictionary, expectEveryCellOnce, records, sheet, unplacedTexts } from './reshape-support.js';

function read(...drawings: readonly string[]): ReshapedTable {
  const rows = drawings.flatMap((drawing) => sheet(drawing));
  const table = reshapeChecklist(rows, dictionary, 'transposed');
  if (drawings.length === 1) expectEveryCellOnce(table, rows, 0);
  return table;
}

describe('TransposedForm, sets of inspections', () => {
  test('another set begins with a unit again', () => {
    const table = read('Date | 2026-03-14 | 2026-03-15\nUnit | 101 | 102\nCut-in | 100 | 101\nUnit | 103 | 104\nCut-in | 99 | 98');
    expect(records(table)).toStrictEqual([
      { inspected_on: '2026-03-14', unit: '101', cut_in: '100' },
      { inspected_on: '2026-03-15', unit: '102', cut_in: '101' },
      { unit: '103', cut_in: '99' },
      { unit: '104', cut_in: '98' },
    ]);
    expect(table.rows.map(({ number }) => number)).toStrictEqual([1, 1, 4, 4]);
  });

  test('another set begins with the first label again, once there is a unit', () => {
    const table = read('Date | 2026-03-14\nUnit | 101\nCut-in | 100\nDate | 2026-03-15\nUnit | 102\nCut-in | 99');
    expect(records(table)).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', cut_in: '100' }, { inspected_on: '2026-03-15', unit: '102', cut_in: '99' }]);
    expect(records(read('Date | 2026-03-14\nDate | 2026-03-14\nUnit | 101\nCut-in | 100'))).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', cut_in: '100' }]);
  });

  test('a third set begins as the second did', () => {
    const set = (unit: number): string => `Date | 2026-03-14\nUnit | ${unit}\nCut-in | ${unit}`;
    expect(records(read([set(1), set(2), set(3)].join('\n'))).map(({ unit, cut_in: cutIn }) => [unit, cutIn])).toStrictEqual([['1', '1'], ['2', '2'], ['3', '3']]);
  });

  test('a title that comes again is not what a set begins with', () => {
    const table = read('Spring\nUnit | 101\nCut-in | 100\nSpring\nUnit | 102\nCut-in | 99');
    expect(table.rows.map(({ number }) => number)).toStrictEqual([1, 5]);
  });

  test('another set begins with each sheet', () => {
    expect(records(read('Unit | 101\nCut-in | 100', 'Cut-in | 99\nUnit | 101'))).toStrictEqual([{ unit: '101', cut_in: '100' }, { unit: '101', cut_in: '99' }]);
  });

  test('inspections stand in the order of their columns', () => {
    expect(records(read('Date | | 2026-03-15\nUnit | 101 | 102\nCut-in | 100 | 99'))).toStrictEqual([{ unit: '101', cut_in: '100' }, { inspected_on: '2026-03-15', unit: '102', cut_in: '99' }]);
  });
});

describe('TransposedForm, headings', () => {
  test('a title heads no labels; a heading does, and puts an end to the test above it', () => {
    const table = read('Spring inspections\nHorn | ok | no\nUnit | 101 | 102\nBrakes released\nSite | |\nPrimary start | 105 | 104\nInterior\nLamp glass | whole | torn\nPrimary end | 99 | 98');
    expect(records(table)).toStrictEqual([
      { unit: '101', released_primary_start: '105', Horn: 'ok', 'Interior: Lamp glass': 'whole' },
      { unit: '102', released_primary_start: '104', Horn: 'no', 'Interior: Lamp glass': 'torn' },
    ]);
    expect(unplacedTexts(table)).toStrictEqual(['99', '98']);
    expect(table.notes).toStrictEqual([
      '"Spring inspections" was taken as a heading.',
      '"Primary start" below "Brakes released" was taken as released_primary_start.',
      '"Interior" was taken as a heading.',
      'The sheet was read as a table on its side: one inspection in each column.',
      '2 inspections were put together.',
    ]);
  });

  test('labels above any heading head their own columns', () => {
    expect(records(read('Horn | ok\nUnit | 101\nCut-in | 100'))).toStrictEqual([{ unit: '101', cut_in: '100', Horn: 'ok' }]);
  });

  test('a test in the first row holds, and heads labels', () => {
    expect(records(read('Brakes released\nUnit | 101\nPrimary start | 105\nLamp glass | whole'))).toStrictEqual([{ unit: '101', released_primary_start: '105', 'Brakes released: Lamp glass': 'whole' }]);
  });
});

describe('TransposedForm, columns', () => {
  test('a column of units holds units of every kind, and is no inspection', () => {
    const table = read('Unit | psi | 101 | 102\nReleased time | min | 1 | 2\nEngine speed | rpm | 1200 | 1300\nOdometer | km | 12345 | 12346\nDuration | mm:ss | x | y\nLamp | - | ok | ok\nCut-in | kPa | 700 | 690');
    expect(records(table).map(({ unit, released_time: time, cut_in: cutIn, pressure_unit: gauge }) => [unit, time, cutIn, gauge])).toStrictEqual([['101', '1 min', '700', 'kPa'], ['102', '2 min', '690', 'kPa']]);
    expect(unplacedTexts(table)).toStrictEqual(['x', 'y']);
  });

  test('the column of units may stand last', () => {
    expect(records(read('Unit | 101 | 102 |\nCut-in | 700 | 690 | kPa\nCut-out | 850 | 840 | kPa'))).toStrictEqual([{ unit: '101', pressure_unit: 'kPa', cut_in: '700', cut_out: '850' }, { unit: '102', pressure_unit: 'kPa', cut_in: '690', cut_out: '840' }]);
  });

  test.each([
    ['a remark first', 'look again | kPa'],
    ['a remark last', 'kPa | look again'],
  ])('a column with a unit and a remark is no column of units: %s', (_, words) => {
    const [first, second] = words.split(' | ');
    const table = read(`Unit | 101 | 102 |\nCut-in | 700 | 690 | ${first}\nCut-out | 850 | 840 | ${second}`);
    expect(records(table)).toStrictEqual([{ unit: '101', cut_in: '700', cut_out: '850' }, { unit: '102', cut_in: '690', cut_out: '840' }]);
    expect(table.unplaced).toMatchObject([{ found: first, header: 'Cut-in', expected: 'a column with a unit and a date' }, { found: second, header: 'Cut-out' }]);
  });

  test('what stands beside no label is named, but for the numbers of the inspections', () => {
    const table = read(' | Inspection 1 | Inspection 2\nUnit | 101 | 102\nCut-in | 100 | 99\n | 17 |');
    expect(table.unplaced).toStrictEqual([{ row: 4, column: 1, header: '', found: '17', expected: 'a label in the column of labels' }]);
    const numbered = read('Unit | Inspection 1 | 102\nCut-in | 100 | 99');
    expect(records(numbered)).toStrictEqual([{ unit: '102', cut_in: '99' }]);
    expect(unplacedTexts(numbered)).toStrictEqual(['100']);
  });

  test('values that say the names of fields are values', () => {
    expect(records(read('Unit | 101\nCut-in | 100\nDefects | Buzzer\nNotes | Light'))).toStrictEqual([{ unit: '101', cut_in: '100', defects: 'Buzzer', notes: 'Light' }]);
    expect(records(read('Unit | 101 | 102\nCut-in | | 99\nDefects | Buzzer | Light\nNotes | Light | none'))).toStrictEqual([{ unit: '101', defects: 'Buzzer', notes: 'Light' }, { unit: '102', cut_in: '99', defects: 'Light', notes: 'none' }]);
  });
});

describe('reshapeChecklist, what it refuses', () => {
  test.each(['checklist', 'transposed'] as const)('a %s without a label that is understood', (shape) => {
    expect(() => reshapeChecklist(sheet('1 | 2'), dictionary, shape)).toThrow(TreadlebookError);
    expect(() => reshapeChecklist(sheet('1 | 2'), dictionary, shape)).toThrow(expect.objectContaining({ code: 'header_missing' }));
  });

  test('too many rows of a checklist', () => {
    const many = Array.from({ length: 200_001 }, (_, index) => ({ number: index + 1, cells: [] }));
    expect(() => reshapeChecklist(many, dictionary, 'checklist')).toThrow(/^200001 rows are too many for a checklist;/);
  });
});
