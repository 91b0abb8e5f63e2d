import { expect, it } from 'vitest';
import { reportSheetName } from '../../src/workbook/report-sheet-name.js';

const DATE = '2026-03-14';

// Excel: a sheet's name has at most 31 characters, none of : \ / ? * [ ], no apostrophe at its ends; names differ without regard to case.
it('is a name that spreadsheet programs take', () => {
  const taken = new Set<string>();
  const names = ['T/7', 'T\\7', '[a]:*?', "'quoted'", 'x'.repeat(60), 'bell\u0007', '😀'.repeat(20), '', '=_x003D_', 'T/7', 't/7', "Ann's"].map((unit) => reportSheetName(unit, DATE, taken));
  expect(names.slice(0, 4)).toStrictEqual([`T-7 ${DATE}`, `T-7 ${DATE} (2)`, `-a---- ${DATE}`, `quoted ${DATE}`]);
  expect(names.at(-1)).toBe(`Ann\u2019s ${DATE}`);
  for (const name of names) {
    expect(name.length).toBeLessThanOrEqual(31);
    expect(name).not.toMatch(/[:\\/?*[\]\p{C}]|'|_x003D_/u);
  }
  expect(new Set(names.map((name) => name.toLowerCase())).size).toBe(names.length);
});
