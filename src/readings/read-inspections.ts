import { columnLetters } from '../util/column-letters.js';
import { placeOfRow, rowWords } from '../util/continued-sheets.js';
import { LONGEST_CELL_TEXT } from '../util/cut-cell-text.js';
import { plainValue, type CellOrigin, type RawCell, type RawRow, type RawTable } from '../util/raw-table.js';
import { parseAsFound } from './as-found-text.js';
import { CellReader } from './cell-reader.js';
import { chooseHeader, HEADER_SEARCH_ROWS } from './choose-header.js';
import { dateFormatKind } from './date-format-kind.js';
import { fieldPosition, type Dictionary } from './dictionary.js';
import { HALF_WIDTH } from './field.js';
import type { ColumnMap, ColumnRole, Header } from './find-header.js';
import { InspectionChecks, isTotalsRow } from './inspection-checks.js';
import type { SeenRows } from './seen-rows.js';
import { ALL_READ, NOTHING_FOUND, type Entry, type Inspection } from './inspection.js';
import { provenDateOrder } from './parse-date.js';
import type { PressureUnit } from './pressure-units.js';
import { LONG_EXPECTED, longFound, type Problem, type ProblemCode } from './problem.js';
import { readEntry, type EntryContext } from './read-entry.js';
import type { UnplacedOnSheet } from './shape-table.js';
import { foundBeside, foundText, keptThatFits } from './texts-found.js';
import { unitKey } from './unit-key.js';
import { UNSTORED, UNSTORED_MEND } from './unstored-words.js';

/** How to read a table. */
export interface ReadOptions {
  readonly dictionary: Dictionary;
  /** The file's name, for error messages. */
  readonly name: string;
  readonly dateOrder?: 'dmy' | 'mdy' | null;
  /** Columns that a person assigned by hand. */
  readonly map?: ColumnMap;
  /** How units are matched: by their letters as they stand, or folded, so that `T-7`, `T07` and `t 7` are one. */
  readonly units?: 'exact' | 'folded';
  /** Cells that found no place when the table was put together. */
  readonly unplaced?: readonly UnplacedOnSheet[];
  /** What was taken how when the table was put together, in sentences. */
  readonly notes?: readonly string[];
  /** Whether other tables belong to it: a retest may then be of an inspection in one of them. */
  readonly isPart?: boolean;
  /** The spelling that each unit had first, by its key; shared between tables that belong together. */
  readonly spellings?: Map<string, string>;
}

/** A table being read. The inspections can be walked once; the counts and problems are complete after that. */
export interface InspectionReader {
  readonly dictionary: Dictionary;
  readonly sheet: string;
  readonly headerRow: number;
  readonly columns: readonly ColumnRole[];
  /** Headers of the columns that are not ours, in order. */
  readonly extraHeaders: readonly string[];
  readonly inspections: AsyncIterable<Inspection>;
  readonly problems: readonly Problem[];
  /** Whether its rows were put together from cells that stood elsewhere; known once they were walked. */
  readonly isReshaped: boolean;
  /** What was seen of the inspections, to set beside another table. */
  seen(): SeenRows;
  /** What was taken how when the table was put together from another shape, in sentences. */
  readonly notes: readonly string[];
  /** Rows below the header: read = blank + set aside + inspections. */
  readonly counts: { readonly rowsRead: number; readonly rowsBlank: number; readonly rowsSetAside: number; readonly inspections: number };
}

/**
 * Finds the header of a table and reads the inspections below it, one per row. What cannot be understood is kept
 * as found and named in `problems`; no row and no cell is dropped.
 *
 * @throws TreadlebookError `input_empty` when there is no row, `header_missing` when no row names a `unit`.
 */
export async function readInspections(table: RawTable, options: ReadOptions): Promise<InspectionReader> {
  const rows = table.rows[Symbol.asyncIterator]();
  const top: RawRow[] = [];
  while (top.length < HEADER_SEARCH_ROWS) {
    const next = await rows.next();
    if (next.done) break;
    top.push(next.value);
  }
  const place = table.sheet === '' ? options.name : `${options.name}, sheet ${table.sheet}`;
  const header = chooseHeader(top, options.dictionary, place, options.map);
  const body = (async function* () {
    yield* top.filter((row) => row.number > header.row);
    for (let next = await rows.next(); !next.done; next = await rows.next()) yield next.value;
  })();
  return new TableReader(table, header, body, options);
}

/** In which the unit of a row is read. */
const UNIT_CONTEXT: EntryContext = { unit: 'psi', columnUnit: null, dateOrder: null, date1904: false };

/** 1904-01-01 is day 0 of one system and day 1462 of the other (ECMA-376 Part 1, 18.17.4). */
const DAYS_FROM_1900_TO_1904 = 1462;

/** Between these two, every character of ASCII shows. */
const [SPACE, DELETE] = [0x20, 0x7f];

class TableReader implements InspectionReader {
  readonly dictionary: Dictionary;
  readonly sheet: string;
  readonly headerRow: number;
  readonly columns: readonly ColumnRole[];
  readonly extraHeaders: readonly string[];
  readonly inspections: AsyncIterable<Inspection>;
  readonly problems: Problem[] = [];
  readonly notes: readonly string[];
  readonly counts = { rowsRead: 0, rowsBlank: 0, rowsSetAside: 0, inspections: 0 };
  private readonly checks: InspectionChecks;
  private readonly columnAt = new Map<string, number>();
  /** Where the cells of rows stood that were put together from other cells. */
  private readonly originsOf = new Map<number, readonly (CellOrigin | null)[]>();
  private readonly unstoredRows: { first: { readonly row: number; readonly index: number } | null; count: number } = { first: null, count: 0 };
  private readonly firstSpelling: Map<string, string>;
  private readonly contexts = new Map<string, EntryContext>();
  private readonly readers: readonly (CellReader | null)[];
  private readonly unitReader: CellReader;
  private readonly asFoundAt: number;
  private readonly dateColumns: readonly number[];
  private readonly unitAt: number;

  constructor(
    private readonly table: RawTable,
    header: Header,
    body: AsyncGenerator<RawRow>,
    private readonly options: ReadOptions,
  ) {
    this.dictionary = options.dictionary;
    this.firstSpelling = options.spellings ?? new Map();
    this.sheet = table.sheet;
    this.notes = options.notes ?? [];
    this.headerRow = header.row;
    this.columns = header.columns;
    this.extraHeaders = header.columns.flatMap((column) => (column.role === 'extra' ? [column.header] : []));
    this.unitAt = fieldPosition(this.dictionary, 'unit');
    this.asFoundAt = this.columns.findIndex((column) => column.role === 'as_found');
    this.dateColumns = this.columns.flatMap((column, index) => (column.role === 'field' && this.dictionary.fields[column.position]!.kind === 'date' ? [index] : []));
    this.readers = this.columns.map((column) => this.readerOf(column));
    const unitField = this.dictionary.fields[fieldPosition(this.dictionary, 'pressure_unit')]!;
    this.unitReader = new CellReader((cell, context) => ({ read: readEntry(unitField, cell, context), found: null }));
    for (const [index, column] of this.columns.entries()) if (column.role === 'field') this.columnAt.set(this.dictionary.fields[column.position]!.name, index);
    this.checks = new InspectionChecks(this.dictionary, (code, row, field, found, expected) => this.report(code, row, this.columnAt.get(field) ?? -1, found, expected, field), (row) => rowWords(table.sheet, row), options.isPart === true);
    for (const index of header.repeated) {
      this.report('header_twice', header.row, index, this.columns[index]!.header, 'each column once; the first one was used and this one is kept as a column of yours');
    }
    for (const [index, { header: text }] of this.columns.entries()) if (text.length > LONGEST_CELL_TEXT) this.reportLong(header.row, index, text);
    for (const [index, column] of this.columns.entries()) {
      if (column.role !== 'field' || column.how !== 'assumed') continue;
      const { name } = this.dictionary.fields[column.position]!;
      this.report('header_assumed', header.row, index, column.header, `a header that names the test; it was taken as ${name}. If that is wrong, rename the column or give --map`, name);
    }
    for (const { sheet, row, column, header: label, found, expected } of options.unplaced ?? []) {
      this.problems.push({ code: 'not_placed', sheet, row, column: label, cell: `${columnLetters(column)}${row}`, found, expected });
    }
    this.inspections = this.read(body);
  }

  get isReshaped(): boolean {
    return this.originsOf.size > 0;
  }

  seen(): SeenRows {
    return this.checks.seen();
  }

  private async *read(body: AsyncGenerator<RawRow>): AsyncGenerator<Inspection> {
    const held: RawRow[] = [];
    const order = this.options.dateOrder ?? null;
    for await (const row of body) {
      this.counts.rowsRead += 1;
      if (row.cells.every(isBlank)) {
        this.counts.rowsBlank += 1;
        this.noteUnstored(row);
      } else if (isTotalsRow(row.cells, this.cellOf(row, 'unit'), this.cellOf(row, 'inspected_on'))) {
        this.counts.rowsSetAside += 1;
        const first = row.cells.findIndex((cell) => !isBlank(cell));
        this.report('row_set_aside', row.number, first, row.cells.filter((cell) => !isBlank(cell)).map(foundText).join(' | '), 'an inspection; this row sums up others, so it was not taken as one', '');
      } else if (order === null && (held.length > 0 || this.hasAmbiguousDate(row))) {
        held.push(row);
      } else {
        yield this.inspection(row, order);
      }
    }
    const proven = this.proveDateOrder(held);
    for (const row of held) yield this.inspection(row, proven);
    if (!this.options.isPart) this.checks.finish();
    this.tellUnstored();
  }

  /** A row of nothing but formulas without a stored value may be an inspection, or a formula copied down too far. */
  private noteUnstored(row: RawRow): void {
    const index = row.unstored?.find((column) => this.columns[column]?.role === 'field');
    if (index === undefined) return;
    this.unstoredRows.first ??= { row: row.number, index };
    this.unstoredRows.count += 1;
  }

  private tellUnstored(): void {
    const { first, count } = this.unstoredRows;
    if (first) this.report('not_understood', first.row, first.index, `${UNSTORED} and nothing else, in ${count === 1 ? 'this row' : `${count} rows from here on`}`, UNSTORED_MEND);
  }

  private hasAmbiguousDate(row: RawRow): boolean {
    return this.dateColumns.some((index) => {
      const cell = row.cells[index] ?? null;
      return typeof cell === 'string' && /^\D*\d{1,2}\D+\d{1,2}\D+\d{2,4}/.test(cell);
    });
  }

  private proveDateOrder(rows: readonly RawRow[]): 'dmy' | 'mdy' | null {
    const cells = this.dateColumns.flatMap((index) => rows.map((row) => row.cells[index] ?? null));
    const order = provenDateOrder(cells);
    return order === 'conflict' ? null : order;
  }

  private inspection(row: RawRow, dateOrder: 'dmy' | 'mdy' | null): Inspection {
    this.counts.inspections += 1;
    if (row.origins) this.originsOf.set(row.number, row.origins);
    const { fields } = this.dictionary;
    const values: Entry[] = new Array<Entry>(this.dictionary.standardCount).fill(null);
    const asFound = new Map<string, string>();
    const notRead: string[] = [];
    const troubled = new Set<string>();
    const extra: RawCell[] = [];
    const context = this.contextOf(this.rowUnit(row), dateOrder);
    const kept = this.keptTexts(row);
    for (const [index, column] of this.columns.entries()) {
      const cell = row.cells[index] ?? null;
      if (typeof cell === 'string' && cell.length > LONGEST_CELL_TEXT) this.reportLong(row.number, index, cell);
      if (column.role === 'extra') extra.push(this.from1900(cell));
      if (column.role !== 'field') continue;
      const field = fields[column.position]!;
      if (isBlank(cell) && row.unstored?.includes(index)) {
        troubled.add(field.name);
        notRead.push(field.name);
        this.report('not_understood', row.number, index, UNSTORED, UNSTORED_MEND, field.name);
        continue;
      }
      if (isBlank(cell)) {
        const mark = kept.size === 0 ? null : keptThatFits(field, null, kept, context);
        if (mark !== null) asFound.set(field.name, mark);
        continue;
      }
      const { read, found: beside } = this.readers[index]!.read(cell, context);
      if (read.entry !== null) this.put(values, column.position, read.entry);
      if (read.halfWidth !== null) {
        const position = fieldPosition(this.dictionary, field.name + HALF_WIDTH);
        if ((values[position] ?? null) === null) this.put(values, position, read.halfWidth);
      }
      const found = (kept.size === 0 ? null : keptThatFits(field, read.entry, kept, context)) ?? beside;
      if (found !== null) asFound.set(field.name, found);
      if (read.trouble) {
        troubled.add(field.name);
        if (read.entry === null) notRead.push(field.name);
        this.report(read.trouble.code, row.number, index, foundText(cell), read.trouble.expected, field.name);
      }
    }
    this.checkKept(row, kept, values, asFound);
    this.checkLength(row, extra);
    if (this.options.units === 'folded') this.unifyUnit(values, asFound);
    const inspection: Inspection = { row: row.number, values, asFound: asFound.size === 0 ? NOTHING_FOUND : asFound, notRead: notRead.length === 0 ? ALL_READ : notRead, extra };
    this.checks.look(inspection, troubled);
    return inspection;
  }

  /** Fills a field; an optional one makes room for those up to it. */
  private put(values: Entry[], position: number, entry: Entry): void {
    while (position >= values.length) values.push(null);
    values[position] = entry;
  }

  /** A text as found that no longer means what its cell holds was overtaken by a change of the cell. */
  private checkKept(row: RawRow, kept: ReadonlyMap<string, string>, values: readonly Entry[], asFound: Map<string, string>): void {
    for (const [name, text] of kept) {
      const position = this.dictionary.position.get(name);
      if (asFound.has(name) || position === undefined) continue;
      const value = values[position];
      if (this.dictionary.fields[position]!.kind === 'text' && typeof value === 'string' && unitKey(value) === unitKey(text)) asFound.set(name, text);
      else this.report('as_found_outdated', row.number, this.columnAt.get(name) ?? -1, text, 'a text as found that means what the cell holds; the cell was changed since, and the cell counts', name);
    }
  }

  /** Gives a unit the spelling that it had first; the spelling as found is kept. */
  private unifyUnit(values: Entry[], asFound: Map<string, string>): void {
    const unit = values[this.unitAt];
    if (typeof unit !== 'string') return;
    const key = unitKey(unit);
    const first = this.firstSpelling.get(key);
    if (first === undefined) this.firstSpelling.set(key, unit);
    else if (first !== unit) {
      values[this.unitAt] = first;
      if (!asFound.has('unit')) asFound.set('unit', unit);
    }
  }

  private cellOf(row: RawRow, field: string): RawCell {
    const index = this.columnAt.get(field);
    return index === undefined ? null : (row.cells[index] ?? null);
  }

  /** A date of a workbook that counts from 1904 as one that counts from 1900, so that it says the same in any workbook. */
  private from1900(cell: RawCell): RawCell {
    if (!this.table.date1904 || cell === null || typeof cell !== 'object' || !dateFormatKind(cell.format).date) return cell;
    return { ...cell, value: cell.value + DAYS_FROM_1900_TO_1904 };
  }

  /** One context for each unit and order of dates, by which the readers of cells keep what they read. */
  private contextOf(unit: PressureUnit, dateOrder: 'dmy' | 'mdy' | null): EntryContext {
    const key = `${unit} ${dateOrder}`;
    let context = this.contexts.get(key);
    if (!context) this.contexts.set(key, (context = { unit, columnUnit: null, dateOrder, date1904: this.table.date1904 }));
    return context;
  }

  private readerOf(column: ColumnRole): CellReader | null {
    if (column.role !== 'field') return null;
    const field = this.dictionary.fields[column.position]!;
    return new CellReader((cell, context) => {
      const read = readEntry(field, cell, column.unit || column.timeUnit ? { ...context, columnUnit: column.unit, columnTimeUnit: column.timeUnit } : context);
      return { read, found: foundBeside(field, cell, read, column, context) };
    });
  }

  private keptTexts(row: RawRow): ReadonlyMap<string, string> {
    const cell = this.asFoundAt < 0 ? null : plainValue(row.cells[this.asFoundAt]);
    return typeof cell === 'string' ? parseAsFound(cell) : NOTHING_FOUND;
  }

  private rowUnit(row: RawRow): PressureUnit {
    const cell = this.cellOf(row, 'pressure_unit');
    if (cell === null) return 'psi';
    const { entry } = this.unitReader.read(cell, UNIT_CONTEXT).read;
    return (entry as PressureUnit | null) ?? 'psi';
  }

  private checkLength(row: RawRow, extra: RawCell[]): void {
    for (let index = this.columns.length; index < row.cells.length; index++) {
      const cell = row.cells[index] ?? null;
      if (isBlank(cell)) continue;
      if (typeof cell === 'string' && cell.length > LONGEST_CELL_TEXT) this.reportLong(row.number, index, cell);
      this.report('cells_beyond_header', row.number, index, foundText(cell), 'no more cells than the header has; give the column a name or move the cell', '');
      extra.push(this.from1900(cell));
    }
  }

  private reportLong(row: number, index: number, text: string): void {
    const column = this.columns[index];
    this.report('text_too_long', row, index, longFound(text), LONG_EXPECTED, column?.role === 'field' ? this.dictionary.fields[column.position]!.name : undefined);
  }

  private report(code: ProblemCode, row: number, index: number, found: string, expected: string, column?: string): void {
    const origins = this.originsOf.get(row);
    const place = placeOfRow(this.sheet, row);
    const origin: CellOrigin | null | undefined = origins ? origins[index] : { row: place.row, column: index };
    const cell = index < 0 || !origin ? '' : `${columnLetters(origin.column)}${origin.row}`;
    this.problems.push({ code, sheet: origin?.sheet ?? place.sheet, row: origin?.row ?? place.row, column: column ?? this.columns[index]?.header ?? '', cell, found, expected });
  }
}

function isBlank(cell: RawCell | undefined): boolean {
  if (typeof cell === 'string' && cell.charCodeAt(0) > SPACE && cell.charCodeAt(0) < DELETE) return false;
  const value = plainValue(cell);
  return value === null || (typeof value === 'string' && value.trim() === '');
}
