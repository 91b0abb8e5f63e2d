import { TreadlebookError } from '../util/treadlebook-error.js';
import { raiseCap, type CsvCaps } from './input-caps.js';

/** One record as it stands in the file, without its line end. */
export interface CsvRecord {
  /** 1-based: the line of the file on which the record starts. */
  readonly line: number;
  readonly text: string;
  readonly columns: number;
}

export interface CsvSplitOptions {
  readonly delimiter: string;
  readonly name: string;
  readonly firstLine: number;
  readonly caps: CsvCaps;
}

const QUOTE = 0x22;
const RETURN = 0x0d;
const NEWLINE = 0x0a;
const SPACE = 0x20;
const TAB = 0x09;

type State = 'field start' | 'bare' | 'quoted' | 'quote seen' | 'closed';

/**
 * Cuts CSV text, fed in pieces, into records at `\r\n`, `\n` or `\r` outside quotes, and keeps count of lines, columns
 * and field lengths on the way. It says nothing of the values; that is the parser's part.
 *
 * Throws TreadlebookError `input_unreadable` for a quote that never closes, text after a closing quote, a field or record too
 * long, and too many columns.
 *
 * @example
 * const found: CsvRecord[] = [];
 * const splitter = new CsvRecordSplitter({ delimiter: ',', name: 'fleet.csv', firstLine: 1, caps: capsOf('csv') });
 * splitter.push('unit,notes\r\nT-104,"two\nlines"\r\n', found);
 * splitter.end(found);
 * found.map((record) => record.line) // [1, 2]
 */
export class CsvRecordSplitter {
  readonly #options: CsvSplitOptions;
  readonly #delimiter: number;
  #state: State = 'field start';
  #afterReturn = false;
  #line: number;
  #recordLine: number;
  #fieldLine: number;
  #columns = 1;
  #records = 0;
  #offset = 0;
  #fieldStart = 0;
  #marks = 0;
  #pieces: string[] = [];
  #piecesLength = 0;

  constructor(options: CsvSplitOptions) {
    this.#options = options;
    this.#delimiter = options.delimiter.charCodeAt(0);
    this.#line = this.#recordLine = this.#fieldLine = options.firstLine;
  }

  /** Takes more text and adds the records that it completes to `records`. The caps on length are held at the end of each call. */
  push(text: string, records: CsvRecord[]): void {
    let start = 0;
    for (let at = 0; at < text.length; at += 1) {
      const code = text.charCodeAt(at);
      const secondOfPair = this.#afterReturn && code === NEWLINE;
      this.#afterReturn = code === RETURN;
      if (this.#state === 'quoted') {
        if (code === QUOTE) this.#setMark('quote seen');
        else if (code === RETURN || (code === NEWLINE && !secondOfPair)) this.#line += 1;
      } else if (code === this.#delimiter) {
        this.#endField(at);
        this.#fieldStart = this.#offset + at + 1;
        this.#columns += 1;
        if (this.#columns > this.#options.caps.columns) this.#refuseColumns();
      } else if (code === RETURN || code === NEWLINE) {
        if (!secondOfPair) {
          this.#endField(at);
          this.#line += 1;
          this.#endRecord(text.slice(start, at), records);
        }
        start = at + 1;
        this.#fieldStart = this.#offset + start;
      } else if (code === QUOTE) {
        this.#quoteOutside();
      } else if (this.#state === 'field start') {
        this.#state = 'bare';
      } else if (this.#state !== 'bare') {
        if (code !== SPACE && code !== TAB) this.#refuseAfterQuote();
        this.#state = 'closed';
      }
    }
    this.#carry(text, start);
  }

  /** Ends the text and adds the last record, if the text did not end with a line end. */
  end(records: CsvRecord[]): void {
    if (this.#state === 'quoted') this.#refuseOpenQuote();
    if (this.#piecesLength > 0) this.#endRecord('', records);
  }

  #quoteOutside(): void {
    if (this.#state === 'field start' || this.#state === 'quote seen') this.#setMark('quoted');
    else if (this.#state === 'closed') this.#refuseAfterQuote();
  }

  #setMark(state: State): void {
    this.#state = state;
    this.#marks += 1;
  }

  #carry(text: string, start: number): void {
    this.#offset += text.length;
    this.#checkField(this.#offset);
    if (start < text.length) this.#pieces.push(text.slice(start));
    this.#piecesLength += text.length - start;
    const { recordLength } = this.#options.caps;
    if (this.#piecesLength > recordLength) this.#refuse(`the record is longer than ${recordLength} characters`, 'check the line ends', this.#recordLine);
  }

  #endField(at: number): void {
    this.#checkField(this.#offset + at);
    this.#state = 'field start';
    this.#marks = 0;
    this.#fieldLine = this.#line;
  }

  /** Quotes around the value are not counted, and of a doubled quote one is. */
  #checkField(end: number): void {
    const { fieldLength } = this.#options.caps;
    const length = end - this.#fieldStart - (this.#marks === 0 ? 0 : this.#marks / 2 + 1);
    if (length <= fieldLength) return;
    const what = `the field is longer than ${fieldLength} characters`;
    if (this.#state === 'quoted') this.#refuseOpenQuote(`${what}, or its quote never closes`);
    this.#refuse(what, 'shorten it, or check the delimiter and the line ends', this.#fieldLine);
  }

  #endRecord(text: string, records: CsvRecord[]): void {
    this.#pieces.push(text);
    this.#records += 1;
    const most = this.#options.caps.records;
    if (this.#records > most) this.#refuse(`there are more than ${most} records`, raiseCap('csv.records', most), this.#recordLine);
    records.push({ line: this.#recordLine, text: this.#pieces.join(''), columns: this.#columns });
    this.#pieces = [];
    this.#piecesLength = 0;
    this.#columns = 1;
    this.#recordLine = this.#fieldLine = this.#line;
  }

  #refuseColumns(): never {
    const what = `the record has more than ${this.#options.caps.columns} columns`;
    return this.#refuse(what, 'check the delimiter and the line ends', this.#recordLine);
  }

  #refuseOpenQuote(what = 'a quote opens here and never closes'): never {
    return this.#refuse(what, 'close the quote, or double a quote mark that is part of the text', this.#fieldLine);
  }

  #refuseAfterQuote(): never {
    return this.#refuse('text follows a closing quote', 'double a quote mark that is part of the text', this.#line);
  }

  #refuse(what: string, mend: string, line: number): never {
    throw new TreadlebookError({ code: 'input_unreadable', where: `${this.#options.name}, line ${line}`, what, mend });
  }
}
