import type { SeenRows } from './seen-rows.js';
import type { ProblemCode } from './problem.js';

/** A table that was read, and its name. */
export interface SeenTable {
  readonly name: string;
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

/** Where something stood first. */
interface First {
  readonly row: number;
  readonly name: string;
}

/**
 * What only several tables together show, as one table would show it of its rows: an inspection_id or an inspection that
 * stands in two of them, a unit on one day in two of them, a unit spelled differently, a retest of what none of them holds.
 *
 * @example
 * repeatsBetween([{ name: 'june.csv', seen: june.seen() }, { name: 'july.csv', seen: july.seen() }])
 * // [{ table: 1, code: 'inspection_twice', row: 2, field: 'unit', … 'row 40 of june.csv is the same in every reading' }]
 */
export function repeatsBetween(tables: readonly SeenTable[]): RepeatBetween[] {
  const found: RepeatBetween[] = [];
  const [ids, readings, days] = [new Map<string, First>(), new Map<string, First>(), new Map<string, First>()];
  const spellings = new Map<string, First & { readonly spelling: string }>();
  for (const [table, { name, seen }] of tables.entries()) {
    const report = (code: ProblemCode, row: number, field: string, text: string, expected: string): void => void found.push({ table, code, row, field, found: text, expected });
    for (const [id, row] of seen.ids) {
      const first = ids.get(id);
      if (first) report('inspection_id_twice', row, 'inspection_id', id, `an inspection_id once; it stands in ${placeOf(first)} too`);
      else ids.set(id, { row, name });
    }
    const unitAt = new Map([...seen.days].map(([day, { row }]) => [row, seen.spellings.get(day.slice(0, -DAY_LENGTH))?.spelling ?? '']));
    const twice = new Set<number>();
    for (const [reading, row] of seen.readings) {
      const first = readings.get(reading);
      if (!first) {
        readings.set(reading, { row, name });
        continue;
      }
      twice.add(row);
      report('inspection_twice', row, 'unit', unitAt.get(row) ?? '', `each inspection once; ${placeOf(first)} is the same in every reading. Take one of them out`);
    }
    for (const [day, { row, isRetest }] of seen.days) {
      const first = days.get(day);
      if (!first) days.set(day, { row, name });
      else if (!twice.has(row) && !isRetest) report('unit_twice_on_a_day', row, 'unit', unitAt.get(row) ?? '', `one inspection of a unit on a day, or a retest_of; ${placeOf(first)} is of the same unit and day with other readings`);
    }
    for (const [key, { spelling, row }] of seen.spellings) {
      const first = spellings.get(key);
      if (!first) spellings.set(key, { spelling, row, name });
      else if (first.spelling !== spelling) report('unit_spelled_differently', row, 'unit', spelling, `one spelling of a unit; ${placeOf(first)} has ${first.spelling}. If they are one vehicle, type it alike or use --units folded`);
    }
  }
  for (const [table, { seen }] of tables.entries()) {
    for (const { row, id } of seen.retests) {
      if (!ids.has(id)) found.push({ table, code: 'retest_of_unknown', row, field: 'retest_of', found: id, expected: 'the inspection_id of an inspection in these tables' });
    }
  }
  return found;
}

function placeOf({ row, name }: First): string {
  return `row ${row} of ${name}`;
}
