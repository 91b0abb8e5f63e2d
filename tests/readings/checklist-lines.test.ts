import { beforeEach, describe, expect, test } from 'vitest';
import { NO_CONTEXT } from '../../src/readings/checklist-facet-fields.js';
import { findLabelColumns } from '../../src/readings/checklist-label-columns.js';
import { LabelReader } from '../../src/readings/checklist-label-reader.js';
import { checklistRow, inlineLabel } from '../../src/readings/checklist-lines.js';
import type { RawCell } from '../../src/util/raw-table.js';
import { dictionary, sheet } from './reshape-support.js';

let labels: LabelReader;
beforeEach(() => {
  labels = new LabelReader(dictionary);
});

function parted(cells: readonly RawCell[], columns: readonly number[]): unknown {
  const row = checklistRow({ number: 1, cells }, columns);
  return row && { lines: row.lines.map(({ label, cells: own }) => [label, ...own.map(({ cell }) => cell)]), ordinals: row.ordinals.map(({ cell }) => cell), strays: row.strays.map(({ cell }) => cell) };
}

describe('checklistRow', () => {
  test('parts pairs that stand side by side', () => {
    expect(parted(['Unit:', '101', null, 'Date:', '2026-03-14'], [0, 3])).toStrictEqual({ lines: [['Unit:', '101'], ['Date:', '2026-03-14']], ordinals: [], strays: [] });
  });

  test('what stands in a column of labels without being one belongs to no label before it', () => {
    expect(parted(['Unit', '101', 7, 'late'], [0, 2])).toStrictEqual({ lines: [['Unit', '101']], ordinals: [], strays: [7, 'late'] });
    expect(parted([true, 'x'], [0])).toStrictEqual({ lines: [], ordinals: [], strays: [true, 'x'] });
  });

  test('numbers of the items stand to the left of the labels', () => {
    expect(parted(['1.', 'Cut-in', '100'], [1])).toStrictEqual({ lines: [['Cut-in', '100']], ordinals: ['1.'], strays: [] });
    expect(parted(['late', 'Cut-in', '100'], [1])).toStrictEqual({ lines: [['Cut-in', '100']], ordinals: [], strays: ['late'] });
  });

  test('a blank row is none', () => {
    expect(parted([' ', null, ''], [0])).toBeNull();
  });
});

describe('inlineLabel', () => {
  test.each([
    ['Unit: 101', 'Unit', '101'],
    ['Unit = 101', 'Unit', '101'],
    ['Truck 101', 'Truck', '101'],
    ['Bus no. B-7', 'Bus no.', 'B-7'],
    ['Notes: seen at 12:30', 'Notes', 'seen at 12:30'],
  ])('%s', (text, label, value) => {
    expect(inlineLabel(text, NO_CONTEXT, labels)).toStrictEqual({ label, value });
  });

  test.each(['Checked: ok', 'Unit: 101 Date: 2026-03-14', 'Unit: 101 Date : 2026-03-14', 'Unit', 'Truck driver'])('none: %s', (text) => {
    expect(inlineLabel(text, NO_CONTEXT, labels)).toBeNull();
  });

  test('a unit without a colon has at most 120 letters', () => {
    expect(inlineLabel(`Truck ${'1'.repeat(114)}`, NO_CONTEXT, labels)).toStrictEqual({ label: 'Truck', value: '1'.repeat(114) });
    expect(inlineLabel(`Truck ${'1'.repeat(115)}`, NO_CONTEXT, labels)).toBeNull();
  });

  test('a label that takes its test from a heading has its value beside it too', () => {
    expect(inlineLabel('Start: 105', { test: 'applied', circuit: 'primary' }, labels)).toStrictEqual({ label: 'Start', value: '105' });
    expect(inlineLabel('Start: 105', NO_CONTEXT, labels)).toBeNull();
  });
});

describe('findLabelColumns', () => {
  test('the column with the most labels, and others with two labels that are half of their texts', () => {
    expect(findLabelColumns(sheet('Unit | 101 | Date | 2026-03-14\nCut-in | 100 | Cut-out | 125\nSite | North | x | y\nNotes | none | z | w'), labels)).toStrictEqual({ main: 0, all: [0, 2] });
  });

  test('a column of values in which one says the name of a field is none', () => {
    expect(findLabelColumns(sheet('Unit | 101\nCut-in |\nDefects | Buzzer'), labels)).toStrictEqual({ main: 0, all: [0] });
  });

  test('nor is one in which two of five do', () => {
    expect(findLabelColumns(sheet('Unit | 101\nCut-in | 100\nCut-out | 125\nDefects | Buzzer\nNotes | Light'), labels)).toStrictEqual({ main: 0, all: [0] });
  });

  test('labels take their test from the headings above them', () => {
    expect(findLabelColumns(sheet('x | Brakes applied\ny | Primary start\nz | Primary end'), labels)).toStrictEqual({ main: 1, all: [1] });
  });

  test('no labels, no column', () => {
    expect(findLabelColumns(sheet('1 | 2\nx | y'), labels)).toStrictEqual({ main: -1, all: [] });
    expect(findLabelColumns([], labels)).toStrictEqual({ main: -1, all: [] });
  });
});
