import { expect, it } from 'vitest';
import { reportSheetName } from '../../src/workbook/report-sheet-name.js';
import { ResultsSection } from '../support/results-section.js';

const results = new ResultsSection('tests/workbook/hostile/WRITTEN.md', 'Texts and numbers made to do harm where they are written, and what came of each', 'Units after which a sheet is named');

const DATE = '2026-03-14';

// Excel: a sheet's name has at most 31 characters, none of : \ / ? * [ ], no apostrophe at its ends; names differ without regard to case.
it('is a name that spreadsheet programs take', () => {
  const taken = new Set<string>();
  const units = ['T/7', 'T\\7', '[a]:*?', "'quoted'", 'x'.repeat(60), 'bell\u0007', '😀'.repeat(20), '', '=_x003D_', 'T/7', 't/7', "Ann's"];
  const names = units.map((unit) => reportSheetName(unit, DATE, taken));
  expect(names.slice(0, 4)).toStrictEqual([`T-7 ${DATE}`, `T-7 ${DATE} (2)`, `-a---- ${DATE}`, `quoted ${DATE}`]);
  expect(names.at(-1)).toBe(`Ann\u2019s ${DATE}`);
  for (const name of names) {
    expect(name.length).toBeLessThanOrEqual(31);
    expect(name).not.toMatch(/[:\\/?*[\]\p{C}]|'|_x003D_/u);
  }
  expect(new Set(names.map((name) => name.toLowerCase())).size).toBe(names.length);
  for (const [index, unit] of units.entries()) results.came(unit === 'T/7' && index > 0 ? 'T/7 again' : unit, `the sheet ${names[index]}`);
});

it('stand in the published table with what came of them (WRITE_RESULTS=1 writes it anew)', () => results.expectPublished());
