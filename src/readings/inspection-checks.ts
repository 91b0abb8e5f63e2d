import { plainValue, type RawCell } from '../util/raw-table.js';
import { fingerprint } from '../util/fingerprint.js';
import { FirstRows } from '../util/first-rows.js';
import { ownText } from '../util/own-text.js';
import { fieldPosition, type Dictionary } from './dictionary.js';
import type { Field } from './field.js';
import type { Entry, Inspection } from './inspection.js';
import type { ProblemCode } from './problem.js';
import { SeenRecorder, type SeenRows } from './seen-rows.js';
import { unitKey } from './unit-key.js';

/** Takes a problem of a field of a row. */
export type ReportField = (code: ProblemCode, row: number, field: string, found: string, expected: string) => void;

/** Start and end readings of the loss tests. */
const LOSS_PAIRS = ['released_primary', 'released_secondary', 'applied_primary', 'applied_secondary'] as const;
const LOSS_TIMES = { released: 'released_time', applied: 'applied_time' } as const;

/** Looks at whole inspections, one after the other, for what no single cell shows: repeats, clashes, slips of the pen. */
export class InspectionChecks {
  // Kept of every row of a table of any length, so in as few bytes as it can be.
  private readonly rowOfId = new FirstRows();
  private readonly rowOfReadings = new FirstRows();
  private readonly rowOfDay = new FirstRows();
  private readonly spellings = new Map<string, { readonly number: number; readonly spelling: string; readonly row: number }>();
  private readonly reportedSpellings = new Set<string>();
  private readonly required: readonly (readonly [number, Field])[];
  private readonly pairs: readonly { readonly startName: string; readonly endName: string; readonly start: number; readonly end: number }[];
  private readonly at: Readonly<Record<'id' | 'unit' | 'on' | 'retest', number>>;
  /** Only of a table that is one of several. */
  private readonly seenHere: SeenRecorder | null;
  private readonly retests: { readonly row: number; readonly id: string; readonly key: number }[] = [];

  constructor(
    private readonly dictionary: Dictionary,
    private readonly report: ReportField,
    /** A row in words. */
    private readonly rowWords: (row: number) => string,
    isPart = false,
  ) {
    this.seenHere = isPart ? new SeenRecorder() : null;
    this.required = [...dictionary.fields.entries()].filter(([, { required }]) => required);
    const at = (name: string): number => fieldPosition(dictionary, name);
    this.pairs = LOSS_PAIRS.map((pair) => ({ startName: `${pair}_start`, endName: `${pair}_end`, start: at(`${pair}_start`), end: at(`${pair}_end`) }));
    this.at = { id: at('inspection_id'), unit: at('unit'), on: at('inspected_on'), retest: at('retest_of') };
  }

  /** Looks at one inspection. What is wrong with a field in `troubled` has been said already. */
  look(inspection: Inspection, troubled: ReadonlySet<string>): void {
    const { values, row } = inspection;
    const retest = values[this.at.retest] ?? null;
    this.lookAtRequired(inspection);
    this.lookAtId(row, values[this.at.id] ?? null);
    this.lookAtUnit(inspection, values[this.at.unit] ?? null, values[this.at.on] ?? null, retest);
    this.lookAtRises(inspection, troubled);
    if (inspection.asFound.size > 0) this.lookAtTimes(inspection);
    if (typeof retest === 'string') this.retests.push({ row, id: ownText(retest), key: fingerprint([retest]) });
  }

  /** What was seen so far of a table that is one of several. */
  seen(): SeenRows {
    const spellings = [...this.spellings].map(([key, { spelling, row }]) => ({ key, spelling, row }));
    return (this.seenHere ?? new SeenRecorder()).result(spellings, this.unknownRetests());
  }

  /** Looks at what only the whole table shows. */
  finish(): void {
    for (const { row, id } of this.unknownRetests()) {
      this.report('retest_of_unknown', row, 'retest_of', id, 'the inspection_id of an inspection in this table');
    }
  }

  private unknownRetests(): SeenRows['retests'] {
    return this.retests.filter(({ key }) => !this.rowOfId.has(key));
  }

  private lookAtRequired({ row, values, notRead }: Inspection): void {
    for (const [position, field] of this.required) {
      if ((values[position] ?? null) === null && !notRead.includes(field.name)) this.report('required_blank', row, field.name, '', `${field.name}: ${field.help}`);
    }
  }

  private lookAtId(row: number, id: Entry): void {
    if (typeof id !== 'string') return;
    const key = fingerprint([id]);
    const first = this.rowOfId.before(key, row);
    if (first === undefined) this.seenHere?.addId(key, id, row);
    else this.report('inspection_id_twice', row, 'inspection_id', id, `an inspection_id once; it stands in ${this.rowWords(first)} too`);
  }

  private lookAtUnit(inspection: Inspection, unit: Entry, on: Entry, retestOf: Entry): void {
    if (typeof unit !== 'string') return;
    const { row } = inspection;
    const key = unitKey(unit);
    let known = this.spellings.get(key);
    if (!known) this.spellings.set(ownText(key), (known = { number: this.spellings.size, spelling: ownText(unit), row }));
    else if (known.spelling !== unit && !this.reportedSpellings.has(unit)) {
      this.reportedSpellings.add(unit);
      this.report('unit_spelled_differently', row, 'unit', unit, `one spelling of a unit; ${this.rowWords(known.row)} has ${known.spelling}. If they are one vehicle, type it alike or use --units folded`);
    }
    if (typeof on !== 'string') return;
    const readings = fingerprint(inspection.values.slice(1));
    const same = this.rowOfReadings.before(readings, row);
    if (same === undefined) this.seenHere?.addReadings(readings, known.number, row);
    else {
      this.report('inspection_twice', row, 'unit', unit, `each inspection once; ${this.rowWords(same)} is the same in every reading. Take one of them out`);
      return;
    }
    const day = fingerprint([key, on]);
    const earlier = this.rowOfDay.before(day, row);
    if (earlier === undefined) this.seenHere?.addDay(day, known.number, row, retestOf !== null);
    else if (retestOf === null) this.report('unit_twice_on_a_day', row, 'unit', unit, `one inspection of a unit on a day, or a retest_of; ${this.rowWords(earlier)} is of the same unit and day with other readings`);
  }

  private lookAtRises({ row, values }: Inspection, troubled: ReadonlySet<string>): void {
    for (const { startName, endName, start: startAt, end: endAt } of this.pairs) {
      const [start, end] = [values[startAt], values[endAt]];
      if (typeof start !== 'number' || typeof end !== 'number' || end <= start || troubled.has(startName) || troubled.has(endName)) continue;
      this.report('rise_in_test', row, endName, `${start} to ${end}`, 'an end no higher than the start; if the two were swapped, swap them back, else test again');
    }
  }

  private lookAtTimes({ row, values, asFound }: Inspection): void {
    const value = (name: string): Entry => values[fieldPosition(this.dictionary, name)] ?? null;
    for (const [test, field] of Object.entries(LOSS_TIMES)) {
      const seconds = value(field);
      if (typeof seconds !== 'number' || seconds < 61 || !/^\d+$/.test(asFound.get(field) ?? '')) continue;
      const pressures = ['primary_start', 'primary_end', 'secondary_start', 'secondary_end'].map((name) => value(`${test}_${name}`));
      if (pressures.includes(seconds)) this.report('pressure_in_time', row, field, String(seconds), 'a time; the number is one of the pressures of this test. Check it against the paper');
    }
  }
}

/** Words that head a row of totals below a table. */
const TOTAL = /^((grand|fleet|overall)\s+)?(totals?|sums?|averages?|means?|medians?|counts?|sub-?totals?|avg|max|maximum|min|minimum)\b/i;

/** True for a row that sums up the rows above it: no unit and no date, and its first filled cell says so. */
export function isTotalsRow(cells: readonly RawCell[], unit: RawCell, date: RawCell): boolean {
  const filled = (cell: RawCell): boolean => String(plainValue(cell) ?? '').trim() !== '';
  const first = cells.find(filled);
  if (first === undefined || !TOTAL.test(String(plainValue(first)).trim())) return false;
  return [unit, date].every((cell) => !filled(cell) || cell === first);
}
