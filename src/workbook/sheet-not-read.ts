import type { Problem } from '../readings/problem.js';

/** The problem of a sheet that was not read. */
export function sheetNotRead(sheet: string, found = 'a sheet with a header of its own', expected = 'one sheet of readings; name this one with --sheet to read it instead'): Problem {
  return { code: 'sheet_not_read', sheet, row: null, column: '', cell: '', found, expected };
}
