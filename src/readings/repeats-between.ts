import type { SeenRows } from './seen-rows.js';
import type { ProblemCode } from './problem.js';

/** A table that was read. */
export interface SeenTable {
  /** A row of it in words: `row 40 of june.csv`. */
  readonly rowWords: (row: number) => string;
  readonly seen: SeenRows;
}

/** A problem of a field of a row of one of several tables. */
export interface RepeatBetween {
  /** Index of the table, from 0. */
  readonly table: number;
  readonly code: ProblemCode;
  readonly row: number;
  readonly field: string;
  readonly found: string;
  readonly expected: string;
}

/** A blank and a date, at the end of the key of a day. */
const DAY_LENGTH = ' yyyy-mm-dd'.length;

/**
 * What only several tables together show, as one table would show it of its rows: an inspection_id or an inspection that
 * stands in two of them, a unit on one day in two of them, a unit spelled differently, a retest of what none of them holds.
 *
 * @example
 * repeatsBetween([june, july].map((table) => ({ rowWords: (row) => `row ${row} of ${table.name}`, seen: table.seen() })))
 * // [{ table: 1, code: 'inspection_twice', row: 2, field: 'unit', … 'row 40 of june.csv is the same in every reading' }]
 */
export function repeatsBetween(tables: readonly SeenTable[]): RepeatBetween[] {
  const found: RepeatBetween[] = [];
  const [ids, readings, days] = [new Map<string, string>(), new Map<string, string>(), new Map<string, string>()];
  const spellings = new Map<string, { readonly spelling: string; readonly place: string }>();
  for (const [table, { rowWords, seen }] of tables.entries()) {
    const report = (code: ProblemCode, row: number, field: string, text: string, expected: string): void => void found.push({ table, code, row, field, found: text, expected });
    for (const [id, row] of seen.ids) {
      const first = ids.get(id);
      if (first) report('inspection_id_twice', row, 'inspection_id', id, `an inspection_id once; it stands in ${first} too`);
      else ids.set(id, rowWords(row));
    }
    const unitAt = new Map([...seen.days].map(([day, { row }]) => [row, seen.spellings.get(day.slice(0, -DAY_LENGTH))?.spelling ?? '']));
    const twice = new Set<number>();
    for (const [reading, row] of seen.readings) {
      const first = readings.get(reading);
      if (!first) {
        readings.set(reading, rowWords(row));
        continue;
      }
      twice.add(row);
      report('inspection_twice', row, 'unit', unitAt.get(row) ?? '', `each inspection once; ${first} is the same in every reading. Take one of them out`);
    }
    for (const [day, { row, isRetest }] of seen.days) {
      const first = days.get(day);
      if (!first) days.set(day, rowWords(row));
      else if (!twice.has(row) && !isRetest) report('unit_twice_on_a_day', row, 'unit', unitAt.get(row) ?? '', `one inspection of a unit on a day, or a retest_of; ${first} is of the same unit and day with other readings`);
    }
    for (const [key, { spelling, row }] of seen.spellings) {
      const first = spellings.get(key);
      if (!first) spellings.set(key, { spelling, place: rowWords(row) });
      else if (first.spelling !== spelling) report('unit_spelled_differently', row, 'unit', spelling, `one spelling of a unit; ${first.place} has ${first.spelling}. If they are one vehicle, type it alike or use --units folded`);
    }
  }
  for (const [table, { seen }] of tables.entries()) {
    for (const { row, id } of seen.retests) {
      if (!ids.has(id)) found.push({ table, code: 'retest_of_unknown', row, field: 'retest_of', found: id, expected: 'the inspection_id of an inspection in these tables' });
    }
  }
  return found;
}
