import { SaxesParser } from 'saxes';
import { defect } from './sheet-limits.js';

/** One child of the root element, as it stands in the text. */
export interface XmlChild {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly xml: string;
}

/** An XML part cut at the children of its root; text and comments between them are left out. */
export interface SplitXml {
  readonly root: string;
  readonly attributes: Readonly<Record<string, string>>;
  /** Everything up to and with the root's opening tag. */
  readonly head: string;
  readonly children: readonly XmlChild[];
  /** The root's closing tag. */
  readonly tail: string;
}

/**
 * Cuts an XML part into its root and the root's children, without changing a character of a child.
 *
 * @param part the part's name, for the error
 * @throws TreadlebookError `defect` when the text is not well-formed
 */
export function splitXml(xml: string, part: string): SplitXml {
  const parser = new SaxesParser();
  const children: XmlChild[] = [];
  let depth = 0;
  let root = '';
  let head = '';
  let attributes: Record<string, string> = {};
  let start = 0;
  let open: Record<string, string> = {};
  parser.on('opentag', (tag) => {
    if (depth === 0) {
      root = tag.name;
      attributes = { ...tag.attributes };
      head = xml.slice(0, parser.position).replace(/\s*\/>$/, '>');
    } else if (depth === 1) {
      // No attribute can hold a raw "<", so the last one before here opens this tag.
      start = xml.lastIndexOf('<', parser.position - 1);
      open = { ...tag.attributes };
    }
    depth += 1;
  });
  parser.on('closetag', (tag) => {
    depth -= 1;
    if (depth === 1) children.push({ name: tag.name, attributes: open, xml: xml.slice(start, parser.position) });
  });
  parse(parser, xml, part);
  return { root, attributes, head, children, tail: `</${root}>` };
}

/** The text with more children at the end of its root. */
export function appendChildren(xml: string, part: string, added: string): string {
  const { head, children, tail } = splitXml(xml, part);
  return head + children.map((child) => child.xml).join('') + added + tail;
}

/** Runs a parser over a whole text; what is not well-formed is a TreadlebookError. */
export function parse(parser: SaxesParser, xml: string, part: string): void {
  try {
    parser.write(xml).close();
  } catch (cause) {
    const reason = cause instanceof Error ? cause.message : String(cause);
    throw defect(`template part ${part}`, `it is not well-formed XML (${reason})`, 'mend the template', cause);
  }
}
