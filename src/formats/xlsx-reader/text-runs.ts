import { unreadable } from './unreadable.js';
import { decodeXmlEscapes } from './decode-xml-escapes.js';

/** An escape `_xHHHH_` is seven characters for one; nothing more is gathered than could come to a text of full length. */
export const ESCAPE_LENGTH = 7;

/**
 * Gathers the text of a string item (`si` in the shared strings, `is` in a cell): its own text or that of its rich text runs,
 * without the phonetic ones.
 */
export class TextRuns {
  readonly #maxLength: number;
  readonly #where: () => string;
  #depth = 0;
  #inRun = false;
  #inText = false;
  #skipped = 0;
  #text = '';

  constructor(maxLength: number, where: () => string) {
    this.#maxLength = maxLength;
    this.#where = where;
  }

  open(name: string): void {
    if (this.#skipped > 0) this.#skipped += 1;
    else if (name === 't' && !this.#inText) this.#inText = true;
    else if (name === 'r' && !this.#inRun && !this.#inText) this.#inRun = true;
    else this.#skipped = 1;
    this.#depth += 1;
  }

  /** Returns false when it is the string item itself that closes. */
  close(): boolean {
    if (this.#depth === 0) return false;
    this.#depth -= 1;
    if (this.#skipped > 0) this.#skipped -= 1;
    else if (this.#inText) this.#inText = false;
    else this.#inRun = false;
    return true;
  }

  write(text: string): void {
    if (!this.#inText || this.#skipped > 0) return;
    this.#text += text;
    if (this.#text.length > this.#maxLength * ESCAPE_LENGTH) throw tooLong(this.#where(), this.#maxLength);
  }

  /** The text gathered since the last call. */
  take(): string {
    const text = finishText(this.#text, this.#maxLength, this.#where);
    this.#text = '';
    return text;
  }
}

/** Text as the cell shows it, its escapes put back and its length checked. */
export function finishText(raw: string, maxLength: number, where: () => string): string {
  const text = decodeXmlEscapes(raw);
  if (text.length > maxLength) throw tooLong(where(), maxLength);
  return text;
}

/** The error of a text beyond the cap. */
export function tooLong(where: string, maxLength: number): Error {
  return unreadable(where, `the text is longer than ${maxLength} characters`, 'shorten it');
}
