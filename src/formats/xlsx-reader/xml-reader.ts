import { TextDecoder } from 'node:util';
import { SaxesParser } from 'saxes';
import { unreadable } from './unreadable.js';
import { raiseCap } from '../input-caps.js';
import type { XlsxCaps } from '../input-caps.js';
import type { ZipParts } from './zip-parts.js';

/** Attributes by the name they are written with, prefix and all; the object has no prototype. */
export type XmlAttributes = Readonly<Record<string, string>>;

/** What to do with the elements of a part. Names come without their namespace prefix. */
export interface XmlHandlers {
  /** `parent` is empty for the root element. */
  open(name: string, attributes: XmlAttributes, parent: string): void;
  close?(name: string): void;
  text?(text: string): void;
}

/** More characters than this between two tags, of text, comments or anything else, are no workbook. */
const LONGEST_RUN = 4 * 1024 * 1024;

/**
 * Reads one XML part, fed in pieces of UTF-8 or (by its mark) UTF-16. Refuses a DOCTYPE, so that there are no entities but XML's own five.
 *
 * `write` and `end` throw TreadlebookError `input_unreadable` for XML that is not well-formed, too deep, too long or without any tags.
 */
export class XmlReader {
  readonly #parser = new SaxesParser({ xmlns: false, position: false });
  readonly #path: string[] = [];
  readonly #where: () => string;
  #decoder: TextDecoder | null = null;
  #run = 0;
  #elements = 0;
  #tags = 0;

  /** @param where gives the place that an error names: the part, or the sheet and cell reached */
  constructor(handlers: XmlHandlers, caps: XlsxCaps, where: () => string, maxElements = Infinity) {
    this.#where = where;
    // Each handler is one more property of the parser: with comments and processing instructions handled too, V8 gives up
    // its fast layout and parsing takes three times as long.
    const parser = this.#parser;
    const path = this.#path;
    parser.on('opentag', (tag) => {
      this.#run = 0;
      this.#tags += 1;
      const name = localName(tag.name);
      const parent = path.at(-1) ?? '';
      this.#elements += 1;
      if (this.#elements > maxElements) throw unreadable(where(), `the XML holds more than ${maxElements} elements`, raiseCap('xlsx.elements', maxElements));
      if (path.push(name) > caps.xmlDepth) throw unreadable(where(), `the XML is nested more than ${caps.xmlDepth} deep`, raiseCap('xlsx.xmlDepth', caps.xmlDepth));
      handlers.open(name, tag.attributes, parent);
    });
    parser.on('closetag', () => {
      this.#run = 0;
      this.#tags += 1;
      const name = path.pop() ?? '';
      handlers.close?.(name);
    });
    const text = (value: string): void => handlers.text?.(value);
    parser.on('text', text);
    parser.on('cdata', text);
    parser.on('doctype', () => {
      throw unreadable(where(), 'the XML holds a DOCTYPE, which a workbook never does');
    });
    parser.on('error', (cause) => {
      throw unreadable(where(), `the XML is damaged (${cause.message})`, undefined, cause);
    });
  }

  /** How many tags have been opened and closed. */
  get tags(): number {
    return this.#tags;
  }

  /** Whether these elements are open, outermost first, and no other. */
  isWithin(...names: readonly string[]): boolean {
    return this.#path.length === names.length && names.every((name, depth) => this.#path[depth] === name);
  }

  write(bytes: Uint8Array): void {
    this.feed(this.decode(bytes));
  }

  end(): void {
    this.feed(this.#decode(new Uint8Array(), false));
    this.#parser.close();
  }

  /** The text of the next bytes, to be fed. */
  decode(bytes: Uint8Array): string {
    this.#decoder ??= decoderFor(bytes);
    return this.#decode(bytes, true);
  }

  /** Parses the next text. */
  feed(text: string): void {
    this.#run += text.length;
    this.#parser.write(text);
    if (this.#run > LONGEST_RUN) throw unreadable(this.#where(), 'the XML holds an endless run of characters without a tag');
  }

  #decode(bytes: Uint8Array, more: boolean): string {
    try {
      return (this.#decoder ?? new TextDecoder()).decode(bytes, { stream: more });
    } catch (cause) {
      throw unreadable(this.#where(), 'the XML is not valid UTF-8', undefined, cause);
    }
  }
}

/** Reads one part of the package from beginning to end: a short one, with as many elements as a list may be long. */
export async function readShortPart(parts: ZipParts, part: string, caps: XlsxCaps, handlers: XmlHandlers): Promise<void> {
  const reader = new XmlReader(handlers, caps, () => `${parts.fileName}, part ${part}`, caps.elements);
  for await (const chunk of parts.read(part, 'smallPartBytes')) reader.write(chunk);
  reader.end();
}

/** The value of an attribute that stands under some prefix, such as `r:id`, whichever prefix that is. */
export function prefixedAttribute(attributes: XmlAttributes, name: string): string | undefined {
  const key = Object.keys(attributes).find((candidate) => candidate.endsWith(`:${name}`));
  return key === undefined ? undefined : attributes[key];
}

function localName(name: string): string {
  const colon = name.indexOf(':');
  return colon < 0 ? name : name.slice(colon + 1);
}

function decoderFor(bytes: Uint8Array): TextDecoder {
  const mark = `${bytes[0]} ${bytes[1]}`;
  const encoding = mark === '255 254' ? 'utf-16le' : mark === '254 255' ? 'utf-16be' : 'utf-8';
  return new TextDecoder(encoding, { fatal: true });
}
