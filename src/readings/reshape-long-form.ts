import type { CellOrigin, RawCell, RawRow } from '../util/raw-table.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { cellText, isBlankCell, timeUnitOf } from './checklist-cell.js';
import { Collector, NO_UNITS, refuseTooManyRows, shorten } from './checklist-collector.js';
import type { InspectionDraft } from './checklist-inspection-draft.js';
import type { CircuitName, LabelFacets } from './checklist-label-facets.js';
import { LabelReader } from './checklist-label-reader.js';
import type { ReshapedTable } from './checklist-reshaped-table.js';
import type { Dictionary } from './dictionary.js';
import { parseCircuit } from './long-form-circuit.js';
import { readLongFormHeader, type LongFormColumn, type LongFormHeader } from './long-form-header.js';
import { inspectionKey } from './long-form-keys.js';
import { placeReadings, type RowReading } from './long-form-place-readings.js';
import { parseNotMeasured } from './parse-not-measured.js';
import { parsePressureUnit } from './pressure-units.js';

/** How to put a list together. */
export interface LongFormOptions {
  /** True when the workbook counts days from 1904. */
  readonly date1904?: boolean;
}

/**
 * Puts a list with one row per test together into one row per inspection. The rows of one unit and date (and of one
 * inspection number, where there is one) are one inspection. A blank unit, date or number is that of the row above,
 * where all to its left agree, and a blank test is that of the row above in the same inspection. Every cell below the header
 * is placed, used or unplaced.
 *
 * @param rows all rows of the sheet, with what stands above the header
 * @throws TreadlebookError `header_missing` where no row names a unit, a test and readings; `input_unreadable` for more than 200,000 rows
 * @example
 * reshapeLongForm([
 *   { number: 1, cells: ['unit', 'date', 'test', 'circuit', 'start', 'end', 'minutes'] },
 *   { number: 2, cells: ['101', '2026-03-14', 'static', 'primary', '105', '104', '1'] },
 * ], dictionary).header
 * // ['inspected_on', 'unit', 'released_primary_start', 'released_primary_end', 'released_time']
 */
export function reshapeLongForm(rows: readonly RawRow[], dictionary: Dictionary, options: LongFormOptions = {}): ReshapedTable {
  refuseTooManyRows(rows, 'a list with one row per test');
  const list = new LongForm(new Collector(dictionary, new LabelReader(dictionary)), options.date1904 ?? false);
  for (const [index, row] of rows.entries()) list.read(row, rows, index);
  return list.finish();
}

interface Located {
  readonly cell: RawCell;
  readonly origin: CellOrigin;
}

const KEYS = ['inspection_id', 'inspected_on', 'unit'] as const;
type Key = (typeof KEYS)[number];

class LongForm {
  private header: LongFormHeader | null = null;
  private readonly drafts = new Map<string, InspectionDraft>();
  /** The keys of the row above, and its test with the inspection it belongs to. */
  private above: { keys: Map<Key, Located>; test: { text: string; group: string } | null } = { keys: new Map(), test: null };

  constructor(
    private readonly collector: Collector,
    private readonly date1904: boolean,
  ) {}

  read(row: RawRow, rows: readonly RawRow[], index: number): void {
    if (row.cells.every(isBlankCell)) {
      this.forgetAbove();
      return;
    }
    const header = readLongFormHeader(row, () => rows.slice(index + 1, index + 201), this.collector.labels);
    if (header) this.takeHeader(header, row);
    else if (this.header) this.takeRow(row, this.header);
  }

  finish(): ReshapedTable {
    if (this.header) return this.collector.table();
    throw new TreadlebookError({ code: 'header_missing', what: 'no row names a unit, a test and its readings', mend: 'put the column names above the rows, such as unit, date, test, circuit, start, end and minutes' });
  }

  private forgetAbove(): void {
    this.above = { keys: new Map(), test: null };
  }

  private takeHeader(header: LongFormHeader, row: RawRow): void {
    if (this.header) for (const [column, cell] of row.cells.entries()) if (!isBlankCell(cell)) this.collector.use({ row: row.number, column });
    if (!this.header) this.collector.note(`Row ${header.row} was taken as the header of a list with one row per test.`);
    this.header = header;
    this.forgetAbove();
    for (const [index, column] of header.columns.entries()) {
      const note = columnNote(column, header.headers[index]!);
      if (note) this.collector.note(note);
    }
  }

  private takeRow(row: RawRow, header: LongFormHeader): void {
    const { collector } = this;
    const cells = row.cells.flatMap((cell, column) => (isBlankCell(cell) ? [] : [{ cell, origin: { row: row.number, column }, column: header.columns[column] ?? ({ role: 'blank' } as const), header: header.headers[column] ?? '' }]));
    const own = (role: LongFormColumn['role']): Located | undefined => cells.find(({ column }) => column.role === role);
    const readings = cells.flatMap(({ column, ...rest }): RowReading[] => (column.role === 'reading' ? [{ column, ...rest }] : []));
    const ownKeys = new Map(cells.flatMap(({ column, cell, origin }) => (column.role === 'key' ? [[column.field as Key, { cell, origin }] as const] : [])));
    const test = own('test');
    const keys = this.fillKeys(ownKeys, header);
    if (keys.size === 0) {
      for (const { cell, origin, header: name } of cells) collector.leave(cell, origin, name, 'a row with a unit, a date, a test and its readings');
      return;
    }
    const group = inspectionKey([keys.get('inspection_id')?.cell ?? null, keys.get('inspected_on')?.cell ?? null, keys.get('unit')?.cell ?? null], this.date1904);
    const draft = this.draftFor(group, row.number, keys);
    for (const [key, located] of ownKeys) if (keys.get(key) === located && !this.placedNow.has(located)) collector.use(located.origin);

    const text = test ? cellText(test.cell) : readings.length > 0 && this.above.test?.group === group ? this.above.test.text : '';
    this.above = { keys, test: text === '' ? (this.above.test?.group === group ? this.above.test : null) : { text, group } };
    if (!test && text !== '') collector.note('A blank test was taken as that of the row above, in the same inspection.');
    this.takeTest(draft, text, test, own('circuit'), own('measure'), readings);
    for (const { cell, origin, column, header: name } of cells) {
      if (column.role === 'field') collector.place(draft, [column.field], cell, origin, name, { ...NO_UNITS, unit: column.unit });
      if (column.role === 'extra') collector.placeExtra(draft, name, cell, origin);
      if (column.role === 'blank') collector.leave(cell, origin, name, 'a column with a name; put one above it');
    }
  }

  /** The key cells that the draft of the current row took as its own. */
  private placedNow = new Set<Located>();

  private draftFor(group: string, number: number, keys: ReadonlyMap<Key, Located>): InspectionDraft {
    this.placedNow = new Set();
    const before = this.drafts.get(group);
    if (before) return before;
    const draft = this.collector.begin(number);
    this.drafts.set(group, draft);
    for (const [name, located] of keys) {
      draft.place([name], located.cell, located.origin, { isPressure: false, unit: null });
      this.placedNow.add(located);
    }
    return draft;
  }

  /**
   * A blank key is that of the row above, where the keys to its left are those of the row above too, as in merged cells. An
   * inspection number is taken only where all the others are.
   */
  private fillKeys(own: ReadonlyMap<Key, Located>, header: LongFormHeader): Map<Key, Located> {
    const order = header.columns.flatMap((column) => (column.role === 'key' ? [column.field as Key] : []));
    const keys = new Map<Key, Located>();
    let agrees = true;
    const sameAsAbove = (key: Key, mine: Located): boolean => cellText(mine.cell).toLowerCase() === cellText(this.above.keys.get(key)?.cell).toLowerCase();
    const others = [...own].every(([key, mine]) => sameAsAbove(key, mine));
    for (const key of order) {
      const mine = own.get(key);
      const over = this.above.keys.get(key);
      if (mine) {
        keys.set(key, mine);
        agrees &&= sameAsAbove(key, mine);
      } else if (over && agrees && (key !== 'inspection_id' || others)) {
        keys.set(key, over);
        this.collector.note(`A blank ${key} was taken as that of the row above.`);
      }
    }
    return keys;
  }

  private takeTest(draft: InspectionDraft, text: string, test: Located | undefined, circuit: Located | undefined, measure: Located | undefined, readings: readonly RowReading[]): void {
    const { collector } = this;
    const { field, facets } = this.understand(text);
    const known = field !== null || facets !== null;
    if (test && known) collector.use(test.origin);
    else if (test) collector.leave(test.cell, test.origin, 'test', 'a test, such as released, applied, light, buzzer, build-up, cut-in, cut-out, parking valve, trailer valve or reserve');
    const name = circuit ? parseCircuit(cellText(circuit.cell)) : null;
    const clash = facets?.circuit != null && name !== null && facets.circuit !== name;
    if (circuit && !clash && (name !== null || parseNotMeasured(cellText(circuit.cell)))) collector.use(circuit.origin);
    else if (circuit) collector.leave(circuit.cell, circuit.origin, 'circuit', clash ? `the circuit that the test names, ${facets.circuit}` : 'primary, secondary or both');
    if (measure) this.takeMeasure(draft, measure, field);
    if (clash) {
      for (const { cell, origin, header } of readings) collector.leave(cell, origin, header, 'a row whose test and circuit agree');
      return;
    }
    if (known && test) collector.note(`${JSON.stringify(shorten(text))} was taken as ${field ?? wordsFor(facets!)}.`);
    placeReadings(collector, draft, { field, facets, circuit: name, measure: measure ? cellText(measure.cell) : '' }, readings);
  }

  private understand(text: string): { readonly field: string | null; readonly facets: LabelFacets | null } {
    if (text === '') return { field: null, facets: null };
    const named = this.collector.labels.named(text);
    const facets = this.collector.labels.facets(text);
    if (facets !== null && facets.test !== null) return { field: null, facets };
    const field = named && !KEYS.some((key) => key === named.name) ? named.name : null;
    return { field, facets: field === null && facets?.moment === 'settle' ? facets : null };
  }

  private takeMeasure(draft: InspectionDraft, { cell, origin }: Located, field: string | null): void {
    const text = cellText(cell);
    const isWord = timeUnitOf(text) !== null || (field !== null && (this.collector.labels.field(field)?.unitWords ?? []).includes(text.toLowerCase()));
    if (parsePressureUnit(text) === null) {
      if (isWord) this.collector.use(origin);
      else this.collector.leave(cell, origin, 'unit', 'psi, kPa, bar, min or s');
      return;
    }
    const outcome = draft.place(['pressure_unit'], parsePressureUnit(text), origin, { isPressure: false, unit: null });
    if (outcome !== 'placed') this.collector.use(origin);
  }
}

function wordsFor({ test, circuit, moment }: { readonly test: string | null; readonly circuit: CircuitName | null; readonly moment: string | null }): string {
  const words = [test === 'warning' ? 'the warning light' : test === 'buildup' ? 'build-up' : test, circuit, moment].filter((word) => word !== null);
  return words.join(', ');
}

function columnNote(column: LongFormColumn, header: string): string | null {
  const name = JSON.stringify(shorten(header));
  if (column.role === 'measure') return `The column ${name} was taken as the unit of the readings beside it.`;
  if (column.role !== 'reading') return null;
  const unit = column.unit ?? (column.timeUnit === 'min' ? 'minutes' : column.timeUnit === 's' ? 'seconds' : null);
  return `The column ${name} was taken as the ${column.circuit === null ? '' : `${column.circuit} `}${column.moment}${unit === null ? '' : `, in ${unit}`}.`;
}
