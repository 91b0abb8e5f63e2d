import { FirstRows } from '../util/first-rows.js';
import { GrowingNumbers } from '../util/growing-numbers.js';
import type { ProblemCode } from './problem.js';
import type { SeenRows } from './seen-rows.js';

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
  const [ids, readings, days] = [new FirstPlaces(tables), new FirstPlaces(tables), new FirstPlaces(tables)];
  const spellings = new Map<string, { readonly spelling: string; readonly place: string }>();
  for (const [table, { rowWords, seen }] of tables.entries()) {
    const report = (code: ProblemCode, row: number, field: string, text: string, expected: string): void => void found.push({ table, code, row, field, found: text, expected });
    const spellingOf = (unit: number): string => seen.spellings[unit < 0 ? -1 - unit : unit]?.spelling ?? '';
    for (const [at, key] of seen.ids.keys.entries()) {
      const row = seen.ids.rows[at]!;
      const first = ids.before(key, table, row);
      if (first !== null) report('inspection_id_twice', row, 'inspection_id', seen.ids.texts[at]!, `an inspection_id once; it stands in ${first} too`);
    }
    const twice = new Set<number>();
    for (const [at, key] of seen.readings.keys.entries()) {
      const row = seen.readings.rows[at]!;
      const first = readings.before(key, table, row);
      if (first === null) continue;
      twice.add(row);
      report('inspection_twice', row, 'unit', spellingOf(seen.readings.units[at]!), `each inspection once; ${first} is the same in every reading. Take one of them out`);
    }
    for (const [at, key] of seen.days.keys.entries()) {
      const [row, unit] = [seen.days.rows[at]!, seen.days.units[at]!];
      const first = days.before(key, table, row);
      if (first !== null && unit >= 0 && !twice.has(row)) report('unit_twice_on_a_day', row, 'unit', spellingOf(unit), `one inspection of a unit on a day, or a retest_of; ${first} is of the same unit and day with other readings`);
    }
    for (const { key, spelling, row } of seen.spellings) {
      const first = spellings.get(key);
      if (!first) spellings.set(key, { spelling, place: rowWords(row) });
      else if (first.spelling !== spelling) report('unit_spelled_differently', row, 'unit', spelling, `one spelling of a unit; ${first.place} has ${first.spelling}. If they are one vehicle, type it alike or use --units folded`);
    }
  }
  for (const [table, { seen }] of tables.entries()) {
    for (const { row, id, key } of seen.retests) {
      if (!ids.has(key)) found.push({ table, code: 'retest_of_unknown', row, field: 'retest_of', found: id, expected: 'the inspection_id of an inspection in these tables' });
    }
  }
  return found;
}

/** Where each key came first among several tables. */
class FirstPlaces {
  private readonly first = new FirstRows();
  /** The table and the row of each key, in turn. */
  private readonly places = new GrowingNumbers();

  constructor(private readonly tables: readonly SeenTable[]) {}

  /** The place where a key came before, in words; null if it did not, and then it is kept. */
  before(key: number, table: number, row: number): string | null {
    const at = this.first.before(key, this.places.length / 2);
    if (at !== undefined) return this.tables[this.places.at(2 * at)]!.rowWords(this.places.at(2 * at + 1));
    this.places.push(table);
    this.places.push(row);
    return null;
  }

  has(key: number): boolean {
    return this.first.has(key);
  }
}
