import { describe, expect, test } from 'vitest';
import { reshapeLongForm } from '../../src/readings/reshape-long-form.js';
import type { RawRow } from '../../src/util/raw-table.js';
import { TreadlebookError } from '../../src/util/treadlebook-error.js';
import { dictionary, expectEveryCellOnce, readReshaped, records, sheet, unplacedTexts } from './reshape-support.js';

describe('reshapeLongForm', () => {
  test('puts the tests of one unit and date into one row', async () => {
    const rows = sheet(`
unit | date       | test       | circuit   | start | end | minutes
101  | 2026-03-14 | released   | primary   | 105   | 104 | 1
101  | 2026-03-14 | released   | secondary | 104   | 104 | 1
101  | 2026-03-14 | applied    | primary   | 103   | 101 | 1
101  | 2026-03-14 | applied    | secondary | 103   | 102 | 1
101  | 2026-03-14 | build-up   |           | 85    | 100 | 0.5
101  | 2026-03-14 | cut-in     |           |       | 102 |
102  | 2026-03-14 | released   | primary   | 110   | 109 | 1
`);
    const table = reshapeLongForm(rows, dictionary);
    expect(records(table)).toStrictEqual([
      {
        inspected_on: '2026-03-14', unit: '101',
        released_primary_start: '105', released_primary_end: '104', released_secondary_start: '104', released_secondary_end: '104', released_time: '1 min',
        applied_primary_start: '103', applied_primary_end: '101', applied_secondary_start: '103', applied_secondary_end: '102', applied_time: '1 min',
        buildup_from: '85', buildup_to: '100', buildup_time: '0.5 min', cut_in: '102',
      },
      { inspected_on: '2026-03-14', unit: '102', released_primary_start: '110', released_primary_end: '109', released_time: '1 min' },
    ]);
    expect(table.rows.map(({ number }) => number)).toStrictEqual([2, 8]);
    expect(table.unplaced).toStrictEqual([]);
    const at = table.header.indexOf('applied_secondary_end');
    expect(table.rows[0]!.origins![at]).toStrictEqual({ row: 5, column: 5 });
    expectEveryCellOnce(table, rows, 1);

    // A minute is 60 seconds: The International System of Units, 9th edition, table 8.
    const { value, reader } = await readReshaped(table);
    expect(value(0, 'released_time')).toBe(60);
    expect(value(0, 'buildup_time')).toBe(30);
    expect(reader.problems).toStrictEqual([]);
  });

  test('reads the words of an office, below a title, with blank columns and kPa in the header', async () => {
    const rows = sheet(`
North depot - air brake tests, spring 2026

 | Truck No. | Inspected  | Check                  | Tank    | Begin (kPa) | Finish (kPa) | | Seconds | Tested by | Bay
 | T-7       | 2026-03-14 | Static leak test       | Pri.    | 720         | 715          | | 60      | J. Smith  | 4
 | T-7       | 2026-03-14 | Static leak test       | Sec.    | 715         | 713          | | 60      | J. Smith  | 4
 | T-7       | 2026-03-14 | Service brakes applied | both    | 700         | 690          | | 60      | J. Smith  | 4
 | T-7       | 2026-03-14 | Low air warning light  |         |             | 420          | |         | J. Smith  | 4
 | T-7       | 2026-03-14 | Buzzer                 |         |             | never        | |         | J. Smith  | 4
 | T-7       | 2026-03-14 | Parking valve pop-out  |         |             | 240          | |         | J. Smith  | 4
 | T-7       | 2026-03-14 | Tractor protection valve |       |             | 250          | |         | J. Smith  | 4
 | T-7       | 2026-03-14 | One full application   |         | 690         | 640          | |         | J. Smith  | 4
`);
    const table = reshapeLongForm(rows, dictionary);
    expect(records(table)).toStrictEqual([
      {
        inspected_on: '2026-03-14', unit: 'T-7', inspector: 'J. Smith', pressure_unit: 'kPa',
        released_primary_start: '720', released_primary_end: '715', released_secondary_start: '715', released_secondary_end: '713', released_time: '60',
        applied_primary_start: '700', applied_primary_end: '690', applied_secondary_start: '700', applied_secondary_end: '690', applied_time: '60',
        light_on_at: '420', buzzer_on_at: 'never', parking_valve_closes_at: '240', trailer_valve_closes_at: '250', reserve_before: '690', reserve_after: '640', Bay: '4',
      },
    ]);
    expect(table.fieldCount).toBe(table.header.length - 1);
    expect(table.unplaced).toStrictEqual([]);
    expectEveryCellOnce(table, rows, 3);
    const { value, reader } = await readReshaped(table);
    expect(value(0, 'pressure_unit')).toBe('kPa');
    expect(value(0, 'light_on_at')).toBe(420);
    expect(reader.problems).toStrictEqual([]);
  });

  test('reads one value a row, with its unit beside it', () => {
    const rows = sheet(`
Vehicle | Date       | Test                     | Reading | Unit
B12     | 2026-03-14 | Released primary start   | 7.2     | bar
B12     | 2026-03-14 | Released primary end     | 7.1     | bar
B12     | 2026-03-14 | Released time            | 1       | min
B12     | 2026-03-14 | Governor cut-out         | 125     | psi
B12     | 2026-03-14 | Engine speed             | 1200    | rpm
B12     | 2026-03-14 | Audible leak             | no      |
`);
    const table = reshapeLongForm(rows, dictionary);
    expect(records(table)).toStrictEqual([
      { inspected_on: '2026-03-14', unit: 'B12', pressure_unit: 'bar', released_primary_start: '7.2', released_primary_end: '7.1', released_time: '1 min', cut_out: '125 psi', engine_rpm: '1200', audible_leak: 'no' },
    ]);
    expect(table.unplaced).toStrictEqual([]);
    expectEveryCellOnce(table, rows, 1);
  });

  test('reads both gauges in one row, and the pressures that the test itself names', () => {
    const rows = sheet(`
Bus no | Date       | Test                | Primary start | Primary end | Secondary start | Secondary end | Duration
7      | 2026-03-14 | Brakes off          | 105           | 104         | 104             | 104           | 1:00
7      | 2026-03-14 | Brakes on           | 103           | 101         | 103             | 102           | 1:00
7      | 2026-03-14 | Build-up 85-100 psi |               |             |                 |               | 0:32
`);
    const table = reshapeLongForm(rows, dictionary);
    expect(records(table)).toStrictEqual([
      {
        inspected_on: '2026-03-14', unit: '7',
        released_primary_start: '105', released_primary_end: '104', released_secondary_start: '104', released_secondary_end: '104', released_time: '1:00',
        applied_primary_start: '103', applied_primary_end: '101', applied_secondary_start: '103', applied_secondary_end: '102', applied_time: '1:00',
        buildup_from: 85, buildup_to: 100, buildup_time: '0:32',
      },
    ]);
    expectEveryCellOnce(table, rows, 1);
  });

  test('takes blank keys and tests from the row above, as in merged cells', () => {
    const rows = sheet(`
Date       | Unit | Test   | System    | From | To
2026-03-14 | 101  | static | primary   | 105  | 104
           |      |        | secondary | 104  | 103
           | 102  | static | primary   | 110  | 110

           |      |        | secondary | 99   | 98
`);
    const table = reshapeLongForm(rows, dictionary);
    expect(records(table)).toStrictEqual([
      { inspected_on: '2026-03-14', unit: '101', released_primary_start: '105', released_primary_end: '104', released_secondary_start: '104', released_secondary_end: '103' },
      { inspected_on: '2026-03-14', unit: '102', released_primary_start: '110', released_primary_end: '110' },
    ]);
    expect(unplacedTexts(table)).toStrictEqual(['secondary', '99', '98']);
    expect(table.notes).toContain('A blank inspected_on was taken as that of the row above.');
    expectEveryCellOnce(table, rows, 1);
  });

  test('parts inspections of one day by their number, and never lends a number to another unit', () => {
    const rows = sheet(`
Inspection no | Unit | Date       | Test     | Circuit | Start | End
A1            | 101  | 2026-03-14 | released | P       | 105   | 99
A2            | 101  | 2026-03-14 | released | P       | 105   | 104
              | 102  | 2026-03-14 | released | P       | 100   | 99
`);
    const table = reshapeLongForm(rows, dictionary);
    expect(records(table)).toMatchObject([{ inspection_id: 'A1', released_primary_end: '99' }, { inspection_id: 'A2', released_primary_end: '104' }, { unit: '102' }]);
    expect(table.rows[2]!.cells[table.header.indexOf('inspection_id')]).toBeNull();
    expectEveryCellOnce(table, rows, 1);
  });

  test('keeps the first of two readings and names the other', () => {
    const rows = sheet(`
unit | date       | test     | circuit | start | end | notes     | gizmo
101  | 2026-03-14 | released | P       | 105   | 104 | cold      | a
101  | 2026-03-14 | static   | pri     | 105   | 103 | slow hiss | b
101  | 14 Mar 2026 | static  | pri     | 105   | 104 | cold      | a
`);
    const table = reshapeLongForm(rows, dictionary);
    expect(records(table)).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', released_primary_start: '105', released_primary_end: '104', notes: 'cold', gizmo: 'a' }]);
    expect(table.unplaced.map(({ row, column, header, found }) => [row, column, header, found])).toStrictEqual([
      [3, 5, 'end', '103'],
      [3, 6, 'notes', 'slow hiss'],
      [3, 7, 'gizmo', 'b'],
    ]);
    expectEveryCellOnce(table, rows, 1);
  });

  test('names what it does not know: tests, circuits, lines that are no tests', () => {
    const rows = sheet(`
unit | date       | test       | circuit | start | end | minutes | 
101  | 2026-03-14 | wheel nuts | primary | 105   | 104 | 1       | 
101  | 2026-03-14 | released   | front   | 105   | 104 | 1       | x
101  | 2026-03-14 | released primary | secondary | 105 | 104 | 1   |
101  | 2026-03-14 | released   |         | 105   | 104 |         |
103  | 2026-03-14 | wheel nuts |         |       |     |         |
Signed: J. Smith
`);
    const table = reshapeLongForm(rows, dictionary);
    expect(records(table)).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', released_time: '1 min' }]);
    expect(unplacedTexts(table)).toStrictEqual(['wheel nuts', '105', '104', '1', 'front', '105', '104', 'x', 'secondary', '105', '104', '1', '105', '104', 'wheel nuts', '103', '2026-03-14', 'Signed: J. Smith']);
    expect(table.unplaced.find(({ found }) => found === 'front')!.expected).toBe('primary, secondary or both');
    expectEveryCellOnce(table, rows, 1);
  });

  test('takes one pressure where one is meant: the end of a start and an end', () => {
    const rows = sheet(`
unit | date       | test    | start | end | min
101  | 2026-03-14 | cut-out | 90    | 125 | 1
101  | 2026-03-14 | lamp    | 62    |     |
101  | 2026-03-14 | governor | 100  | 125 |
`);
    const table = reshapeLongForm(rows, dictionary);
    expect(records(table)).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', light_on_at: '62', cut_out: '125' }]);
    expect(unplacedTexts(table)).toStrictEqual(['90', '1', '100', '125']);
    expectEveryCellOnce(table, rows, 1);
  });

  test('takes the lists of several sheets one after another, each with its own header', () => {
    const rows = [
      ...sheet(`
unit | date       | test     | circuit | start | end
101  | 2026-03-14 | released | P       | 105   | 104
`),
      ...sheet(`
Workshop South
Date       | Unit | Test    | Gauge | Before kPa | After kPa | Mins
2026-03-15 | 201  | applied | 2     | 700        | 690       | 2
`, 40),
    ];
    const table = reshapeLongForm(rows, dictionary);
    expect(records(table)).toStrictEqual([
      { inspected_on: '2026-03-14', unit: '101', released_primary_start: '105', released_primary_end: '104' },
      { inspected_on: '2026-03-15', unit: '201', pressure_unit: 'kPa', applied_secondary_start: '700', applied_secondary_end: '690', applied_time: '2 min' },
    ]);
    expect(unplacedTexts(table)).toStrictEqual(['Workshop South']);
    expectEveryCellOnce(table, rows, 1);
  });

  test('leaves a result that is pass or fail to the office, and a time of day beside the minutes too', () => {
    const rows = sheet(`
unit | date       | time  | test     | circuit | start | end | minutes | result
101  | 2026-03-14 | 10:15 | released | P       | 105   | 104 | 4.2     | pass
`);
    const table = reshapeLongForm(rows, dictionary);
    expect(records(table)).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', released_primary_start: '105', released_primary_end: '104', released_time: '4.2 min', time: '10:15', result: 'pass' }]);
  });

  test('numbers and dates of a workbook stay what they are; one day is one inspection, whatever the time', () => {
    const day = (value: number): { value: number; format: string } => ({ value, format: 'yyyy-mm-dd hh:mm' });
    const rows: RawRow[] = [
      { number: 1, cells: ['unit', 'date', 'test', 'circuit', 'start', 'end', 'time'] },
      { number: 2, cells: [101, day(46095.25), 'released', 1, 105, 104, { value: 60 / 1440, format: 'h:mm' }] },
      { number: 3, cells: [101, day(46095.5), 'released', 2, 104, 104, { value: 60 / 1440, format: 'h:mm' }] },
    ];
    const table = reshapeLongForm(rows, dictionary);
    expect(records(table)).toStrictEqual([
      { inspected_on: day(46095.25), unit: 101, released_primary_start: 105, released_primary_end: 104, released_secondary_start: 104, released_secondary_end: 104, released_time: { value: 60 / 1440, format: 'h:mm' } },
    ]);
    expectEveryCellOnce(table, rows, 1);
  });

  test('a header of the language is only text', () => {
    const rows = sheet(`
unit | date       | test     | circuit | start | end | __proto__ | constructor
101  | 2026-03-14 | released | P       | 105   | 104 | x         | y
`);
    const table = reshapeLongForm(rows, dictionary);
    expect(table.header.slice(table.fieldCount)).toStrictEqual(['__proto__', 'constructor']);
    expect(table.rows[0]!.cells.slice(table.fieldCount)).toStrictEqual(['x', 'y']);
  });

  test('refuses what is no such list, and too many rows', () => {
    expect(() => reshapeLongForm(sheet('a | b'), dictionary)).toThrow(TreadlebookError);
    const many = Array.from({ length: 200_001 }, (_, index): RawRow => ({ number: index + 1, cells: [] }));
    expect(() => reshapeLongForm(many, dictionary)).toThrow(/^200001 rows are too many for a list with one row per test; .*; split the file/);
  });
});
