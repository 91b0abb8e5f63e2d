import { isXmlSpace, RowScanner, UNUSUAL } from './row-scanner.js';
import type { SheetContext } from './sheet-context.js';
import type { SheetReader } from './sheet-reader.js';
import { XmlReader } from './xml-reader.js';

/** What the scanner does not look for: characters that XML forbids or turns into others, and the end of a section in a text. */
const ODD = /[\u0000-\u0008\u000b-\u001f\ufffe\uffff]|\]\]>/;
const OTHER_VERSION = /^<\?xml[^>]*version\s*=\s*["']1\.1/;
const ROW_END = '</row>';
const DATA_START = '<sheetData>';
/** The deepest that a row of the usual form goes: worksheet, sheetData, row, c, is, t. */
const DEPTH = 6;
/** Blank characters between two rows: a line end and an indent. */
const MOST_SPACES = 64;
/** So many characters may wait for the end of their row. */
const MOST_WAITING = 1 << 20;

/**
 * Reads the XML of a sheet: rows in the usual form by {@link RowScanner}, everything around and between them, and every row in another
 * form, by the parser for any XML. That parser stands between two rows just the same whether it saw a well-formed row or not.
 *
 * `write` and `end` throw TreadlebookError `input_unreadable` as those of {@link XmlReader} and {@link SheetReader}.
 */
export class SheetXmlReader {
  readonly #xml: XmlReader;
  readonly #scanner: RowScanner;
  #started = false;
  #scans: boolean;
  #betweenRows = false;
  #waiting = '';

  constructor(
    private readonly sheet: SheetReader,
    { caps }: SheetContext,
  ) {
    this.#xml = new XmlReader(sheet, caps, sheet.where);
    this.#scanner = new RowScanner(caps);
    this.#scans = caps.xmlDepth >= DEPTH;
  }

  write(bytes: Uint8Array): void {
    const text = this.#xml.decode(bytes);
    if (!this.#started && text !== '') {
      this.#started = true;
      if (OTHER_VERSION.test(text)) this.#scans = false;
    }
    if (!this.#scans) return this.#xml.feed(text);
    const odd = ODD.test(text) || ODD.test(this.#waiting.slice(-2) + text.slice(0, 2));
    const all = this.#waiting + text;
    this.#waiting = '';
    if (!odd) return this.#read(all);
    this.#betweenRows = false;
    this.#xml.feed(all);
  }

  end(): void {
    this.#xml.feed(this.#waiting);
    this.#xml.end();
  }

  #read(text: string): void {
    let at = 0;
    let spaces = 0;
    while (at < text.length) {
      if (!this.#betweenRows) {
        const tag = nextTag(text, at);
        if (tag === null) return this.#xml.feed(text.slice(at));
        at = this.#feedTo(text, at, tag);
      } else if (isXmlSpace(text.charCodeAt(at)) && spaces < MOST_SPACES) {
        at += 1;
        spaces += 1;
      } else if (text.startsWith('<row', at)) {
        spaces = 0;
        const end = text.indexOf(ROW_END, at);
        if (end < 0) return this.#wait(text.slice(at));
        const next = this.#scanner.scan(text, at, this.sheet.lastRow);
        if (next === UNUSUAL) at = this.#feedTo(text, at, end + ROW_END.length);
        else {
          this.sheet.takeRow(this.#scanner);
          at = next;
        }
      } else if (text.length - at < 4) {
        return this.#wait(text.slice(at));
      } else {
        this.#betweenRows = false;
      }
    }
  }

  /** Feeds the parser up to a place behind a `>`, and sees whether that ended a tag after which rows may follow. */
  #feedTo(text: string, from: number, to: number): number {
    this.#xml.feed(text.slice(from, to - 1));
    const { tags } = this.#xml;
    this.#xml.feed('>');
    this.#betweenRows = this.#xml.tags !== tags && this.#xml.isWithin('worksheet', 'sheetData');
    return to;
  }

  #wait(rest: string): void {
    if (rest.length <= MOST_WAITING) {
      this.#waiting = rest;
      return;
    }
    this.#betweenRows = false;
    this.#xml.feed(rest);
  }
}

/** The place behind the next tag after which rows may follow; null where there is none. */
function nextTag(text: string, from: number): number | null {
  const places = [ROW_END, DATA_START].flatMap((tag) => {
    const at = text.indexOf(tag, from);
    return at < 0 ? [] : [at + tag.length];
  });
  return places.length === 0 ? null : Math.min(...places);
}
