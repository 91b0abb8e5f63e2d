import { parseCount } from './cell-position.js';
import type { XlsxCaps } from '../input-caps.js';
import type { XmlAttributes } from './xml-reader.js';

/** A cell of a scanned row as its XML has it; texts with their entities put back. */
export interface ScannedCell {
  column: number;
  type: string | undefined;
  /** The index of its style, -1 where it has none. */
  style: number;
  /** The text of `v`, or its number where it is one written plainly; null without `v`. */
  value: string | number | null;
  /** The text of `is`; null without one. */
  inline: string | null;
  /** The text of `f`; null without one. */
  formula: string | null;
  formulaAttributes: XmlAttributes;
}

const [TAB, NEWLINE, SPACE, QUOTE, DASH, POINT, SLASH, NINE, ZERO, OPEN, CLOSE, EQUALS] = [0x09, 0x0a, 0x20, 0x22, 0x2d, 0x2e, 0x2f, 0x39, 0x30, 0x3c, 0x3e, 0x3d];
const [LETTER_A, LETTER_Z, LETTER_C, LETTER_F, LETTER_I, LETTER_R, LETTER_S, LETTER_T, LETTER_V] = [0x41, 0x5a, 0x63, 0x66, 0x69, 0x72, 0x73, 0x74, 0x76];

const ATTRIBUTE = / ([A-Za-z][\w.:-]*)="([^"<&\n\t]*)"/y;
const TYPES = ['s', 'str', 'inlineStr', 'n', 'b', 'e'] as const;
const INLINE_OPENINGS = ['<is><t>', '<is><t xml:space="preserve">'] as const;
const INLINE_CLOSING = '</t></is>';
const ENTITIES: Readonly<Record<string, string>> = { '&amp;': '&', '&lt;': '<', '&gt;': '>', '&quot;': '"', '&apos;': "'" };
/** A whole number of so many digits is exact. */
const EXACT_DIGITS = 15;
const SHARED = ' t="shared" si="';
/** Of an index that is looked up in a list. */
const MOST_INDEX_DIGITS = 4;
const NO_ATTRIBUTES: XmlAttributes = {};

/** What {@link RowScanner.scan} gives for a row that is not in the usual form. */
export const UNUSUAL = -1;

/**
 * Reads rows written in the form that spreadsheet programs and libraries write, several times faster than a parser for any
 * XML. What is not exactly in that form, well formed or not, within the caps or not, it leaves to that parser.
 */
export class RowScanner {
  row = 0;
  rowAttributes: XmlAttributes = NO_ATTRIBUTES;
  /** The cells of the row; those from `count` on are left over from others. */
  readonly cells: ScannedCell[] = [];
  count = 0;
  readonly #shared: XmlAttributes[] = [];
  #text = '';
  #at = 0;

  constructor(private readonly caps: Pick<XlsxCaps, 'rows' | 'columns'>) {}

  /**
   * Reads the row that begins at a place of the text and stands there whole.
   *
   * @param after the number of the row before
   * @returns the place behind the row, or {@link UNUSUAL}; then nothing that it holds counts
   */
  scan(text: string, at: number, after: number): number {
    this.#text = text;
    this.#at = at + '<row'.length;
    this.count = 0;
    const row = this.#openRow(after);
    if (row === null) return UNUSUAL;
    this.row = row;
    if (text.startsWith('/>', this.#at)) return this.#at + 2;
    if (text.charCodeAt(this.#at) !== CLOSE) return UNUSUAL;
    this.#at += 1;
    const rowText = String(row);
    let last = 0;
    while (!text.startsWith('</row>', this.#at)) {
      const cell = (this.cells[this.count] ??= { column: 0, type: undefined, style: -1, value: null, inline: null, formula: null, formulaAttributes: NO_ATTRIBUTES });
      if (!this.#cell(cell, rowText) || cell.column <= last || cell.column > this.caps.columns) return UNUSUAL;
      last = cell.column;
      this.count += 1;
    }
    return this.#at + '</row>'.length;
  }

  #openRow(after: number): number | null {
    const attributes = this.#attributes();
    const row = attributes === null ? null : parseCount(attributes['r'] ?? '');
    if (attributes === null || row === null || row <= after || row > this.caps.rows) return null;
    this.rowAttributes = attributes;
    return row;
  }

  /** Any attributes in double quotes; null where one comes twice. */
  #attributes(): XmlAttributes | null {
    if (this.#text.charCodeAt(this.#at) !== SPACE) return NO_ATTRIBUTES;
    const attributes: Record<string, string> = {};
    ATTRIBUTE.lastIndex = this.#at;
    for (let match = ATTRIBUTE.exec(this.#text); match !== null; match = ATTRIBUTE.exec(this.#text)) {
      const name = match[1]!;
      if (Object.hasOwn(attributes, name) || name.startsWith('xml')) return null;
      attributes[name] = match[2]!;
      this.#at = ATTRIBUTE.lastIndex;
    }
    return attributes;
  }

  #cell(cell: ScannedCell, rowText: string): boolean {
    const text = this.#text;
    cell.column = 0;
    cell.type = undefined;
    cell.style = -1;
    cell.value = null;
    cell.inline = null;
    cell.formula = null;
    if (text.charCodeAt(this.#at) !== OPEN || text.charCodeAt(this.#at + 1) !== LETTER_C) return false;
    this.#at += 2;
    if (!this.#cellAttributes(cell, rowText) || cell.column === 0) return false;
    if (text.charCodeAt(this.#at) === SLASH && text.charCodeAt(this.#at + 1) === CLOSE) {
      this.#at += 2;
      return true;
    }
    if (text.charCodeAt(this.#at) !== CLOSE) return false;
    this.#at += 1;
    if (text.charCodeAt(this.#at + 1) === LETTER_F && !this.#formula(cell)) return false;
    const kind = text.charCodeAt(this.#at + 1);
    if (kind === LETTER_V ? !this.#value(cell) : kind === LETTER_I && !this.#inline(cell)) return false;
    if (!text.startsWith('</c>', this.#at)) return false;
    this.#at += 4;
    return true;
  }

  /** `r`, `s` and `t`, each once at most. */
  #cellAttributes(cell: ScannedCell, rowText: string): boolean {
    const text = this.#text;
    while (text.charCodeAt(this.#at) === SPACE) {
      const name = text.charCodeAt(this.#at + 1);
      if (text.charCodeAt(this.#at + 2) !== EQUALS || text.charCodeAt(this.#at + 3) !== QUOTE) return false;
      let at = this.#at + 4;
      if (name === LETTER_R && cell.column === 0) {
        let column = 0;
        for (let letter = text.charCodeAt(at); letter >= LETTER_A && letter <= LETTER_Z && column < this.caps.columns; letter = text.charCodeAt(at)) {
          column = 26 * column + letter - LETTER_A + 1;
          at += 1;
        }
        if (!text.startsWith(rowText, at)) return false;
        at += rowText.length;
        cell.column = column;
      } else if (name === LETTER_S && cell.style < 0) {
        let style = 0;
        const start = at;
        for (let digit = text.charCodeAt(at); digit >= ZERO && digit <= NINE; digit = text.charCodeAt(at)) {
          style = 10 * style + digit - ZERO;
          at += 1;
        }
        if (at === start || at - start > 9) return false;
        cell.style = style;
      } else if (name === LETTER_T && cell.type === undefined) {
        const type = TYPES.find((one) => text.startsWith(one, at) && text.charCodeAt(at + one.length) === QUOTE);
        if (type === undefined) return false;
        cell.type = type;
        at += type.length;
      } else return false;
      if (text.charCodeAt(at) !== QUOTE) return false;
      this.#at = at + 1;
    }
    return true;
  }

  #formula(cell: ScannedCell): boolean {
    const text = this.#text;
    this.#at += 2;
    const attributes = this.#sharedIndex() ?? this.#attributes();
    if (attributes === null) return false;
    cell.formulaAttributes = attributes;
    if (text.startsWith('/>', this.#at)) {
      this.#at += 2;
      cell.formula = '';
      return true;
    }
    if (text.charCodeAt(this.#at) !== CLOSE) return false;
    const formula = this.#textUpTo('</f>', this.#at + 1);
    if (formula === null) return false;
    cell.formula = formula;
    return true;
  }

  /** The attributes of a formula that others share, as nearly every formula has them: its index; null for any others. */
  #sharedIndex(): XmlAttributes | null {
    if (!this.#text.startsWith(SHARED, this.#at)) return null;
    const start = this.#at + SHARED.length;
    let at = start;
    let index = 0;
    for (let digit = this.#text.charCodeAt(at); digit >= ZERO && digit <= NINE; digit = this.#text.charCodeAt(at)) {
      index = 10 * index + digit - ZERO;
      at += 1;
    }
    if (at === start || at - start > MOST_INDEX_DIGITS || this.#text.charCodeAt(at) !== QUOTE || this.#text.charCodeAt(at + 1) === SPACE) return null;
    if (this.#text.charCodeAt(start) === ZERO && at - start > 1) return null;
    this.#at = at + 1;
    return (this.#shared[index] ??= { t: 'shared', si: String(index) });
  }

  #value(cell: ScannedCell): boolean {
    const text = this.#text;
    if (text.startsWith('<v/>', this.#at)) {
      this.#at += 4;
      cell.value = '';
      return true;
    }
    if (text.charCodeAt(this.#at + 2) !== CLOSE) return false;
    const start = this.#at + 3;
    if (cell.type === undefined || cell.type === 'n') {
      const number = this.#plainNumber(start);
      if (number !== null) {
        cell.value = number;
        return true;
      }
    }
    cell.value = this.#textUpTo('</v>', start);
    return cell.value !== null;
  }

  /** A number of digits with a sign and a point at most, up to the end of its element; null for any other text. */
  #plainNumber(start: number): number | null {
    const text = this.#text;
    const negative = text.charCodeAt(start) === DASH;
    const first = negative ? start + 1 : start;
    let at = first;
    let whole = 0;
    let point = -1;
    for (let code = text.charCodeAt(at); ; code = text.charCodeAt(at)) {
      if (code >= ZERO && code <= NINE) whole = 10 * whole + code - ZERO;
      else if (code === POINT && point < 0) point = at;
      else break;
      at += 1;
    }
    if (!text.startsWith('</v>', at) || at === first || point === first || point === at - 1) return null;
    this.#at = at + 4;
    if (point < 0 && at - first <= EXACT_DIGITS) return negative ? -whole : whole;
    return Number(text.slice(start, at));
  }

  #inline(cell: ScannedCell): boolean {
    const opening = INLINE_OPENINGS.find((one) => this.#text.startsWith(one, this.#at));
    if (opening === undefined) return false;
    cell.inline = this.#textUpTo(INLINE_CLOSING, this.#at + opening.length);
    return cell.inline !== null;
  }

  /** The text up to a closing tag; null where another tag comes first, or an entity that is none of XML's own five. */
  #textUpTo(closing: string, start: number): string | null {
    const end = this.#text.indexOf('<', start);
    if (end < 0 || !this.#text.startsWith(closing, end)) return null;
    this.#at = end + closing.length;
    const raw = this.#text.slice(start, end);
    return raw.includes('&') ? withEntities(raw) : raw;
  }
}

function withEntities(raw: string): string | null {
  let known = true;
  const text = raw.replace(/&[^;&]*;?/g, (entity) => {
    const character = ENTITIES[entity];
    if (character === undefined) known = false;
    return character ?? '';
  });
  return known ? text : null;
}

/** Whether a character between two tags says nothing. */
export function isXmlSpace(code: number): boolean {
  return code === SPACE || code === NEWLINE || code === TAB;
}
