import { findHeader, HEADER_SEARCH_ROWS } from '../readings/choose-header.js';
import { parseAsFound } from '../readings/as-found-text.js';
import type { ColumnRole, Header } from '../readings/find-header.js';
import { isTotalsRow } from '../readings/inspection-checks.js';
import { provenDateOrder } from '../readings/parse-date.js';
import { LONG_EXPECTED, longFound, type Problem, type ProblemCode } from '../readings/problem.js';
import { UNSTORED, UNSTORED_MEND } from '../readings/unstored-words.js';
import { columnLetters } from '../util/column-letters.js';
import { LONGEST_CELL_TEXT } from '../util/cut-cell-text.js';
import { plainValue, type RawCell, type RawRow, type RawTable } from '../util/raw-table.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { lengthUnitIn, type LengthUnit } from './length-units.js';
import { readStrokeRow, strokeCellText, type ReadStrokeRow, type StrokeRowContext } from './read-stroke-row.js';
import { strokeDictionary } from './stroke-dictionary.js';
import { STROKE_FIELDS, type Stroke, type StrokeEntries, type StrokeField } from './stroke.js';

/** How to read a table of strokes. */
export interface ReadStrokesOptions {
  /** The file's name, for errors. */
  readonly name: string;
  readonly dateOrder?: 'dmy' | 'mdy' | null;
  /** The sheet as problems name it; the table's own when left out. */
  readonly sheet?: string;
}

/** A table of strokes that was read. */
export interface ReadStrokes {
  readonly sheet: string;
  readonly headerRow: number;
  readonly columns: readonly ColumnRole[];
  readonly strokes: readonly Stroke[];
  readonly problems: readonly Problem[];
  /** Rows below the header: read = blank + set aside + strokes. */
  readonly counts: { readonly rowsRead: number; readonly rowsBlank: number; readonly rowsSetAside: number; readonly strokes: number };
}

/** The header of a table of strokes among its first rows; null where it is none. */
export function findStrokeHeader(rows: readonly RawRow[]): Header | null {
  const dictionary = strokeDictionary();
  const header = findHeader(rows.slice(0, HEADER_SEARCH_ROWS), dictionary);
  if (header === null) return null;
  const fields = new Set(header.columns.flatMap((column) => (column.role === 'field' ? [dictionary.fields[column.position]!.name] : [])));
  return fields.has('stroke') && ['position', 'chamber_type', 'chamber_size'].some((name) => fields.has(name)) ? header : null;
}

/** True for a table whose header names a stroke, a unit, and a position or a chamber. It takes the table's first rows. */
export async function isStrokeTable(table: RawTable): Promise<boolean> {
  const rows: RawRow[] = [];
  for await (const row of table.rows) {
    rows.push(row);
    if (rows.length === HEADER_SEARCH_ROWS) break;
  }
  return findStrokeHeader(rows) !== null;
}

/**
 * Reads a table of pushrod strokes, one brake chamber per row. What cannot be understood stays as found and is named in
 * `problems`; no row and no cell is dropped.
 *
 * @throws TreadlebookError `header_missing` when no row names a unit, a stroke, and a position or a chamber
 * @example (await readStrokes(table, { name: 'strokes.csv' })).strokes[0].entries.stroke // 1.75
 */
export async function readStrokes(table: RawTable, options: ReadStrokesOptions): Promise<ReadStrokes> {
  const rows: RawRow[] = [];
  for await (const row of table.rows) rows.push(row);
  const header = findStrokeHeader(rows);
  if (header === null) {
    throw new TreadlebookError({ code: 'header_missing', where: table.sheet === '' ? options.name : `${options.name}, sheet ${table.sheet}`, what: `no header row with the columns unit, position and stroke was found in the first ${HEADER_SEARCH_ROWS} rows`, mend: `put the column names above the rows: ${STROKE_FIELDS.join(', ')}` });
  }
  return new TableReader(table, header, rows.filter(({ number }) => number > header.row), options).read();
}

class TableReader {
  private readonly dictionary = strokeDictionary();
  private readonly sheet: string;
  private readonly columns: ColumnRole[];
  private readonly columnAt = new Map<StrokeField, number>();
  private readonly strokes: Stroke[] = [];
  private readonly problems: Problem[] = [];
  private readonly context: StrokeRowContext;
  private readonly firstRowOf = new Map<string, number>();

  constructor(
    table: RawTable,
    private readonly header: Header,
    private readonly rows: readonly RawRow[],
    options: ReadStrokesOptions,
  ) {
    this.sheet = options.sheet ?? table.sheet;
    this.columns = header.columns.map((column, index) => (isGap(column, index, rows) ? { role: 'computed', header: '' } : column));
    const units = new Map<string, LengthUnit>();
    for (const [index, column] of this.columns.entries()) {
      if (column.role !== 'field') continue;
      const name = this.dictionary.fields[column.position]!.name as StrokeField;
      this.columnAt.set(name, index);
      const unit = lengthUnitIn(column.header);
      if (unit !== null && (name === 'stroke' || name === 'rated_stroke')) units.set(name, unit);
    }
    this.context = { dictionary: this.dictionary, dateOrder: options.dateOrder ?? this.provenOrder(), date1904: table.date1904, headerUnits: units };
  }

  read(): ReadStrokes {
    const counts = { rowsRead: this.rows.length, rowsBlank: 0, rowsSetAside: 0, strokes: 0 };
    for (const index of this.header.repeated) this.report('header_twice', this.header.row, index, this.columns[index]!.header, 'each column once; the first one was used and this one is kept as a column of yours');
    this.nameBeyond();
    for (const row of this.rows) {
      const entered = row.cells.map((cell, index) => (this.columns[index]?.role === 'computed' ? null : cell));
      if (entered.every(isBlank)) {
        counts.rowsBlank += 1;
      } else if (isTotalsRow(entered, this.cellOf(row, 'unit'), this.cellOf(row, 'inspected_on'))) {
        counts.rowsSetAside += 1;
        this.report('row_set_aside', row.number, entered.findIndex((cell) => !isBlank(cell)), entered.filter((cell) => !isBlank(cell)).map(strokeCellText).join(' | '), 'a brake chamber; this row sums up others, so it was not taken as one', '');
      } else {
        counts.strokes += 1;
        this.strokes.push(this.stroke(row));
      }
    }
    return { sheet: this.sheet, headerRow: this.header.row, columns: this.columns, strokes: this.strokes, problems: this.problems, counts };
  }

  private stroke(row: RawRow): Stroke {
    const cells = Object.fromEntries([...this.columnAt].map(([field, index]) => [field, row.cells[index] ?? null])) as Partial<Record<StrokeField, RawCell>>;
    const read = readStrokeRow(cells, this.context);
    for (const [field, index] of this.columnAt) if (row.unstored?.includes(index)) this.report('not_understood', row.number, index, UNSTORED, UNSTORED_MEND, field);
    for (const [index, cell] of row.cells.entries()) {
      if (typeof cell === 'string' && cell.length > LONGEST_CELL_TEXT) this.report('text_too_long', row.number, index, longFound(cell), LONG_EXPECTED);
    }
    for (const { field, code, expected } of read.troubles) this.report(code, row.number, this.columnAt.get(field) ?? -1, strokeCellText(cells[field] ?? null), expected, field);
    const stroke: Stroke = { row: row.number, entries: read.entries, asFound: this.withKept(row, cells, read), extra: this.columns.flatMap((column, index) => (column.role === 'extra' ? [row.cells[index] ?? null] : [])) };
    this.check(stroke);
    return stroke;
  }

  /** The texts as found, with those kept beside the row that still say what the row says. */
  private withKept(row: RawRow, cells: Partial<Record<StrokeField, RawCell>>, { entries, asFound }: ReadStrokeRow): ReadonlyMap<string, string> {
    const index = this.columns.findIndex(({ role }) => role === 'as_found');
    const text = index < 0 ? null : plainValue(row.cells[index]);
    if (typeof text !== 'string') return asFound;
    const all = new Map(asFound);
    for (const [name, kept] of parseAsFound(text)) {
      const orders = name === 'inspected_on' ? [this.context.dateOrder, 'dmy' as const, 'mdy' as const] : [this.context.dateOrder];
      const fits = this.columnAt.has(name as StrokeField) && orders.some((dateOrder) => sameEntries(entries, readStrokeRow({ ...cells, [name]: kept }, { ...this.context, dateOrder }).entries));
      if (fits) all.set(name, kept);
      else this.report('as_found_outdated', row.number, this.columnAt.get(name as StrokeField) ?? -1, kept, 'a text as found that means what the row holds; the row was changed since, and the row counts', name);
    }
    return all;
  }

  private check({ row, entries }: Stroke): void {
    for (const { name, required, help } of this.dictionary.fields) {
      if (required && entries[name as StrokeField] === null) this.report('required_blank', row, this.columnAt.get(name as StrokeField) ?? -1, '', `${name}: ${help}`, name);
    }
    const { position, unit, inspected_on: on, inspection_id: id } = entries;
    if (position === null || unit === null) return;
    const key = JSON.stringify([position, unit, on, id]).toLowerCase();
    const first = this.firstRowOf.get(key);
    if (first === undefined) this.firstRowOf.set(key, row);
    else this.report('position_twice', row, this.columnAt.get('position') ?? -1, String(position), `each brake of a vehicle once in an inspection; it stands in row ${first} too, and both are counted. Take one of them out`, 'position');
  }

  /** Cells without a header get a column of their own, so that they are kept. */
  private nameBeyond(): void {
    const width = Math.max(this.columns.length, ...this.rows.map(({ cells }) => cells.length));
    const from = this.columns.length;
    for (let index = from; index < width; index++) this.columns.push({ role: 'extra', header: '' });
    for (const row of this.rows) {
      for (let index = from; index < row.cells.length; index++) {
        const cell = row.cells[index] ?? null;
        if (!isBlank(cell)) this.report('cells_beyond_header', row.number, index, strokeCellText(cell), 'no more cells than the header has; give the column a name or move the cell', '');
      }
    }
  }

  private provenOrder(): 'dmy' | 'mdy' | null {
    const index = this.columns.findIndex((column) => column.role === 'field' && this.dictionary.fields[column.position]!.name === 'inspected_on');
    const order = index < 0 ? null : provenDateOrder(this.rows.map((row) => row.cells[index] ?? null));
    return order === 'conflict' ? null : order;
  }

  private cellOf(row: RawRow, field: StrokeField): RawCell {
    const index = this.columnAt.get(field);
    return index === undefined ? null : (row.cells[index] ?? null);
  }

  private report(code: ProblemCode, row: number, index: number, found: string, expected: string, column?: string): void {
    this.problems.push({ code, sheet: this.sheet, row, column: column ?? this.columns[index]?.header ?? '', cell: index < 0 ? '' : `${columnLetters(index)}${row}`, found, expected });
  }
}

/** A column without a header and without a cell. */
function isGap(column: ColumnRole, index: number, rows: readonly RawRow[]): boolean {
  return column.role === 'extra' && column.header === '' && rows.every(({ cells }) => isBlank(cells[index]));
}

function isBlank(cell: RawCell | undefined): boolean {
  const value = plainValue(cell);
  return value === null || (typeof value === 'string' && value.trim() === '');
}

function sameEntries(a: StrokeEntries, b: StrokeEntries): boolean {
  return STROKE_FIELDS.every((field) => {
    const [one, other] = [a[field], b[field]];
    return one === other || (typeof one === 'number' && typeof other === 'number' && Math.abs(one - other) <= 1e-9);
  });
}
