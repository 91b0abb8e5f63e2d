import { columnLetters } from '../util/column-letters.js';
import { nearestName } from '../util/nearest-name.js';
import { plainValue, type RawCell, type RawRow, type RawTable } from '../util/raw-table.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { parseAsFound } from './as-found-text.js';
import { cleanCellText } from './clean-cell-text.js';
import type { Dictionary } from './dictionary.js';
import { fieldPosition } from './dictionary.js';
import { entryText } from './entry-text.js';
import { HALF_WIDTH, type Field } from './field.js';
import { headerScore, readHeader, type ColumnRole, type Header } from './find-header.js';
import { NOTHING_FOUND, type Entry, type Inspection } from './inspection.js';
import { provenDateOrder } from './parse-date.js';
import type { PressureUnit } from './pressure-units.js';
import type { Problem, ProblemCode } from './problem.js';
import { readEntry, type EntryContext, type ReadEntry } from './read-entry.js';

/** How to read a table. */
export interface ReadOptions {
  readonly dictionary: Dictionary;
  /** The file's name, for error messages. */
  readonly name: string;
  readonly dateOrder?: 'dmy' | 'mdy' | null;
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
  readonly counts: { readonly rowsRead: number; readonly rowsBlank: number; readonly inspections: number };
}

/** How far down a header is looked for. */
const HEADER_SEARCH_ROWS = 40;

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
  const header = chooseHeader(top, options.dictionary, place);
  const body = (async function* () {
    yield* top.filter((row) => row.number > header.row);
    for (let next = await rows.next(); !next.done; next = await rows.next()) yield next.value;
  })();
  return new TableReader(table, header, body, options);
}

function chooseHeader(rows: readonly RawRow[], dictionary: Dictionary, place: string): Header {
  let best: Header | null = null;
  let bestScore = 0;
  for (const row of rows) {
    const header = readHeader(row, dictionary);
    const score = headerScore(header, dictionary);
    if (score > bestScore) [best, bestScore] = [header, score];
  }
  if (best) return best;
  const first = rows.find((row) => row.cells.some((cell) => !isBlank(cell)));
  if (!first) throw new TreadlebookError({ code: 'input_empty', where: place, what: 'there are no rows', mend: 'check that this is the right file and that it was saved with its rows' });
  const headers = first.cells.map((cell) => cleanCellText(String(plainValue(cell) ?? ''))).filter((text) => text !== '');
  const near = headers.find((text) => nearestName(text, ['unit']) !== null);
  throw new TreadlebookError({
    code: 'header_missing',
    where: place,
    what: `no header row with a column named unit was found in the first ${HEADER_SEARCH_ROWS} rows (the first row reads: ${shorten(headers.join(', '), 120)})`,
    mend: near ? `rename the column ${near} to unit` : 'put the column names above the rows, at least unit and inspected_on; `treadlebook fields` lists them',
  });
}

class TableReader implements InspectionReader {
  readonly dictionary: Dictionary;
  readonly sheet: string;
  readonly headerRow: number;
  readonly columns: readonly ColumnRole[];
  readonly extraHeaders: readonly string[];
  readonly inspections: AsyncIterable<Inspection>;
  readonly problems: Problem[] = [];
  readonly counts = { rowsRead: 0, rowsBlank: 0, inspections: 0 };
  private readonly firstRowOfId = new Map<string, number>();
  private readonly retests: { row: number; id: string }[] = [];
  private readonly unitAt: number;
  private readonly idAt: number;
  private readonly retestAt: number;

  constructor(
    private readonly table: RawTable,
    header: Header,
    body: AsyncGenerator<RawRow>,
    private readonly options: ReadOptions,
  ) {
    this.dictionary = options.dictionary;
    this.sheet = table.sheet;
    this.headerRow = header.row;
    this.columns = header.columns;
    this.extraHeaders = header.columns.flatMap((column) => (column.role === 'extra' ? [column.header] : []));
    this.unitAt = fieldPosition(this.dictionary, 'pressure_unit');
    this.idAt = fieldPosition(this.dictionary, 'inspection_id');
    this.retestAt = fieldPosition(this.dictionary, 'retest_of');
    for (const index of header.repeated) {
      this.report('header_twice', header.row, index, this.columns[index]!.header, 'each column once; the first one was used and this one is kept as a column of yours');
    }
    this.inspections = this.read(body);
  }

  private async *read(body: AsyncGenerator<RawRow>): AsyncGenerator<Inspection> {
    const held: RawRow[] = [];
    const order = this.options.dateOrder ?? null;
    for await (const row of body) {
      this.counts.rowsRead += 1;
      if (row.cells.every(isBlank)) {
        this.counts.rowsBlank += 1;
      } else if (order === null && (held.length > 0 || this.hasAmbiguousDate(row))) {
        held.push(row);
      } else {
        yield this.inspection(row, order);
      }
    }
    const proven = this.proveDateOrder(held);
    for (const row of held) yield this.inspection(row, proven);
    this.checkRetests();
  }

  private dateColumns(): number[] {
    return this.columns.flatMap((column, index) => (column.role === 'field' && this.dictionary.fields[column.position]!.kind === 'date' ? [index] : []));
  }

  private hasAmbiguousDate(row: RawRow): boolean {
    return this.dateColumns().some((index) => {
      const cell = row.cells[index] ?? null;
      return typeof cell === 'string' && /^\D*\d{1,2}\D+\d{1,2}\D+\d{2,4}/.test(cell);
    });
  }

  private proveDateOrder(rows: readonly RawRow[]): 'dmy' | 'mdy' | null {
    const cells = this.dateColumns().flatMap((index) => rows.map((row) => row.cells[index] ?? null));
    const order = provenDateOrder(cells);
    return order === 'conflict' ? null : order;
  }

  private inspection(row: RawRow, dateOrder: 'dmy' | 'mdy' | null): Inspection {
    this.counts.inspections += 1;
    const { fields } = this.dictionary;
    const values: Entry[] = new Array<Entry>(fields.length).fill(null);
    const asFound = new Map<string, string>();
    const notRead: string[] = [];
    const extra: RawCell[] = [];
    const context: EntryContext = { unit: this.rowUnit(row), columnUnit: null, dateOrder, date1904: this.table.date1904 };
    const kept = this.keptTexts(row);
    for (const [index, column] of this.columns.entries()) {
      const cell = row.cells[index] ?? null;
      if (column.role === 'extra') extra.push(cell);
      if (column.role !== 'field' || isBlank(cell)) continue;
      const field = fields[column.position]!;
      const read = readEntry(field, cell, column.unit ? { ...context, columnUnit: column.unit } : context);
      values[column.position] = read.entry;
      if (read.halfWidth !== null) values[fieldPosition(this.dictionary, field.name + HALF_WIDTH)] ??= read.halfWidth;
      this.note(field, cell, read, kept, context, asFound);
      if (read.trouble) {
        if (read.entry === null) notRead.push(field.name);
        this.report(read.trouble.code, row.number, index, foundText(cell), read.trouble.expected, field.name);
      }
    }
    this.checkLength(row, extra);
    this.checkRequired(row, values, notRead);
    this.remember(row, values);
    return { row: row.number, values, asFound: asFound.size === 0 ? NOTHING_FOUND : asFound, notRead, extra };
  }

  /** Keeps the text as found where it says more than the value, whether it stands in the cell or beside it. */
  private note(field: Field, cell: RawCell, read: ReadEntry, kept: Map<string, string>, context: EntryContext, asFound: Map<string, string>): void {
    const text = foundText(cell);
    const plain = entryText(field, read.entry);
    const before = kept.get(field.name);
    if (before !== undefined && before !== text) {
      const again = readEntry(field, before, context);
      if (sameEntry(again.entry, read.entry)) {
        asFound.set(field.name, before);
        return;
      }
    }
    if (typeof cell === 'string' ? text !== plain : read.trouble !== null && read.entry === null) asFound.set(field.name, text);
  }

  private keptTexts(row: RawRow): Map<string, string> {
    const index = this.columns.findIndex((column) => column.role === 'as_found');
    const cell = index < 0 ? null : plainValue(row.cells[index]);
    return typeof cell === 'string' ? parseAsFound(cell) : new Map<string, string>();
  }

  private rowUnit(row: RawRow): PressureUnit {
    const index = this.columns.findIndex((column) => column.role === 'field' && column.position === this.unitAt);
    if (index < 0) return 'psi';
    const field = this.dictionary.fields[this.unitAt]!;
    const { entry } = readEntry(field, row.cells[index] ?? null, { unit: 'psi', columnUnit: null, dateOrder: null, date1904: false });
    return (entry as PressureUnit | null) ?? 'psi';
  }

  private checkLength(row: RawRow, extra: RawCell[]): void {
    for (let index = this.columns.length; index < row.cells.length; index++) {
      const cell = row.cells[index] ?? null;
      if (isBlank(cell)) continue;
      this.report('cells_beyond_header', row.number, index, foundText(cell), 'no more cells than the header has; give the column a name or move the cell', '');
      extra.push(cell);
    }
  }

  private checkRequired(row: RawRow, values: readonly Entry[], notRead: readonly string[]): void {
    for (const [position, field] of this.dictionary.fields.entries()) {
      if (!field.required || values[position] !== null || notRead.includes(field.name)) continue;
      const index = this.columns.findIndex((column) => column.role === 'field' && column.position === position);
      this.report('required_blank', row.number, index, '', `${field.name}: ${field.help}`, field.name);
    }
  }

  private remember(row: RawRow, values: readonly Entry[]): void {
    const id = values[this.idAt];
    if (typeof id === 'string') {
      const first = this.firstRowOfId.get(id);
      if (first === undefined) this.firstRowOfId.set(id, row.number);
      else this.report('inspection_id_twice', row.number, this.columnOf(this.idAt), id, `an inspection_id once; it stands in row ${first} too`, 'inspection_id');
    }
    const retest = values[this.retestAt];
    if (typeof retest === 'string') this.retests.push({ row: row.number, id: retest });
  }

  private checkRetests(): void {
    for (const { row, id } of this.retests) {
      if (this.firstRowOfId.has(id)) continue;
      this.report('retest_of_unknown', row, this.columnOf(this.retestAt), id, 'the inspection_id of an inspection in this table', 'retest_of');
    }
  }

  private columnOf(position: number): number {
    return this.columns.findIndex((column) => column.role === 'field' && column.position === position);
  }

  private report(code: ProblemCode, row: number, index: number, found: string, expected: string, column?: string): void {
    const cell = index < 0 ? '' : `${columnLetters(index)}${row}`;
    this.problems.push({ code, sheet: this.sheet, row, column: column ?? this.columns[index]?.header ?? '', cell, found, expected });
  }
}

function isBlank(cell: RawCell | undefined): boolean {
  const value = plainValue(cell);
  return value === null || (typeof value === 'string' && value.trim() === '');
}

function foundText(cell: RawCell): string {
  const value = plainValue(cell);
  return value === null ? '' : typeof value === 'boolean' ? (value ? 'TRUE' : 'FALSE') : String(value);
}

function sameEntry(a: Entry, b: Entry): boolean {
  return a === b || (typeof a === 'number' && typeof b === 'number' && Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(a)));
}

function shorten(text: string, length: number): string {
  return text.length <= length ? text : `${text.slice(0, length - 1)}…`;
}
