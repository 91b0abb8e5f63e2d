import { columnLetters } from '../../util/column-letters.js';
import type { RawCell } from '../../util/raw-table.js';
import { raiseCap, type XlsxCaps } from '../input-caps.js';
import { parseCellPosition, parseCount } from './cell-position.js';
import { numberInStyle, readCellValue } from './cell-value.js';
import { mayReachOut } from './outside-formulas.js';
import type { RowScanner, ScannedCell } from './row-scanner.js';
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
  readonly shared?: SharedPlaces;
  /** 0-based columns of formulas without a stored value. */
  readonly unstored?: readonly number[];
}

/** Which cells of a row hold a long shared string: their columns, counted from 0, each followed by the string's number. */
export type SharedPlaces = readonly number[];

/** A text of so many characters is long. */
const LONG_TEXT = 64;

/** A row as the sheet stores it: {@link RowWithFormulas} with its formulas not written out, and whether it shows. */
export interface StoredRow {
  readonly number: number;
  readonly cells: readonly RawCell[];
  /** As long as `cells`, or longer where a formula has no stored value. */
  readonly formulas: readonly (StoredFormula | null)[];
  readonly hidden: boolean;
  readonly shared?: SharedPlaces;
}

/** Columns that do not show, both counted from 1. */
export interface HiddenColumns {
  readonly first: number;
  readonly last: number;
}

/** What a cell holds. */
interface TakenCell {
  readonly value: RawCell;
  /** Of a shared string, its index as written. */
  readonly shared: string | number | null;
  /** Whether a value is stored, be it blank. */
  readonly isStored: boolean;
  readonly formula: string | null;
  readonly formulaAttributes: XmlAttributes;
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
  #held = 0;
  #blanks = 0;
  #cellElements = 0;
  #others = 0;
  #merges = 0;
  #validations = 0;
  #rowLength = 0;
  #cells: RawCell[] = [];
  #formulas: (string | null)[] = [];
  #stored: (StoredFormula | null)[] = [];
  #hidden = false;
  #sharedPlaces: number[] = [];
  #unstored: number[] = [];
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
    if (this.#skipped > 0) this.#skip(name);
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
    else this.#skip(name);
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
    this.#rowLength = 0;
    for (let index = 0; index < count; index++) {
      const { column, type, value, inline, formula, formulaAttributes } = cells[index]!;
      this.#column = column;
      this.#takeCell({ value: this.#scannedValue(cells[index]!), shared: type === 's' ? value : null, isStored: value !== null || inline !== null, formula, formulaAttributes });
    }
    this.#endRow();
  }

  #scannedValue({ type, style, value, inline }: ScannedCell): RawCell {
    if (inline !== null) return finishText(inline, this.#context.caps.stringLength, this.where);
    if (value === null) return null;
    return typeof value === 'number' && type !== 's' ? numberInStyle(value, Math.max(style, 0), this.#context) : readCellValue(type, style < 0 ? undefined : String(style), String(value), this.#context, this.where);
  }

  #skip(name: string): void {
    this.#skipped += 1;
    if (name === 'mergeCell') this.#merges = this.#counted(this.#merges, 'merges', 'merged ranges');
    else if (name === 'dataValidation') this.#validations = this.#counted(this.#validations, 'validations', 'data validations');
    else this.#others = this.#counted(this.#others, 'elements', 'elements here that are neither rows nor cells');
  }

  #counted(before: number, cap: keyof Pick<XlsxCaps, 'merges' | 'validations' | 'elements' | 'cells' | 'blanks' | 'rowLength'>, words: string, more = 1): number {
    const most = this.#context.caps[cap];
    if (before + more > most) throw unreadable(this.where(), `there are more than ${most} ${words}`, raiseCap(`xlsx.${cap}`, most));
    return before + more;
  }

  #checkRoot(name: string): void {
    if (name !== 'worksheet') throw unreadable(this.#context.where, `the part is not a sheet but <${name.slice(0, 60)}>`);
  }

  #openColumns(attributes: XmlAttributes): void {
    const [first, last] = [parseCount(attributes['min'] ?? ''), parseCount(attributes['max'] ?? '')];
    if (isHidden(attributes, 'width') && first !== null && last !== null) this.hiddenColumns.push({ first, last });
    this.#skip('col');
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
    this.#rowLength = 0;
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
    this.#takeCell({ value, shared: this.#type === 's' ? this.#value : null, isStored: this.#value !== null || this.#inlineText !== null, formula: this.#formula, formulaAttributes: this.#formulaAttributes });
  }

  /** Takes what a cell holds, however its XML was read. */
  #takeCell({ value, shared, isStored, formula: raw, formulaAttributes: attributes }: TakenCell): void {
    const { formulas, caps, marksShared } = this.#context;
    if (value !== null) this.#place(this.#cells, value);
    const length = typeof value === 'string' ? value.length : 0;
    this.#rowLength = this.#counted(this.#rowLength, 'rowLength', 'characters in the row', length + (raw?.length ?? 0));
    if (marksShared && shared !== null && length >= LONG_TEXT) this.#sharedPlaces.push(this.#column - 1, Number(shared));
    if (raw === null) return;
    if (mayReachOut(raw)) this.#context.onFormula(raw, `${columnLetters(this.#column - 1)}${this.#row}`);
    if (formulas === 'left out') {
      if (!isStored) this.#unstored.push(this.#column - 1);
      return;
    }
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
    const { formulas } = this.#context;
    if (formulas === 'written out') while (this.#formulas.length < this.#cells.length) this.#formulas.push(null);
    if (formulas === 'as stored') while (this.#stored.length < this.#cells.length) this.#stored.push(null);
    const places = Math.max(this.#cells.length, this.#formulas.length, this.#stored.length);
    this.#held = this.#counted(this.#held, 'cells', 'cells in the sheet', this.#cellElements);
    this.#blanks = this.#counted(this.#blanks, 'blanks', 'cells left out before later ones', Math.max(0, places - this.#cellElements));
    const shared = this.#sharedPlaces.length === 0 ? {} : { shared: this.#sharedPlaces };
    if (formulas === 'as stored') this.storedRows.push({ number: this.#row, cells: this.#cells, formulas: this.#stored, hidden: this.#hidden, ...shared });
    else this.rows.push({ number: this.#row, cells: this.#cells, formulas: this.#formulas, ...shared, ...(this.#unstored.length === 0 ? {} : { unstored: this.#unstored }) });
    if (this.#sharedPlaces.length > 0) this.#sharedPlaces = [];
    if (this.#unstored.length > 0) this.#unstored = [];
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
