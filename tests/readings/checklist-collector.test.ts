import { beforeEach, describe, expect, test } from 'vitest';
import { Collector, NO_UNITS, refuseTooManyRows, shorten } from '../../src/readings/checklist-collector.js';
import { LabelReader } from '../../src/readings/checklist-label-reader.js';
import type { RawCell } from '../../src/util/raw-table.js';
import { dictionary, records } from './reshape-support.js';

let collector: Collector;
beforeEach(() => {
  collector = new Collector(dictionary, new LabelReader(dictionary));
});

const at = (row: number, column = 1) => ({ row, column });

describe('Collector', () => {
  test('a second value of a field is named, with the one that was kept', () => {
    const draft = collector.begin(1);
    collector.place(draft, ['cut_in'], '100', at(1), 'Cut-in', NO_UNITS);
    collector.place(draft, ['cut_in'], ' 101 ', at(2), 'Cut in', NO_UNITS);
    expect(collector.table().unplaced).toStrictEqual([
      { row: 2, column: 1, header: 'Cut in', found: '101', expected: 'one value of cut_in for an inspection; the first one found, 100, was kept. If this is another inspection, give it a date or an inspection_id of its own' },
    ]);
  });

  test('both fields of a value are named, and the one that is taken already', () => {
    const draft = collector.begin(1);
    collector.place(draft, ['buzzer_on_at'], '60', at(1), 'Buzzer', NO_UNITS);
    collector.place(draft, ['light_on_at', 'buzzer_on_at'], '61', at(2), 'Warning', NO_UNITS);
    expect(collector.table().unplaced[0]!.expected).toMatch(/^one value of light_on_at and buzzer_on_at for an inspection; the first one found, 60, was kept\./);
  });

  test('a second value in a column of the office is named; the same again only helped', () => {
    const draft = collector.begin(1);
    collector.placeExtra(draft, 'Belt', 'ok', at(1));
    collector.placeExtra(draft, 'Belt', 'OK', at(2));
    collector.placeExtra(draft, 'Belt', 'worn', at(3));
    const { unplaced, used } = collector.table();
    expect(unplaced).toStrictEqual([{ row: 3, column: 1, header: 'Belt', found: 'worn', expected: 'one value of Belt for an inspection. If this is another inspection, give it a date or an inspection_id of its own' }]);
    expect(used).toStrictEqual([at(2)]);
  });

  test('labels that differ only in how they are written share the column of the first', () => {
    const [one, two] = [collector.begin(1), collector.begin(2)];
    collector.placeExtra(one, 'Belt tension', 'ok', at(1));
    collector.placeExtra(two, 'BELT-TENSION:', 'worn', at(2));
    collector.placeExtra(one, '---', 'a', at(3));
    collector.placeExtra(one, '***', 'b', at(4));
    expect(records(collector.table())).toStrictEqual([{ 'Belt tension': 'ok', '---': 'a', '***': 'b' }, { 'Belt tension': 'worn' }]);
  });

  test.each<[string, string, RawCell]>([
    ['released_time', 'a time', '1 min'],
    ['cut_in', 'a pressure', '1'],
  ])('minutes are written behind %s only if it is %s', (name, _, cell) => {
    const draft = collector.begin(1);
    collector.place(draft, [name], '1', at(1), name, { unit: null, timeUnit: 'min' });
    expect(draft.cellOf(name)).toBe(cell);
  });

  test('a time without a unit stays as it stands', () => {
    const draft = collector.begin(1);
    collector.place(draft, ['released_time'], '4.2', at(1), 'Time', NO_UNITS);
    expect(draft.cellOf('released_time')).toBe('4.2');
  });

  test('a unit and a date without anything else are no inspection, and are named', () => {
    const [signature, inspection] = [collector.begin(1), collector.begin(2)];
    collector.place(signature, ['unit'], '101', at(1), 'Unit', NO_UNITS);
    collector.place(signature, ['inspected_on'], '2026-03-14', at(1, 2), 'Date', NO_UNITS);
    collector.place(inspection, ['unit'], '102', at(2), 'Unit', NO_UNITS);
    collector.place(inspection, ['cut_in'], '100', at(2, 2), 'Cut-in', NO_UNITS);
    const table = collector.table();
    expect(records(table)).toStrictEqual([{ unit: '102', cut_in: '100' }]);
    expect(table.rows[0]!.number).toBe(2);
    expect(table.unplaced).toStrictEqual([
      { row: 1, column: 1, header: 'unit', found: '101', expected: 'an inspection with readings' },
      { row: 1, column: 2, header: 'inspected_on', found: '2026-03-14', expected: 'an inspection with readings' },
    ]);
  });

  test('a cell that an inspection shares with one that is none is placed, and not named', () => {
    const [inspection, none, other] = [collector.begin(1), collector.begin(2), collector.begin(3)];
    for (const draft of [inspection, none, other]) collector.place(draft, ['unit'], '101', at(1), 'Unit', NO_UNITS);
    collector.place(inspection, ['cut_in'], '100', at(1, 2), 'Cut-in', NO_UNITS);
    for (const draft of [none, other]) collector.place(draft, ['inspected_on'], '2026-03-14', at(2), 'Date', NO_UNITS);
    expect(collector.table().unplaced.map(({ found }) => found)).toStrictEqual(['2026-03-14']);
  });

  test('a cell that was placed, or is named, is not counted among those that only helped', () => {
    const draft = collector.begin(1);
    collector.place(draft, ['cut_in'], '100', at(1), 'Cut-in', NO_UNITS);
    collector.leave('x', at(2), '', 'nothing');
    for (const origin of [at(1), at(2), at(3)]) collector.use(origin);
    expect(collector.table().used).toStrictEqual([at(3)]);
  });

  test('says how many inspections there are, and which unit was assumed', () => {
    const draft = collector.begin(1);
    for (const [index, name] of ['cut_in', 'cut_out'].entries()) collector.place(draft, [name], '700', at(1, index), name, { unit: 'kPa', timeUnit: null });
    expect(collector.table().notes).toStrictEqual(['1 inspection was put together.']);
    collector.place(collector.begin(2), ['cut_in'], '100', at(2), 'Cut-in', NO_UNITS);
    collector.place(draft, ['light_on_at'], '420', at(1, 2), 'Light', NO_UNITS);
    expect(collector.table().notes).toStrictEqual(['1 inspection was put together.', 'Pressures without a unit were taken as kPa, like the others of their inspection.', '2 inspections were put together.']);
  });

  test('at most 60 sentences are said', () => {
    for (let index = 0; index < 70; index++) collector.note(`Sentence ${index}.`);
    expect(collector.table().notes).toHaveLength(60);
  });

  test('as many rows as are held at once are not refused; one more is', () => {
    const rows = Array.from({ length: 200_001 }, (_, index) => ({ number: index + 1, cells: [] }));
    expect(() => refuseTooManyRows(rows.slice(1), 'a checklist')).not.toThrow();
    expect(() => refuseTooManyRows(rows, 'a checklist')).toThrow(expect.objectContaining({ code: 'input_unreadable' }));
  });

  test('a text of more than 40 letters is cut to fit into a sentence', () => {
    expect(shorten('a'.repeat(40))).toBe('a'.repeat(40));
    expect(shorten('a'.repeat(41))).toBe(`${'a'.repeat(39)}…`);
  });
});
