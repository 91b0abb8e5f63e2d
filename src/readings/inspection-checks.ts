import { plainValue, type RawCell } from '../util/raw-table.js';
import { fieldPosition, type Dictionary } from './dictionary.js';
import type { Entry, Inspection } from './inspection.js';
import type { ProblemCode } from './problem.js';
import { unitKey } from './unit-key.js';

/** Takes a problem of a field of a row. */
export type ReportField = (code: ProblemCode, row: number, field: string, found: string, expected: string) => void;

/** Start and end readings of the loss tests. */
const LOSS_PAIRS = ['released_primary', 'released_secondary', 'applied_primary', 'applied_secondary'] as const;
const LOSS_TIMES = { released: 'released_time', applied: 'applied_time' } as const;

/** Looks at whole inspections, one after the other, for what no single cell shows: repeats, clashes, slips of the pen. */
export class InspectionChecks {
  private readonly rowOfId = new Map<string, number>();
  private readonly rowOfReadings = new Map<string, number>();
  private readonly rowOfDay = new Map<string, number>();
  private readonly spellings = new Map<string, { readonly spelling: string; readonly row: number }>();
  private readonly reportedSpellings = new Set<string>();
  private readonly retests: { readonly row: number; readonly id: string }[] = [];

  constructor(
    private readonly dictionary: Dictionary,
    private readonly report: ReportField,
    /** A row in words. */
    private readonly rowWords: (row: number) => string,
  ) {}

  /** Looks at one inspection. What is wrong with a field in `troubled` has been said already. */
  look(inspection: Inspection, troubled: ReadonlySet<string>): void {
    const value = (name: string): Entry => inspection.values[fieldPosition(this.dictionary, name)] ?? null;
    this.lookAtRequired(inspection);
    this.lookAtId(inspection.row, value('inspection_id'));
    this.lookAtUnit(inspection, value('unit'), value('inspected_on'), value('retest_of'));
    this.lookAtRises(inspection.row, value, troubled);
    this.lookAtTimes(inspection.row, value, inspection);
    const retest = value('retest_of');
    if (typeof retest === 'string') this.retests.push({ row: inspection.row, id: retest });
  }

  /** Looks at what only the whole table shows. */
  finish(): void {
    for (const { row, id } of this.retests) {
      if (!this.rowOfId.has(id)) this.report('retest_of_unknown', row, 'retest_of', id, 'the inspection_id of an inspection in this table');
    }
  }

  private lookAtRequired({ row, values, notRead }: Inspection): void {
    for (const [position, field] of this.dictionary.fields.entries()) {
      if (field.required && values[position] === null && !notRead.includes(field.name)) this.report('required_blank', row, field.name, '', `${field.name}: ${field.help}`);
    }
  }

  private lookAtId(row: number, id: Entry): void {
    if (typeof id !== 'string') return;
    const first = this.rowOfId.get(id);
    if (first === undefined) this.rowOfId.set(id, row);
    else this.report('inspection_id_twice', row, 'inspection_id', id, `an inspection_id once; it stands in ${this.rowWords(first)} too`);
  }

  private lookAtUnit(inspection: Inspection, unit: Entry, on: Entry, retestOf: Entry): void {
    if (typeof unit !== 'string') return;
    const { row } = inspection;
    const key = unitKey(unit);
    const known = this.spellings.get(key);
    if (!known) this.spellings.set(key, { spelling: unit, row });
    else if (known.spelling !== unit && !this.reportedSpellings.has(unit)) {
      this.reportedSpellings.add(unit);
      this.report('unit_spelled_differently', row, 'unit', unit, `one spelling of a unit; ${this.rowWords(known.row)} has ${known.spelling}. If they are one vehicle, type it alike or use --units folded`);
    }
    if (typeof on !== 'string') return;
    const readings = JSON.stringify(inspection.values.slice(1));
    const same = this.rowOfReadings.get(readings);
    if (same !== undefined) {
      this.report('inspection_twice', row, 'unit', unit, `each inspection once; ${this.rowWords(same)} is the same in every reading. Take one of them out`);
      return;
    }
    this.rowOfReadings.set(readings, row);
    const day = `${key} ${on}`;
    const earlier = this.rowOfDay.get(day);
    if (earlier === undefined) this.rowOfDay.set(day, row);
    else if (retestOf === null) this.report('unit_twice_on_a_day', row, 'unit', unit, `one inspection of a unit on a day, or a retest_of; ${this.rowWords(earlier)} is of the same unit and day with other readings`);
  }

  private lookAtRises(row: number, value: (name: string) => Entry, troubled: ReadonlySet<string>): void {
    for (const pair of LOSS_PAIRS) {
      if (troubled.has(`${pair}_start`) || troubled.has(`${pair}_end`)) continue;
      const [start, end] = [value(`${pair}_start`), value(`${pair}_end`)];
      if (typeof start !== 'number' || typeof end !== 'number' || end <= start) continue;
      this.report('rise_in_test', row, `${pair}_end`, `${start} to ${end}`, 'an end no higher than the start; if the two were swapped, swap them back, else test again');
    }
  }

  private lookAtTimes(row: number, value: (name: string) => Entry, inspection: Inspection): void {
    for (const [test, field] of Object.entries(LOSS_TIMES)) {
      const seconds = value(field);
      if (typeof seconds !== 'number' || seconds < 61 || !/^\d+$/.test(inspection.asFound.get(field) ?? '')) continue;
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
