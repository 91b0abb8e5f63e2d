import { describe, expect, test } from 'vitest';
import { reshapeChecklist } from '../../src/readings/reshape-checklist.js';
import type { RawRow } from '../../src/util/raw-table.js';
import { TreadlebookError } from '../../src/util/treadlebook-error.js';
import { dictionary, expectEveryCellOnce, readReshaped, records, sheet, unplacedTexts } from './reshape-support.js';

describe('reshapeChecklist, labels beside values', () => {
  test('reads a form in free words, with dot leaders and headings', async () => {
    const rows = sheet(`
Air brake inspection

Unit # ............ | 101
Date of inspection: | 2026-03-14
Depot               | North
Mechanic            | J. Smith

Brakes released, engine off
Primary start       | 105
Primary end         | 104
Secondary start     | 104
Secondary end       | 104
Time                | 1:00

Brakes applied
Primary start       | 103
Primary after 1 min | 101
Secondary start     | 103
Secondary after 1 min | 102
Settling time       | 30 s

Low air warning
Light came on at    | 62
Buzzer              | 61

Governor
Cut-in pressure     | 102
Cut-out pressure    | 125
Build-up time 85-100 psi (seconds) | 32
Parking brake valve pops out at | 38
Trailer supply valve closes at  | 40
Reserve before one full application | 100
Reserve after one full application  | 92
Belt tension        | ok
Remarks:
`);
    const table = reshapeChecklist(rows, dictionary, 'checklist');
    expect(records(table)).toStrictEqual([
      {
        inspected_on: '2026-03-14', unit: '101', site: 'North', inspector: 'J. Smith',
        released_primary_start: '105', released_primary_end: '104', released_secondary_start: '104', released_secondary_end: '104', released_time: '1:00',
        applied_primary_start: '103', applied_primary_end: '101', applied_secondary_start: '103', applied_secondary_end: '102', applied_settle_time: '30 s',
        light_on_at: '62', buzzer_on_at: '61', buildup_from: 85, buildup_to: 100, buildup_time: '32', cut_in: '102', cut_out: '125',
        parking_valve_closes_at: '38', trailer_valve_closes_at: '40', reserve_before: '100', reserve_after: '92', 'Governor: Belt tension': 'ok',
      },
    ]);
    expect(table.rows[0]!.number).toBe(1);
    expect(table.rows[0]!.origins![table.header.indexOf('applied_primary_end')]).toStrictEqual({ row: 17, column: 1 });
    expect(table.unplaced).toStrictEqual([]);
    expect(table.notes).toContain('"Primary start" below "Brakes applied" was taken as applied_primary_start.');
    expectEveryCellOnce(table, rows, 0);
    const { reader, value } = await readReshaped(table);
    expect(reader.problems).toStrictEqual([]);
    // A minute is 60 seconds: The International System of Units, 9th edition, table 8.
    expect(value(0, 'released_time')).toBe(60);
  });

  test('a label that says it all needs no heading', () => {
    const rows = sheet(`
Vehicle no | B7
Date | 2026-03-14
Primary start (released) | 105
Static test - primary tank - after | 104
Applied: secondary circuit, before | 103
Service brakes applied - sec. end | 102
Low air light and buzzer on at | 60
Odometer (km) | 123,456
Date repaired | 2026-03-20
`);
    expect(records(reshapeChecklist(rows, dictionary, 'checklist'))).toStrictEqual([
      { inspected_on: '2026-03-14', unit: 'B7', odometer: '123,456', released_primary_start: '105', released_primary_end: '104', applied_secondary_start: '103', applied_secondary_end: '102', light_on_at: '60', buzzer_on_at: '60', repaired_on: '2026-03-20' },
    ]);
  });

  test.each([
    ['a blank row', ''],
    ['a repeated first label', null],
    ['a heading', 'Inspection 2'],
  ])('parts inspections by %s', (_, between) => {
    const rows = sheet(['Truck: | 12', 'Date | 2026-03-14', 'Cut-in | 100', 'Cut-out | 125', ...(between === null ? [] : [between]), 'Truck: | 12', 'Date | 2026-03-21', 'Cut-in | 101', 'Cut-out | 126'].join('\n'));
    const table = reshapeChecklist(rows, dictionary, 'checklist');
    expect(records(table)).toStrictEqual([
      { inspected_on: '2026-03-14', unit: '12', cut_in: '100', cut_out: '125' },
      { inspected_on: '2026-03-21', unit: '12', cut_in: '101', cut_out: '126' },
    ]);
    expect(table.rows.map(({ number }) => number)).toStrictEqual([1, between === null ? 5 : between === '' ? 6 : 5]);
    expect(table.unplaced).toStrictEqual([]);
    expectEveryCellOnce(table, rows, 0);
  });

  test('sections parted by blank rows stay one inspection; the next begins with a unit', () => {
    const rows = sheet(`
Site | North

Date | 2026-03-14
Unit | 101

Cut-in | 100

Inspector | JS
Date | 2026-03-14

Date | 2026-03-15
Unit | 102

Cut-in | 99
`);
    const table = reshapeChecklist(rows, dictionary, 'checklist');
    expect(records(table)).toStrictEqual([
      { inspected_on: '2026-03-14', unit: '101', site: 'North', inspector: 'JS', cut_in: '100' },
      { inspected_on: '2026-03-15', unit: '102', cut_in: '99' },
    ]);
    expect(table.unplaced).toStrictEqual([]);
    expectEveryCellOnce(table, rows, 0);
  });

  test('reads units and remarks in columns of their own, in kPa', async () => {
    const rows = sheet(`
No | Item | Reading | Unit | Remarks
1. | Unit no | T-7 | |
2. | Date | 2026-03-14 | |
3. | Released primary start | 720 | kPa |
4. | Released primary end | 715 | kPa | needle sticks
5. | Released time | 1 | min |
6. | Odometer | 12345 | km |
7. | Horn | ok | | loud
`);
    const table = reshapeChecklist(rows, dictionary, 'checklist');
    expect(records(table)).toStrictEqual([
      { inspected_on: '2026-03-14', unit: 'T-7', odometer: '12345', pressure_unit: 'kPa', released_primary_start: '720', released_primary_end: '715', released_time: '1 min', 'Released primary end: remark': 'needle sticks', Horn: 'ok', 'Horn: remark': 'loud' },
    ]);
    expectEveryCellOnce(table, rows, 1);
    const { value } = await readReshaped(table);
    expect([value(0, 'pressure_unit'), value(0, 'released_primary_start')]).toStrictEqual(['kPa', 720]);
  });

  test('reads units in the labels; one that differs is written behind its reading', () => {
    const rows = sheet(`
Unit | 101
Date | 2026-03-14
Cut-in (kPa) | 700
Cut-out kPa | 850
Light on at (psi) | 62
`);
    expect(records(reshapeChecklist(rows, dictionary, 'checklist'))).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', pressure_unit: 'kPa', cut_in: '700', cut_out: '850', light_on_at: '62 psi' }]);
  });

  test('reads pairs side by side, also with values left blank', () => {
    const rows = sheet(`
Unit: | 101 | | Date: | 2026-03-14
Site: | | | Inspector: | JS
Cut-in: | 100 | | Cut-out: | 125
Unit: | 102 | | Date: | 2026-03-15
Cut-in: | 99 | | Cut-out: | 120
`);
    const table = reshapeChecklist(rows, dictionary, 'checklist');
    expect(records(table)).toStrictEqual([
      { inspected_on: '2026-03-14', unit: '101', inspector: 'JS', cut_in: '100', cut_out: '125' },
      { inspected_on: '2026-03-15', unit: '102', cut_in: '99', cut_out: '120' },
    ]);
    expectEveryCellOnce(table, rows, 0);
  });

  test('reads both gauges beside one label', () => {
    const rows = sheet(`
Unit | 101
Date | 2026-03-14
Static test | Primary | Secondary
Start | 105 | 104
End | 104 | 104
Brakes applied | Primary | Secondary
Start | 103 | 103
End | 101 | 102
Time | 1:00
`);
    const table = reshapeChecklist(rows, dictionary, 'checklist');
    expect(records(table)).toStrictEqual([
      {
        inspected_on: '2026-03-14', unit: '101', released_primary_start: '105', released_primary_end: '104', released_secondary_start: '104', released_secondary_end: '104',
        applied_primary_start: '103', applied_primary_end: '101', applied_secondary_start: '103', applied_secondary_end: '102', applied_time: '1:00',
      },
    ]);
    expectEveryCellOnce(table, rows, 0);
  });

  test('headings may stand inside headings', () => {
    const rows = sheet(`
Unit | 101
Date | 2026-03-14
Brakes released
Primary tank
Start | 105
End | 104
Secondary tank
Start | 104
End | 103
Brakes applied
Start | 99
`);
    const table = reshapeChecklist(rows, dictionary, 'checklist');
    expect(records(table)).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', released_primary_start: '105', released_primary_end: '104', released_secondary_start: '104', released_secondary_end: '103' }]);
    expect(unplacedTexts(table)).toStrictEqual(['99']);
    expect(table.unplaced[0]!.expected).toBe('a label that names the circuit, primary or secondary');
    expectEveryCellOnce(table, rows, 0);
  });

  test('takes the sheets of a workbook one after another, with the unit in a heading and label and value in one cell', () => {
    const one = (unit: string, day: string): string => `
Truck ${unit}
Date: ${day}
Cut-in: | 100
Notes:
Hiss near the left rear chamber
Checked: ok: yes
`;
    const rows = [...sheet(one('12', '2026-03-14')), ...sheet(one('13', '14 Mar 2026'))];
    const table = reshapeChecklist(rows, dictionary, 'checklist');
    expect(records(table)).toStrictEqual([
      { inspected_on: '2026-03-14', unit: '12', cut_in: '100', notes: 'Hiss near the left rear chamber' },
      { inspected_on: '14 Mar 2026', unit: '13', cut_in: '100', notes: 'Hiss near the left rear chamber' },
    ]);
    expect(unplacedTexts(table)).toStrictEqual(['Checked: ok: yes', 'Checked: ok: yes']);
    expect(table.rows[0]!.origins![table.header.indexOf('notes')]).toStrictEqual({ row: 5, column: 0 });
  });

  test('names what has no place: a second reading, a reading without its test, a value without its label', () => {
    const rows = sheet(`
Unit | 101
Date | 2026-03-14
Primary start | 105
Cut-in | 100
Cut-in | 101
Cut-in | 100
 | 17
Light on at | 60
Compressor | ok
Brake lights | ok
Parking brake holds the vehicle | yes
This line is a remark that somebody wrote.
`);
    const table = reshapeChecklist(rows, dictionary, 'checklist');
    expect(records(table)).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', light_on_at: '60', cut_in: '100', Compressor: 'ok', 'Brake lights': 'ok', 'Parking brake holds the vehicle': 'yes' }]);
    expect(unplacedTexts(table)).toStrictEqual(['105', '101', '17', 'This line is a remark that somebody wrote.']);
    expectEveryCellOnce(table, rows, 0);
  });

  test('the unit of the gauge is not the vehicle', () => {
    const rows = sheet('Truck no | 101\nDate | 2026-03-14\nUnit (psi/kPa) | kPa\nCut-in | 700\nCut-out | 850');
    expect(records(reshapeChecklist(rows, dictionary, 'checklist'))).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', pressure_unit: 'kPa', cut_in: '700', cut_out: '850' }]);
  });

  test('a label of the language is only text', () => {
    const table = reshapeChecklist(sheet('Unit | 101\nCut-in | 100\n__proto__ | x\nconstructor | y'), dictionary, 'checklist');
    expect(table.header).toStrictEqual(['unit', 'cut_in', '__proto__', 'constructor']);
    expect(table.rows[0]!.cells).toStrictEqual(['101', '100', 'x', 'y']);
  });

  test('labels without end do not become columns without end', () => {
    const rows = [...sheet('Unit | 101\nCut-in | 100'), ...Array.from({ length: 600 }, (_, index): RawRow => ({ number: index + 3, cells: [`Remark on wheel nut ${index}`, 'ok'] }))];
    const table = reshapeChecklist(rows, dictionary, 'checklist');
    expect(table.header).toHaveLength(502);
    expect(table.unplaced).toHaveLength(100);
    expectEveryCellOnce(table, rows, 0);
  });

  test('refuses what has no label, and too many rows', () => {
    expect(() => reshapeChecklist(sheet('1 | 2'), dictionary, 'checklist')).toThrow(TreadlebookError);
    const many = Array.from({ length: 200_001 }, (_, index): RawRow => ({ number: index + 1, cells: [] }));
    expect(() => reshapeChecklist(many, dictionary, 'transposed')).toThrow(/^200001 rows are too many for a table that lies on its side/);
  });
});

describe('reshapeChecklist, on its side', () => {
  test('reads one inspection in each column, with units in a column and headings', () => {
    const rows = sheet(`
Spring inspections

 | | Inspection 1 | Inspection 2 | Inspection 3
Unit no | | 101 | 102 | 103
Date | | 2026-03-14 | 2026-03-15 |
Brakes released
Primary start | kPa | 720 | 700 | 710
Primary end | kPa | 715 | 699 |
Time | min | 1 | 2 | 1
Brakes applied
Secondary start | kPa | 690 | 688 | never seen
Mud flaps | | ok | | torn
`);
    const table = reshapeChecklist(rows, dictionary, 'transposed');
    expect(records(table)).toStrictEqual([
      { inspected_on: '2026-03-14', unit: '101', pressure_unit: 'kPa', released_primary_start: '720', released_primary_end: '715', released_time: '1 min', applied_secondary_start: '690', 'Brakes applied: Mud flaps': 'ok' },
      { inspected_on: '2026-03-15', unit: '102', pressure_unit: 'kPa', released_primary_start: '700', released_primary_end: '699', released_time: '2 min', applied_secondary_start: '688' },
      { unit: '103', pressure_unit: 'kPa', released_primary_start: '710', released_time: '1 min', applied_secondary_start: 'never seen', 'Brakes applied: Mud flaps': 'torn' },
    ]);
    expect(table.rows[1]!.origins![table.header.indexOf('released_time')]).toStrictEqual({ row: 9, column: 3 });
    expect(table.unplaced).toStrictEqual([]);
    expectEveryCellOnce(table, rows, 0);
  });

  test('reads sets of inspections below one another, and names columns that are none', () => {
    const rows = sheet(`
Unit | 101 | 102 |
Cut-in | 100 | 101 | look again
Cut-out | 125 | 126 |

Unit | 103
Cut-in | 99
17 | 18
`);
    const table = reshapeChecklist(rows, dictionary, 'transposed');
    expect(records(table)).toStrictEqual([
      { unit: '101', cut_in: '100', cut_out: '125' },
      { unit: '102', cut_in: '101', cut_out: '126' },
      { unit: '103', cut_in: '99' },
    ]);
    expect(table.rows.map(({ number }) => number)).toStrictEqual([1, 1, 5]);
    expect(unplacedTexts(table)).toStrictEqual(['look again', '17', '18']);
    expectEveryCellOnce(table, rows, 0);
  });
});
