import { describe, expect, test } from 'vitest';
import type { ReshapedTable } from '../../src/readings/checklist-reshaped-table.js';
import { reshapeChecklist } from '../../src/readings/reshape-checklist.js';
import { dictionary, expectEveryCellOnce, records, sheet, unplacedTexts } from './reshape-support.js';

function read(...drawings: readonly string[]): ReshapedTable {
  const rows = drawings.flatMap((drawing) => sheet(drawing));
  const table = reshapeChecklist(rows, dictionary, 'checklist');
  if (drawings.length === 1) expectEveryCellOnce(table, rows, 0);
  return table;
}

describe('StackedForm, where an inspection begins', () => {
  test('with another unit', () => {
    const table = read('Date | 2026-03-14\nUnit | 101\nCut-in | 100\nUnit | 102\nCut-in | 99');
    expect(records(table)).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', cut_in: '100' }, { unit: '102', cut_in: '99' }]);
    expect(table.rows.map(({ number }) => number)).toStrictEqual([1, 4]);
  });

  test('with another unit, label and value in one cell', () => {
    const table = read('Date: 2026-03-14\nUnit: 101\nCut-in: 100\nUnit: 102\nCut-in: 99');
    expect(records(table)).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', cut_in: '100' }, { unit: '102', cut_in: '99' }]);
  });

  test('not with a unit that is left blank, nor with the same unit again', () => {
    expect(records(read('Date | 2026-03-14\nUnit | 101\nCut-in | 100\nUnit |\nCut-out | 125\nUnit | 101\nLight on at | 60'))).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', light_on_at: '60', cut_in: '100', cut_out: '125' }]);
  });

  test('not with a second date beside a signature, but with the date that a unit follows', () => {
    const form = 'Date | 2026-03-14\nUnit | 101\nCut-in | 100\nDate | 2026-03-14\nInspector | JS';
    expect(records(read(form))).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', inspector: 'JS', cut_in: '100' }]);
    expect(records(read(`${form}\nDate | 2026-03-15\nUnit | 102\nCut-in | 99`))).toStrictEqual([
      { inspected_on: '2026-03-14', unit: '101', inspector: 'JS', cut_in: '100' },
      { inspected_on: '2026-03-15', unit: '102', cut_in: '99' },
    ]);
  });

  test('with the date that a unit follows further down', () => {
    const titled = read('Spring check\nDate | 2026-03-14\nUnit | 101\nCut-in | 100\nDate | 2026-03-15\nInspector | JS\nUnit | 102\nCut-in | 99');
    expect(records(titled)[1]).toStrictEqual({ inspected_on: '2026-03-15', unit: '102', inspector: 'JS', cut_in: '99' });
    expect(records(read('Date | 2026-03-14\nUnit | 101\nCut-in | 100\nDate | 2026-03-15\nInspector | JS\nUnit | 102\nCut-in | 99'))).toStrictEqual([
      { inspected_on: '2026-03-14', unit: '101', cut_in: '100' },
      { inspected_on: '2026-03-15', unit: '102', inspector: 'JS', cut_in: '99' },
    ]);
  });

  test.each([
    ['a title and a date', 'Spring check\nDate | 2026-03-15'],
    ['a date', 'Inspector | JS\nDate | 2026-03-15'],
  ])('not with a second date where the next unit comes below %s', (_, next) => {
    const table = read(`Spring check\nDate | 2026-03-14\nUnit | 101\nCut-in | 100\nDate | 2026-03-14\n${next}\nUnit | 102\nCut-in | 99`);
    expect(records(table)).toMatchObject([{ inspected_on: '2026-03-14', unit: '101', cut_in: '100' }, { inspected_on: '2026-03-15', unit: '102', cut_in: '99' }]);
    expect(table.rows[1]!.number).toBe(next.startsWith('Spring') ? 6 : 7);
  });

  test('with a title, so that the heading below it holds', () => {
    const form = (start: number): string => `Spring check\nBrakes applied\nPrimary start | ${start}\nUnit | 101`;
    expect(records(read(`${form(103)}\n${form(102)}`))).toStrictEqual([{ unit: '101', applied_primary_start: '103' }, { unit: '101', applied_primary_start: '102' }]);
  });

  test('with the title that the first began with', () => {
    const table = read('Spring check\nUnit | 101\nCut-in | 100\n\nSpring check\nUnit | 101\nCut-in | 99');
    expect(records(table)).toStrictEqual([{ unit: '101', cut_in: '100' }, { unit: '101', cut_in: '99' }]);
    expect(table.rows.map(({ number }) => number)).toStrictEqual([1, 5]);
    expect(read('Spring check\nUnit | 101\nCut-in | 100\nSpring check\nUnit | 101\nCut-in | 99').rows.map(({ number }) => number)).toStrictEqual([1, 4]);
  });

  test('with its first label again where no unit is named at all', () => {
    expect(records(read('Date | 2026-03-14\nCut-in | 100\nCut-out | 125\nDate | 2026-03-15\nCut-in | 101'))).toStrictEqual([{ inspected_on: '2026-03-14', cut_in: '100', cut_out: '125' }, { inspected_on: '2026-03-15', cut_in: '101' }]);
  });

  test('with a numbered heading, once there are readings', () => {
    const table = read('Date | 2026-03-14\nUnit | 101\nInspection 1\nCut-in | 100\nCut-out | 125\nInspection 2\nUnit | 101\nCut-in | 99');
    expect(records(table)).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', cut_in: '100', cut_out: '125' }, { unit: '101', cut_in: '99' }]);
    expect(table.rows.map(({ number }) => number)).toStrictEqual([1, 6]);
  });

  test('with the second numbered heading, even without readings before it', () => {
    const table = read('Inspection 1\nDate | 2026-03-14\nUnit | 101\nInspection 2\nUnit | 101\nCut-in | 99');
    expect(records(table)).toStrictEqual([{ unit: '101', cut_in: '99' }]);
    expect(unplacedTexts(table)).toStrictEqual(['2026-03-14', '101']);
  });

  test('not with a number that has a value beside it', () => {
    expect(records(read('Date | 2026-03-14\nUnit | 101\nCut-in | 100\nForm 2 | filed\nCut-out | 125'))).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', cut_in: '100', cut_out: '125', 'Form 2': 'filed' }]);
  });

  test('after a blank row with a unit again, once there is more than a unit and a date', () => {
    expect(records(read('Date | 2026-03-14\nUnit | 101\nCut-in | 100\n\nUnit | 101\nCut-in | 99'))).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', cut_in: '100' }, { unit: '101', cut_in: '99' }]);
    expect(records(read('Date | 2026-03-14\nUnit | 101\n\nUnit | 101\nCut-in | 99'))).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', cut_in: '99' }]);
  });

  test('after a blank row with another unit further down', () => {
    const table = read('Date | 2026-03-14\nUnit | 101\n\nInspector | JS\nUnit | 102\nCut-in | 99');
    expect(records(table)).toStrictEqual([{ unit: '102', inspector: 'JS', cut_in: '99' }]);
    expect(unplacedTexts(table)).toStrictEqual(['2026-03-14', '101']);
  });

  test('with each sheet, even of the same unit', () => {
    expect(records(read('Unit | 101\nCut-in | 100', 'Cut-out | 120\nUnit | 101'))).toStrictEqual([{ unit: '101', cut_in: '100' }, { unit: '101', cut_out: '120' }]);
    expect(records(read('Cut-in | 100 | Unit | 101', 'Cut-out | 125 | Unit | 101'))).toStrictEqual([{ unit: '101', cut_in: '100' }, { unit: '101', cut_out: '125' }]);
  });
});

describe('StackedForm, words above columns', () => {
  test('words above the columns are no readings', () => {
    const table = read('Item | Reading | Unit\nUnit no | 101 |\nCut-in | 100 | psi');
    expect(records(table)).toStrictEqual([{ unit: '101', cut_in: '100' }]);
    expect(table.unplaced).toStrictEqual([]);
    expect(read('Unit | 101\nCut-in | 100\n | Value | Remark\nCut-out | 125 |').unplaced).toStrictEqual([]);
  });

  test('words above the columns of pairs that stand side by side are none either', () => {
    const table = read('Item | Value | Item | Value\nUnit | 101 | Date | 2026-03-14\nCut-in | 100 | Cut-out | 125');
    expect(records(table)).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', cut_in: '100', cut_out: '125' }]);
    expect(table.unplaced).toStrictEqual([]);
    expect(records(read('Item | Value | Horn | Value\nUnit | 101 | Date | 2026-03-14\nCut-in | 100 | Cut-out | 125'))).toStrictEqual([{ inspected_on: '2026-03-14', unit: '101', cut_in: '100', cut_out: '125', Item: 'Value', Horn: 'Value' }]);
  });

  test('a word to the left of the circuits is named', () => {
    expect(unplacedTexts(read('1 | Unit | 101\n2 | Cut-in | 100\nlate | Brakes applied | Primary | Secondary'))).toContain('late');
  });

  test('circuits above the columns hold for the lines below them', () => {
    const table = read('Unit | 101\nBrakes applied | Primary | Secondary\nStart | 103 | 102\nEnd | 101 | 100');
    expect(records(table)).toStrictEqual([{ unit: '101', applied_primary_start: '103', applied_primary_end: '101', applied_secondary_start: '102', applied_secondary_end: '100' }]);
    expect(table.unplaced).toStrictEqual([]);
  });

  test('circuits alone leave the heading above them as it is', () => {
    expect(records(read('Unit | 101\nBrakes applied\n | Primary | Secondary\nStart | 103 | 102'))).toStrictEqual([{ unit: '101', applied_primary_start: '103', applied_secondary_start: '102' }]);
    expect(records(read('Unit | 101\nBrakes applied\nGauge | Primary | Secondary\nStart | 103 | 102'))).toStrictEqual([{ unit: '101', applied_primary_start: '103', applied_secondary_start: '102' }]);
  });

  test.each([
    ['one word is a value', 'Belt | Secondary', { Belt: 'Secondary' }],
    ['one circuit and another word', 'Belt | Primary | ok', { Belt: 'Primary', 'Belt: remark': 'ok' }],
    ['letters may mean something else', 'Belt | p | s', { Belt: 'p', 'Belt: remark': 's' }],
    ['a label that is a field has values beside it', 'Notes | Primary | Secondary', { notes: 'Primary', 'Notes: remark': 'Secondary' }],
    ['a label that heads no column', 'Horn | Result', { Horn: 'Result' }],
    ['a word that heads no column', 'Item | Reading | ok', { Item: 'Reading', 'Item: remark': 'ok' }],
  ])('no words above columns: %s', (_, line, placed) => {
    expect(records(read(`Unit | 101\nCut-in | 100\n${line}`))).toStrictEqual([{ unit: '101', cut_in: '100', ...placed }]);
  });
});

describe('StackedForm, lines', () => {
  test('a unit of pressure beside Unit is that of the gauge', () => {
    expect(records(read('Truck no | 101\nUnit | kPa\nCut-in | 700\nCut-out | 850'))).toStrictEqual([{ unit: '101', pressure_unit: 'kPa', cut_in: '700', cut_out: '850' }]);
  });

  test('a title heads no labels; a heading does, and puts an end to the test above it', () => {
    const table = read('Air brake inspection\nHorn | ok\nUnit | 101\nBrakes applied\nPrimary start | 103\nInterior\nLamp glass | whole\nPrimary end | 99');
    expect(records(table)).toStrictEqual([{ unit: '101', applied_primary_start: '103', Horn: 'ok', 'Interior: Lamp glass': 'whole' }]);
    expect(table.unplaced).toStrictEqual([{ row: 8, column: 1, header: 'Primary end', found: '99', expected: 'a label, or a heading above it, that names the test, such as Brakes released or Brakes applied' }]);
    expect(table.notes).toContain('"Air brake inspection" was taken as a title.');
    expect(table.notes).toContain('"Interior" was taken as a heading.');
    expect(table.notes).toContain('The sheet was read as a form: labels beside their values.');
  });

  test('a label above any heading heads its own column', () => {
    expect(records(read('Horn | ok\nUnit | 101\nCut-in | 100'))).toStrictEqual([{ unit: '101', cut_in: '100', Horn: 'ok' }]);
  });

  test.each([
    ['without a line with a value below it', 'Interior\nExterior\n'],
    ['at the end', 'Interior'],
    ['written out as a sentence', 'The lamp is whole.\nHorn | ok'],
  ])('a text is no heading %s', (_, lines) => {
    const table = read(`Unit | 101\nCut-in | 100\n${lines}`);
    expect(table.unplaced[0]).toStrictEqual({ row: 3, column: 0, header: '', found: lines.split('\n')[0], expected: 'a label with a value beside it, or a heading above labels' });
  });

  test('notes stand in the line right below their label', () => {
    expect(records(read('Unit | 101\nCut-in | 100\nNotes:\nHiss near the left rear chamber.'))).toStrictEqual([{ unit: '101', cut_in: '100', notes: 'Hiss near the left rear chamber.' }]);
    expect(unplacedTexts(read('Unit | 101\nCut-in | 100\nNotes:\nHorn | ok\nHiss near the left rear chamber.'))).toStrictEqual(['Hiss near the left rear chamber.']);
    expect(unplacedTexts(read('Unit | 101\nCut-in | 100\nSite:\nHiss near the left rear chamber.'))).toStrictEqual(['Hiss near the left rear chamber.']);
  });

  test('a reading that is left blank is nothing to name', () => {
    expect(read('Unit | 101\nCut-in | 100\nPrimary start |\nCut-out | 125').unplaced).toStrictEqual([]);
  });

  test('a value without a label is named', () => {
    expect(unplacedTexts(read('Unit | 101\nCut-in | 100\n | Value | 17'))).toStrictEqual(['Value', '17']);
    expect(read('Unit | 101\nCut-in | 100\n | 17').unplaced).toStrictEqual([{ row: 3, column: 1, header: '', found: '17', expected: 'a label to the left of it' }]);
  });

  test('remarks are counted', () => {
    expect(records(read('Unit | 101\nCut-in | 100 | slow | twice'))).toStrictEqual([{ unit: '101', cut_in: '100', 'Cut-in: remark': 'slow', 'Cut-in: remark 2': 'twice' }]);
  });

  test('what is missing beside a label is said', () => {
    const expected = (line: string): unknown => read(`Unit | 101\nCut-in | 100\n${line}`).unplaced.map((cell) => cell.expected);
    expect(expected('Primary tank | 105')).toStrictEqual(['a label, or a heading above it, that names the test, such as Brakes released or Brakes applied']);
    expect(expected('Brakes applied | 105')).toStrictEqual(['a label that names the reading, such as start, end or time']);
    expect(expected('Brakes applied, start | 105')).toStrictEqual(['a label that names the circuit, primary or secondary']);
    expect(expected('Gauge | ok')).toStrictEqual([]);
  });

  test('says what a label was taken for, with the heading above it where it needs one', () => {
    const { notes } = read('Unit | 101\nBrakes applied\nPrimary start | 103\nStatic test: primary start | 105\nLow air light and buzzer | 60');
    expect(notes).toContain('"Primary start" below "Brakes applied" was taken as applied_primary_start.');
    expect(notes).toContain('"Static test: primary start" was taken as released_primary_start.');
    expect(notes).toContain('"Low air light and buzzer" was taken as light_on_at and buzzer_on_at.');
    expect(read('Unit | 101\nStatic primary begin | 105').notes).toContain('"Static primary begin" was taken as released_primary_start.');
    expect(read('Unit | 101\nSettling for | 20 s').notes).toContain('"Settling for" was taken as applied_settle_time.');
  });
});
