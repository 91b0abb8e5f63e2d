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
    ['readings without a date', 'Unit | Cut-in | Cut-out'],
    ['four fields without a reading', 'Unit | Inspector | Site | Notes'],
    ['six fields of ten columns', 'Unit | Inspector | Site | Odometer | Notes | Defects | a | b | c | d'],
    ['columns with numbers in their names', 'Unit | Date | Cut-in | Bay 2 | 2nd axle | 3rd | Bay2'],
    ['a column that the program computes', 'computed.verdict | 5'],
    ['a table with a test column of its own', 'Unit | Date | Test no | Released primary start | Released primary end\n1 | 2026-03-14 | 4 | 105 | 104'],
  ])('a table: %s', (_, drawing) => {
    expect(shapeOf(drawing)).toBe('table');
  });

  test.each([
    ['plain', 'unit | date | test | circuit | start | end | minutes\n101 | 2026-03-14 | released | primary | 105 | 104 | 1'],
    ['below a title, in other words', 'North depot\n\nInspected | Bus no | Check | Tank | Before kPa | After kPa | Secs\n2026-03-14 | 7 | Static leak test | 1 | 720 | 715 | 60'],
    ['with other checks among its tests', 'unit | date | test | start | end\n101 | 2026-03-14 | wheel nuts | 105 | 104\n101 | 2026-03-14 | released | 105 | 104'],
    ['one value a row', 'Vehicle | Date | Item | Reading | Unit\n7 | 2026-03-14 | Governor cut-out | 125 | psi'],
  ])('a list with one row per test: %s', (_, drawing) => {
    expect(shapeOf(drawing)).toBe('long');
  });

  test.each([
    ['plain', 'Unit | 101\nDate | 2026-03-14\nCut-in | 100\nCut-out | 125'],
    ['with headings', 'Air brake inspection\nUnit #: | 101\nDate: | 2026-03-14\nBrakes applied\nPrimary start | 105\nPrimary end | 104'],
    ['pairs side by side', 'Unit: | 101 | Date: | 2026-03-14\nCut-in: | 100 | Cut-out: | 125'],
    ['with units and remarks', 'Unit | 101 | | new\nDate | 2026-03-14 | |\nCut-in | 100 | psi |\nCut-out | 125 | psi | slow'],
    ['of times alone', 'Unit | 101\nDate | 2026-03-14\nReleased time | 60\nApplied time | 60'],
    ['with numbers before the labels', '1 | Unit | 101\n2 | Date | 2026-03-14\n3 | Brakes applied |\n4 | Primary start | 105\n5 | Primary end | 104'],
    ['with numbers before the labels, and a value in each line', '1 | Unit | 101\n2 | Date | 2026-03-14\n3 | Cut-in | 100\n4 | Cut-out | 125'],
    ['with readings in a column without a unit', 'Unit | 101 |\nDate | 2026-03-14 |\nCut-in | 100 | 99\nCut-out | 125 | 120'],
    ['with a second unit and a second date, but no second reading', 'Unit | 101 | 102\nDate | 2026-03-14 | 2026-03-15\nCut-in | 100 |\nCut-out | 125 |'],
    ['with remarks, one of which is a number', 'Unit | 101 | new\nDate | 2026-03-14 | late\nCut-in | 100 | 99\nCut-out | 125 | slow\nLight on at | 60 | slow\nBuzzer | 61 | slow'],
    ['with remarks that have numbers in them', 'Unit | 101 | new\nDate | 2026-03-14 |\nCut-in | 100 | T5\nCut-out | 125 | see 6'],
    ['with remarks that begin with never', 'Unit | 101 | new\nDate | 2026-03-14 |\nLight on at | 60 | never seen\nBuzzer | 61 | never heard'],
    ['with remarks that end with never', 'Unit | 101 | new\nDate | 2026-03-14 |\nLight on at | 60 | nearly never\nBuzzer | 61 | almost never'],
    ['label and value in one cell', 'Unit: 101\nDate: 2026-03-14\nCut-in: 100\nCut-out: 125'],
  ])('a form: %s', (_, drawing) => {
    expect(shapeOf(drawing)).toBe('checklist');
  });

  test.each([
    ['plain', 'Unit | 101 | 102\nDate | 2026-03-14 | 2026-03-15\nCut-in | 100 | 101\nCut-out | 125 | 126'],
    ['with a column of units', 'Title\n\nUnit | | 101 | 102 | 103\nDate | | 2026-03-14 | 2026-03-15 |\nCut-in | psi | 100 | 101 | 99\nLight on at | psi | 60 | never | '],
    ['with headings', 'Unit | 101 | 102\nDate | 2026-03-14 | 2026-03-15\nBrakes released | |\nPrimary start | 105 | 104\nPrimary end | 104 | 103'],
    ['with readings left blank', 'Unit | 101 | 102\nDate | 2026-03-14 | 2026-03-15\nCut-in | 100 | 99\nCut-out | 125 |\nLight on at | 60 |\nBuzzer | 61 |'],
    ['with half of the readings in words', 'Unit | 101 | 102\nDate | 2026-03-14 | 2026-03-15\nCut-in | 100 | 99\nCut-out | 125 | slow'],
    ['with warnings that never came', 'Unit | 101 | 102\nDate | 2026-03-14 | 2026-03-15\nLight on at | 60 | never\nBuzzer | 61 | NEVER'],
    ['with readings that are only about right', 'Unit | 101 | 102\nDate | 2026-03-14 | 2026-03-15\nCut-in | ~100 | ≈ 99\nCut-out | ~ 125 | .5'],
  ])('a table on its side: %s', (_, drawing) => {
    expect(shapeOf(drawing)).toBe('transposed');
  });

  test.each([
    ['nothing', ''],
    ['an address list', 'Name | Street | Town\nSmith | High Street | Leeds'],
    ['a list of other checks', 'unit | date | test | start | end\n101 | 2026-03-14 | wheel nuts | 105 | 104'],
    ['a blank form', 'Unit |\nDate |\nCut-in |\nCut-out |'],
    ['a form without readings', 'Unit | 101\nDate | 2026-03-14\nSite | North\nInspector | JS\nNotes | none'],
    ['one reading without a date', 'Unit | Cut-in | Belt'],
    ['three fields', 'Unit | Inspector | Site'],
    ['four fields of seven columns', 'Unit | Inspector | Site | Notes | a | b | c'],
    ['readings without a unit', 'Date | Cut-in | Cut-out'],
    ['a number among the names', 'Unit | 101 | Date | Cut-in | Cut-out'],
    ['a list with its only test above the header', 'x | y | released\nunit | date | test | start | end\n101 | 2026-03-14 | wheel nuts | 105 | 104'],
    ['a form of the gauge', 'Unit | 101\nDate | 2026-03-14\nGauge step | 5\nReadable to | 1'],
    ['a form with one field twice', 'Unit | 101\nUnit | 101\nCut-in | 100\nCut-out | 125'],
    ['a form with values beside other labels', 'Unit | 101\nDate |\nCut-in |\nCut-out |\nBelt | ok\nHorn | ok\nLamp | ok'],
    ['a form with a value beside the heading', 'Unit | 101\nDate | 2026-03-14\nBrakes applied | ok\nPrimary start | 105\nPrimary end | 104'],
    ['a form without a unit', 'Date | 2026-03-14\nCut-in | 100\nCut-out | 125\nLight on at | 60'],
  ])('nothing clear: %s', (_, drawing) => {
    expect(shapeOf(drawing)).toBeNull();
  });

  test('blank cells among the names of a workbook are no numbers', () => {
    expect(recogniseShape([{ number: 1, cells: ['Unit', null, 'Date', 'Light on at'] }], dictionary)).toBe('table');
    expect(recogniseShape([{ number: 1, cells: ['Unit', 101, 'Date', 'Light on at'] }], dictionary)).toBeNull();
    expect(recogniseShape([{ number: 1, cells: ['Unit', { value: 46095, format: 'yyyy-mm-dd' }, 'Date', 'Light on at'] }], dictionary)).toBeNull();
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
