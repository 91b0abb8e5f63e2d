import { describe, expect, test } from 'vitest';
import type { ReshapedTable } from '../../src/readings/checklist-reshaped-table.js';
import { reshapeLongForm, type LongFormOptions } from '../../src/readings/reshape-long-form.js';
import { dictionary, expectEveryCellOnce, records, sheet } from './reshape-support.js';

function read(drawing: string, options: LongFormOptions = {}): ReshapedTable {
  const rows = sheet(drawing);
  const table = reshapeLongForm(rows, dictionary, options);
  expectEveryCellOnce(table, rows, 1);
  return table;
}

const unplaced = (table: ReshapedTable): unknown => table.unplaced.map(({ header, found, expected }) => [header, found, expected]);

describe('reshapeLongForm, which rows are one inspection', () => {
  test('each date of a unit is one, and each unit of a date', () => {
    expect(records(read('unit | date | test | value\n101 | 2026-03-14 | cut-in | 100\n101 | 2026-03-15 | cut-in | 99\n102 | 2026-03-15 | cut-in | 98'))).toStrictEqual([
      { unit: '101', inspected_on: '2026-03-14', cut_in: '100' },
      { unit: '101', inspected_on: '2026-03-15', cut_in: '99' },
      { unit: '102', inspected_on: '2026-03-15', cut_in: '98' },
    ]);
  });

  test('days are counted as the workbook counts them', () => {
    const rows = (): ReturnType<typeof sheet> => [
      { number: 1, cells: ['unit', 'date', 'test', 'value'] },
      { number: 2, cells: ['101', { value: 46095, format: 'yyyy-mm-dd' }, 'cut-in', '100'] },
      { number: 3, cells: ['101', '2030-03-15', 'cut-out', '125'] },
    ];
    // 1462 days lie between the two ways of counting (ECMA-376, 18.17.4.1).
    expect(reshapeLongForm(rows(), dictionary, { date1904: true }).rows).toHaveLength(1);
    expect(reshapeLongForm(rows(), dictionary).rows).toHaveLength(2);
  });

  test('a unit is lent to the row below of the same date, whatever the case', () => {
    const table = read('site | date | unit | inspection no | test | value\nNorth | 2026-03-14 | T-7 | A1 | cut-in | 100\nNorth | 2026-03-14 | | | cut-out | 125\nNorth | 2026-03-14 | t-7 | | light | 60');
    expect(records(table)).toStrictEqual([{ inspection_id: 'A1', inspected_on: '2026-03-14', unit: 'T-7', site: 'North', light_on_at: '60', cut_in: '100', cut_out: '125' }]);
    expect(table.notes).toContain('A blank unit was taken as that of the row above.');
    expect(table.notes).toContain('A blank inspection_id was taken as that of the row above.');
  });

  test('a date is not lent to another unit, nor a number to another date', () => {
    expect(records(read('unit | date | test | value\n101 | 2026-03-14 | cut-in | 100\n102 | | cut-in | 99'))).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', cut_in: '100' }, { unit: '102', cut_in: '99' }]);
    expect(records(read('inspection no | unit | date | test | value\nA1 | 101 | 2026-03-14 | cut-in | 100\n | 101 | 2026-03-15 | cut-in | 99'))).toStrictEqual([{ inspection_id: 'A1', inspected_on: '2026-03-14', unit: '101', cut_in: '100' }, { inspected_on: '2026-03-15', unit: '101', cut_in: '99' }]);
  });

  test('a row without a unit has its date alone', () => {
    expect(records(read('unit | date | test | value\n | 2026-03-14 | cut-in | 100'))).toStrictEqual([{ inspected_on: '2026-03-14', cut_in: '100' }]);
  });

  test('a row without a unit and a date is named', () => {
    expect(unplaced(read('unit | date | test | value\n | | cut-in | 100'))).toStrictEqual([['test', 'cut-in', 'a row with a unit, a date, a test and its readings'], ['value', '100', 'a row with a unit, a date, a test and its readings']]);
  });
});

describe('reshapeLongForm, which test a row is of', () => {
  const HEAD = 'unit | date | test | circuit | start | end | notes';

  test('a blank test is that of the row above in the same inspection, past a row without readings', () => {
    const table = read(`${HEAD}\n101 | 2026-03-14 | released | P | 105 | 104 |\n101 | 2026-03-14 | | | | | cold\n101 | 2026-03-14 | | S | 104 | 103 |`);
    expect(records(table)).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', released_primary_start: '105', released_primary_end: '104', released_secondary_start: '104', released_secondary_end: '103', notes: 'cold' }]);
    expect(table.notes).toContain('A blank test was taken as that of the row above, in the same inspection.');
  });

  test('a row without readings needs no test', () => {
    const { notes } = read(`${HEAD}\n101 | 2026-03-14 | released | P | 105 | 104 |\n101 | 2026-03-14 | | | | | cold`);
    expect(notes.join(' ')).not.toContain('A blank test');
  });

  test('a blank test is not that of another inspection', () => {
    const table = read(`${HEAD}\n101 | 2026-03-14 | released | P | 105 | 104 |\n102 | 2026-03-14 | | P | 100 | 99 |\n102 | 2026-03-14 | | P | 100 | 99 |`);
    expect(records(table)).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', released_primary_start: '105', released_primary_end: '104' }]);
    expect(table.unplaced.map(({ found }) => found)).toStrictEqual(['100', '99', '100', '99', '102', '2026-03-14']);
    expect(table.unplaced[0]!.expected).toMatch(/^a test beside it, such as released/);
    expect(table.notes.join(' ')).not.toContain('A blank test');
  });

  test('a blank test is not that of a row further up, once another inspection stands between', () => {
    const table = read(`${HEAD}\n101 | 2026-03-14 | released | P | 105 | 104 |\n102 | 2026-03-14 | | | | | cold\n101 | 2026-03-14 | | S | 104 | 103 |`);
    expect(records(table)).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', released_primary_start: '105', released_primary_end: '104' }, { inspected_on: '2026-03-14', unit: '102', notes: 'cold' }]);
    expect(table.unplaced.map(({ found }) => found)).toStrictEqual(['104', '103']);
  });

  test('a test and its circuit that are not known are named by their columns', () => {
    const table = read(`${HEAD}\n101 | 2026-03-14 | wheel nuts | front | 105 | 104 |\n101 | 2026-03-14 | released | P | 105 | 104 |`);
    expect(table.unplaced.slice(0, 2).map(({ header, found }) => [header, found])).toStrictEqual([['test', 'wheel nuts'], ['circuit', 'front']]);
  });

  test.each(['Unit', 'Date', 'Start', 'Inspection no'])('%s is no test', (name) => {
    const table = read(`${HEAD}\n101 | 2026-03-14 | ${name} | P | 105 | 104 |\n101 | 2026-03-14 | cut-in | | | 100 |`);
    expect(records(table)).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', cut_in: '100' }]);
    expect(table.unplaced[0]).toMatchObject({ header: 'test', found: name });
  });

  test('a test and a circuit may name the same gauge', () => {
    expect(records(read(`${HEAD}\n101 | 2026-03-14 | released primary | primary | 105 | 104 |`))).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', released_primary_start: '105', released_primary_end: '104' }]);
  });

  test('a reading named by the test takes its gauge from the column beside it', () => {
    expect(records(read('unit | date | test | circuit | value\n101 | 2026-03-14 | released start | P | 105\n101 | 2026-03-14 | Settle | - | 30 s'))).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', released_primary_start: '105', applied_settle_time: '30 s' }]);
  });

  test('a time is looked for among the times first, a pressure among the values', () => {
    const table = read('unit | date | test | value | minutes\n101 | 2026-03-14 | Released time | 7 | 1\n101 | 2026-03-14 | cut-out | 125 | 2');
    expect(records(table)).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', released_time: '1 min', cut_out: '125' }]);
    expect(unplaced(table)).toStrictEqual([['value', '7', 'one reading for released_time; minutes was taken'], ['minutes', '2', 'one reading for cut_out; value was taken']]);
  });
});

describe('reshapeLongForm, what it expects', () => {
  test.each([
    ['governor | | 100 | |', 'cut-in or cut-out as the test, each in a row of its own'],
    ['released | P | | | 105', 'whether it is the start or the end of the released test: name it in the test, or put it into the column for it'],
    ['released | | 105 | |', 'the circuit beside it: primary, secondary or both'],
    ['applied | | 105 | |', 'the circuit beside it: primary, secondary or both'],
    ['cut-out | | | 1 |', 'one reading for cut_out'],
    ['light and buzzer | | 60 | | 61', 'one reading for light_on_at and buzzer_on_at; value was taken'],
    ['reserve | | | 1 |', 'a reading of the reserve test, which has no time'],
  ])('%s: %s', (row, expected) => {
    const table = read(`unit | date | test | circuit | end | minutes | value | start\n101 | 2026-03-14 | ${row}\n101 | 2026-03-14 | cut-in | | | | 100 |`);
    expect(table.unplaced.map((cell) => cell.expected)).toStrictEqual([expected]);
  });

  test('a settle time is one of the applied test', () => {
    const table = read('unit | date | test | settling | value\n101 | 2026-03-14 | applied | 30 s |\n101 | 2026-03-14 | released | 40 s |\n101 | 2026-03-14 | build-up | 50 s |');
    expect(records(table)).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', applied_settle_time: '30 s' }]);
    expect(table.unplaced.map(({ expected }) => expected)).toStrictEqual(['a settle time of the applied test', 'a reading of the buildup test, which has no settle time']);
  });

  test('a cell beyond the header is named', () => {
    expect(unplaced(read('unit | date | test | value\n101 | 2026-03-14 | cut-in | 100 | stray'))).toStrictEqual([['', 'stray', 'a column with a name; put one above it']]);
  });

  test('the units beside the readings: of pressure, of time, of the field', () => {
    const table = read('unit | date | test | value | unit of pressure\n101 | 2026-03-14 | cut-in | 700 | kPa\n101 | 2026-03-14 | cut-out | 850 | kPa\n101 | 2026-03-14 | odometer | 12345 | KM\n101 | 2026-03-14 | released time | 1 | min\n101 | 2026-03-14 | engine speed | 1200 | rpm\n101 | 2026-03-14 | light | 420 | furlong\n101 | 2026-03-14 | reserve before | 690 | km');
    expect(records(table)).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', odometer: '12345', pressure_unit: 'kPa', released_time: '1 min', light_on_at: '420', engine_rpm: '1200', cut_in: '700', cut_out: '850', reserve_before: '690' }]);
    expect(unplaced(table)).toStrictEqual([['unit', 'furlong', 'psi, kPa, bar, min or s'], ['unit', 'km', 'psi, kPa, bar, min or s']]);
    expect(table.rows[0]!.origins![table.header.indexOf('pressure_unit')]).toStrictEqual({ row: 2, column: 4 });
    expect(table.used).toContainEqual({ row: 3, column: 4 });
  });

  test('a column of a field has its own unit', () => {
    expect(records(read('unit | date | test | circuit | start kPa | end kPa | Cut-in (psi)\n101 | 2026-03-14 | released | P | 720 | 715 | 100'))).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', pressure_unit: 'kPa', released_primary_start: '720', released_primary_end: '715', cut_in: '100 psi' }]);
  });

  test('refuses what is no list by its code', () => {
    expect(() => reshapeLongForm(sheet('a | b'), dictionary)).toThrow(expect.objectContaining({ code: 'header_missing' }));
  });
});

describe('reshapeLongForm, what it says', () => {
  test('which columns and tests were taken for what', () => {
    const { notes } = read(`
unit | date | test | Primary start | Secondary end (kPa) | Mins | Value | Unit of pressure
101  | 2026-03-14 | static | 105 | 103 | 1 | |
101  | 2026-03-14 | Low air warning | | | | 60 |
101  | 2026-03-14 | Build-up | | | 0.5 | |
101  | 2026-03-14 | Static, primary, end | | | | 104 |
101  | 2026-03-14 | Odometer | | | | 12345 | km
`);
    expect(notes).toStrictEqual([
      'Row 1 was taken as the header of a list with one row per test.',
      'The column "Primary start" was taken as the primary start.',
      'The column "Secondary end (kPa)" was taken as the secondary end, in kPa.',
      'The column "Mins" was taken as the time, in minutes.',
      'The column "Value" was taken as the value.',
      'The column "Unit of pressure" was taken as the unit of the readings beside it.',
      '"static" was taken as released.',
      '"Low air warning" was taken as the warning light.',
      '"Build-up" was taken as build-up.',
      '"Static, primary, end" was taken as released, primary, end.',
      '"Odometer" was taken as odometer.',
      '1 inspection was put together.',
    ]);
    expect(read('unit | test | value | secs\n101 | cut-in | 100 |').notes).toContain('The column "secs" was taken as the time, in seconds.');
  });

  test('says of one unit that all pressures name nothing more', () => {
    expect(read('unit | date | test | circuit | start kPa | end kPa\n101 | 2026-03-14 | released | P | 720 | 715').notes.join(' ')).not.toContain('without a unit');
    expect(read('unit | date | test | value | unit of pressure\n101 | 2026-03-14 | cut-in | 700 | kPa').notes.join(' ')).not.toContain('without a unit');
  });

  test('a header that comes again is used, its blanks are not, and it is noted once', () => {
    const list = 'unit | date | test | value |\n101 | 2026-03-14 | cut-in | 100 |';
    const table = read(`${list}\n\n${list.replace('100', '99').replace('14', '15')}`);
    expect(table.used.filter(({ row }) => row === 4).map(({ column }) => column)).toStrictEqual([0, 1, 2, 3]);
    expect(table.used.filter(({ row }) => row === 1)).toStrictEqual([]);
    expect(table.notes.filter((note) => note.startsWith('Row '))).toStrictEqual(['Row 1 was taken as the header of a list with one row per test.']);
  });
});
