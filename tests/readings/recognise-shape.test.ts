import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { recogniseShape } from '../../src/readings/recognise-shape.js';
import { dictionary, sheet } from './reshape-support.js';

const shapeOf = (drawing: string): string | null => recogniseShape(sheet(drawing), dictionary);

describe('recogniseShape', () => {
  test.each([
    ['the names of the fields', dictionary.fields.slice(0, dictionary.standardCount).map(({ name }) => name).join(' | ')],
    ['their titles', dictionary.fields.slice(0, dictionary.standardCount).map(({ title }) => title).join(' | ')],
    ['an office table below a title', 'Spring tests\n\nTruck no | Date | Cut-in (kPa) | Cut-out (kPa) | Remarks\n101 | 2026-03-14 | 700 | 850 |'],
    ['a table with one test', 'Unit | Date | Light on at\n1 | 2026-03-14 | 60'],
    ['a table with a test column of its own', 'Unit | Date | Test no | Released primary start | Released primary end\n1 | 2026-03-14 | 4 | 105 | 104'],
  ])('a table: %s', (_, drawing) => {
    expect(shapeOf(drawing)).toBe('table');
  });

  test.each([
    ['plain', 'unit | date | test | circuit | start | end | minutes\n101 | 2026-03-14 | released | primary | 105 | 104 | 1'],
    ['below a title, in other words', 'North depot\n\nInspected | Bus no | Check | Tank | Before kPa | After kPa | Secs\n2026-03-14 | 7 | Static leak test | 1 | 720 | 715 | 60'],
    ['one value a row', 'Vehicle | Date | Item | Reading | Unit\n7 | 2026-03-14 | Governor cut-out | 125 | psi'],
  ])('a list with one row per test: %s', (_, drawing) => {
    expect(shapeOf(drawing)).toBe('long');
  });

  test.each([
    ['plain', 'Unit | 101\nDate | 2026-03-14\nCut-in | 100\nCut-out | 125'],
    ['with headings', 'Air brake inspection\nUnit #: | 101\nDate: | 2026-03-14\nBrakes applied\nPrimary start | 105\nPrimary end | 104'],
    ['pairs side by side', 'Unit: | 101 | Date: | 2026-03-14\nCut-in: | 100 | Cut-out: | 125'],
    ['with units and remarks', 'Unit | 101 | | new\nDate | 2026-03-14 | |\nCut-in | 100 | psi |\nCut-out | 125 | psi | slow'],
    ['label and value in one cell', 'Unit: 101\nDate: 2026-03-14\nCut-in: 100\nCut-out: 125'],
  ])('a form: %s', (_, drawing) => {
    expect(shapeOf(drawing)).toBe('checklist');
  });

  test.each([
    ['plain', 'Unit | 101 | 102\nDate | 2026-03-14 | 2026-03-15\nCut-in | 100 | 101\nCut-out | 125 | 126'],
    ['with a column of units', 'Title\n\nUnit | | 101 | 102 | 103\nDate | | 2026-03-14 | 2026-03-15 |\nCut-in | psi | 100 | 101 | 99\nLight on at | psi | 60 | never | '],
  ])('a table on its side: %s', (_, drawing) => {
    expect(shapeOf(drawing)).toBe('transposed');
  });

  test.each([
    ['nothing', ''],
    ['an address list', 'Name | Street | Town\nSmith | High Street | Leeds'],
    ['a list of other checks', 'unit | date | test | start | end\n101 | 2026-03-14 | wheel nuts | 105 | 104'],
    ['a blank form', 'Unit |\nDate |\nCut-in |\nCut-out |'],
    ['a form without readings', 'Unit | 101\nDate | 2026-03-14\nSite | North\nInspector | JS\nNotes | none'],
    ['a form without a unit', 'Date | 2026-03-14\nCut-in | 100\nCut-out | 125\nLight on at | 60'],
  ])('nothing clear: %s', (_, drawing) => {
    expect(shapeOf(drawing)).toBeNull();
  });

  test('only the first 60 rows are looked at', () => {
    const header = 'unit | date | test | start | end\n101 | 2026-03-14 | released | 105 | 104';
    expect(shapeOf(`${'x\n'.repeat(58)}${header}`)).toBe('long');
    expect(shapeOf(`${'x\n'.repeat(60)}${header}`)).toBeNull();
  });

  test('any cells at all are taken calmly', () => {
    const cell = fc.oneof(fc.string(), fc.double(), fc.boolean(), fc.constant(null), fc.constant({ value: 46095, format: 'yyyy-mm-dd' }), fc.constantFrom('Unit', 'test', 'Cut-in', '__proto__', 'constructor'));
    fc.assert(
      fc.property(fc.array(fc.array(cell, { maxLength: 6 }), { maxLength: 10 }), (cells) => {
        const shape = recogniseShape(cells.map((row, index) => ({ number: index + 1, cells: row })), dictionary);
        expect(['table', 'long', 'checklist', 'transposed', null]).toContain(shape);
      }),
    );
  });
});
