import { columnLetters } from '../../util/column-letters.js';
import type { RawCell } from '../../util/raw-table.js';
import { parseCellPosition, parseCount } from './cell-position.js';
import { numberInStyle, readCellValue } from './cell-value.js';
import type { RowScanner } from './row-scanner.js';
import { SharedFormulas, type StoredFormula } from './shared-formulas.js';
import type { SheetContext } from './sheet-context.js';
import { ESCAPE_LENGTH, TextRuns, finishText, tooLong } from './text-runs.js';
import { unreadable } from './unreadable.js';
import type { XmlAttributes, XmlHandlers } from './xml-reader.js';

/** A row with the formula of each cell beside its stored value; null where the cell has none. */
export interface RowWithFormulas {
  readonly number: number;
  readonly cells: readonly RawCell[];
  /** As long as `cells`, or longer where a formula has no stored value. */
  readonly formulas: readonly (string | null)[];
}

/** A row as the sheet stores it: {@link RowWithFormulas} with its formulas not written out, and whether it shows. */
export interface StoredRow {
  readonly number: number;
  readonly cells: readonly RawCell[];
  /** As long as `cells`, or longer where a formula has no stored value. */
  readonly formulas: readonly (StoredFormula | null)[];
  readonly hidden: boolean;
}

/** Columns that do not show, both counted from 1. */
export interface HiddenColumns {
  readonly first: number;
  readonly last: number;
}

type State = 'outside' | 'cols' | 'sheetData' | 'row' | 'cell' | 'value' | 'formula' | 'inline';

/**
 * Makes rows from the XML events of one sheet. Rows are gathered in `rows`, for the caller to take as they come. Every number,
 * place and text is checked against the caps as it passes. What stands around the cells (column widths, merged ranges,
 * validation and the like) is passed over.
 *
 * @throws TreadlebookError `input_unreadable` from its handlers, naming the cell
 */
export class SheetReader implements XmlHandlers {
  readonly rows: RowWithFormulas[] = [];
  /** Gathered in place of `rows` where formulas are wanted as stored. */
  readonly storedRows: StoredRow[] = [];
  /** Complete before the first row. */
  readonly hiddenColumns: HiddenColumns[] = [];
  readonly #context: SheetContext;
  readonly #shared: SharedFormulas;
  readonly #inline: TextRuns;
  #state: State = 'outside';
  #skipped = 0;
  #text = '';
  #row = 0;
  #column = 0;
  #places = 0;
  #cellElements = 0;
  #others = 0;
  #cells: RawCell[] = [];
  #formulas: (string | null)[] = [];
  #stored: (StoredFormula | null)[] = [];
  #hidden = false;
  #type: string | undefined;
  #style: string | undefined;
  #value: string | null = null;
  #inlineText: string | null = null;
  #formula: string | null = null;
  #formulaAttributes: XmlAttributes = {};

  constructor(context: SheetContext) {
    this.#context = context;
    this.#inline = new TextRuns(context.caps.stringLength, this.where);
    this.#shared = new SharedFormulas(context.caps.expandedFormulas, this.where);
  }

  /** The place reached, for errors. */
  readonly where = (): string => {
    const { where } = this.#context;
    if (this.#row === 0) return where;
    return this.#column === 0 ? `${where}, row ${this.#row}` : `${where}, cell ${columnLetters(this.#column - 1)}${this.#row}`;
  };

  open(name: string, attributes: XmlAttributes, parent: string): void {
    if (this.#skipped > 0) this.#skip();
    else if (this.#state === 'inline') this.#inline.open(name);
    else if (this.#state === 'row' && name === 'c') this.#openCell(attributes);
    else if (this.#state === 'cell' && name === 'v') this.#gather('value');
    else if (this.#state === 'cell' && name === 'f') {
      this.#formulaAttributes = attributes;
      this.#gather('formula');
    } else if (this.#state === 'cell' && name === 'is') this.#state = 'inline';
    else if (this.#state === 'sheetData' && name === 'row') this.#openRow(attributes);
    else if (parent === '') this.#checkRoot(name);
    else if (this.#state === 'outside' && name === 'sheetData') this.#state = 'sheetData';
    else if (this.#state === 'outside' && name === 'cols') this.#state = 'cols';
    else if (this.#state === 'cols' && name === 'col') this.#openColumns(attributes);
    else this.#skip();
  }

  text(text: string): void {
    if (this.#skipped > 0) return;
    if (this.#state === 'inline') this.#inline.write(text);
    else if (this.#state === 'value' || this.#state === 'formula') {
      const { stringLength } = this.#context.caps;
      this.#text += text;
      if (this.#text.length > stringLength * ESCAPE_LENGTH) throw tooLong(this.where(), stringLength);
    }
  }

  close(): void {
    if (this.#skipped > 0) {
      this.#skipped -= 1;
      return;
    }
    switch (this.#state) {
      case 'value':
        this.#value = this.#text;
        this.#state = 'cell';
        break;
      case 'formula':
        this.#formula = this.#text;
        this.#state = 'cell';
        break;
      case 'inline':
        if (this.#inline.close()) break;
        this.#inlineText = this.#inline.take();
        this.#state = 'cell';
        break;
      case 'cell':
        this.#endCell();
        this.#state = 'row';
        break;
      case 'row':
        this.#endRow();
        this.#state = 'sheetData';
        break;
      case 'sheetData':
      case 'cols':
        this.#state = 'outside';
        break;
      default:
    }
  }

  /** The number of the row before. */
  get lastRow(): number {
    return this.#row;
  }

  /** Takes a row that was scanned, as if its XML had been read event by event. */
  takeRow({ row, rowAttributes, cells, count }: RowScanner): void {
    this.#row = row;
    this.#hidden = isHidden(rowAttributes, 'ht');
    this.#cellElements = count;
    for (let index = 0; index < count; index++) {
      const { column, type, style, value, inline, formula, formulaAttributes } = cells[index]!;
      this.#column = column;
      if (inline !== null) this.#place(this.#cells, finishText(inline, this.#context.caps.stringLength, this.where));
      else if (value !== null) {
        const read = typeof value === 'number' ? numberInStyle(value, Math.max(style, 0), this.#context) : readCellValue(type, style < 0 ? undefined : String(style), value, this.#context, this.where);
        if (read !== null) this.#place(this.#cells, read);
      }
      if (formula !== null) this.#placeFormula(formula, formulaAttributes);
    }
    this.#endRow();
  }

  #skip(): void {
    const { listLength } = this.#context.caps;
    this.#skipped += 1;
    this.#others += 1;
    if (this.#others > listLength) throw unreadable(this.where(), `more than ${listLength} elements here are neither rows nor cells`);
  }

  #checkRoot(name: string): void {
    if (name !== 'worksheet') throw unreadable(this.#context.where, `the part is not a sheet but <${name.slice(0, 60)}>`);
  }

  #openColumns(attributes: XmlAttributes): void {
    const [first, last] = [parseCount(attributes['min'] ?? ''), parseCount(attributes['max'] ?? '')];
    if (isHidden(attributes, 'width') && first !== null && last !== null) this.hiddenColumns.push({ first, last });
    this.#skip();
  }

  #gather(state: 'value' | 'formula'): void {
    this.#text = '';
    this.#state = state;
  }

  #openRow(attributes: XmlAttributes): void {
    const given = attributes['r'];
    const { caps, where } = this.#context;
    const row = given === undefined ? this.#row + 1 : parseCount(given);
    if (row === null) throw unreadable(`${where}, after row ${this.#row}`, `"${String(given).slice(0, 20)}" is no row number`);
    if (row > caps.rows) throw unreadable(`${where}, after row ${this.#row}`, `the row number ${given ?? row} is beyond the ${caps.rows} rows of a sheet`);
    if (row <= this.#row) throw unreadable(where, `row ${row} comes after row ${this.#row}`);
    this.#row = row;
    this.#hidden = isHidden(attributes, 'ht');
    this.#column = 0;
    this.#cellElements = 0;
    this.#state = 'row';
  }

  #openCell(attributes: XmlAttributes): void {
    const reference = attributes['r'];
    const column = reference === undefined ? this.#column + 1 : this.#columnOf(reference);
    if (column > this.#context.caps.columns) {
      throw unreadable(this.where(), `the next cell${reference === undefined ? '' : `, ${reference.slice(0, 20)},`} is beyond the ${this.#context.caps.columns} columns of a sheet`);
    }
    if (column <= this.#column) throw unreadable(this.where(), `the cell in column ${columnLetters(column - 1)} comes after it`);
    this.#column = column;
    this.#cellElements += 1;
    this.#type = attributes['t'];
    this.#style = attributes['s'];
    this.#value = null;
    this.#inlineText = null;
    this.#formula = null;
    this.#state = 'cell';
  }

  #columnOf(reference: string): number {
    const position = parseCellPosition(reference);
    if (position === null) throw unreadable(this.where(), `"${reference.slice(0, 20)}", next to it, is no cell reference`);
    if (position.row !== this.#row) throw unreadable(this.where(), `the cell ${reference.slice(0, 20)} stands in row ${this.#row}`);
    return position.column;
  }

  #endCell(): void {
    const value = this.#inlineText ?? (this.#value === null ? null : readCellValue(this.#type, this.#style, this.#value, this.#context, this.where));
    if (value !== null) this.#place(this.#cells, value);
    if (this.#formula !== null) this.#placeFormula(this.#formula, this.#formulaAttributes);
  }

  #placeFormula(raw: string, attributes: XmlAttributes): void {
    const { formulas, caps } = this.#context;
    if (formulas === 'left out') return;
    const text = finishText(raw, caps.stringLength, this.where);
    if (formulas === 'as stored') {
      const formula = this.#shared.stored(text, attributes, this.#row, this.#column);
      if (formula !== null) this.#place(this.#stored, formula);
    } else {
      const formula = this.#shared.resolve(text, attributes, this.#row, this.#column);
      if (formula !== null) this.#place(this.#formulas, formula);
    }
  }

  #place<T>(list: (T | null)[], value: T): void {
    while (list.length < this.#column - 1) list.push(null);
    list.push(value);
  }

  #endRow(): void {
    const { caps, formulas } = this.#context;
    if (formulas === 'written out') while (this.#formulas.length < this.#cells.length) this.#formulas.push(null);
    if (formulas === 'as stored') while (this.#stored.length < this.#cells.length) this.#stored.push(null);
    this.#places += Math.max(this.#cells.length, this.#formulas.length, this.#stored.length, this.#cellElements);
    if (this.#places > caps.cells) throw unreadable(this.where(), `the sheet spreads over more than ${caps.cells} cells`);
    if (formulas === 'as stored') this.storedRows.push({ number: this.#row, cells: this.#cells, formulas: this.#stored, hidden: this.#hidden });
    else this.rows.push({ number: this.#row, cells: this.#cells, formulas: this.#formulas });
    this.#cells = [];
    this.#formulas = [];
    this.#stored = [];
    this.#column = 0;
  }
}

/** Told to hide, or nothing high or wide. */
function isHidden(attributes: XmlAttributes, size: 'ht' | 'width'): boolean {
  const told = attributes['hidden'];
  return told === '1' || told === 'true' || (attributes[size] !== undefined && Number(attributes[size]) === 0);
}
