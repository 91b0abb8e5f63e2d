import { SaxesParser } from 'saxes';

/** An element of an XML part. */
export interface XmlElement {
  /** The name with its prefix. */
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: XmlElement[];
  text: string;
}

/** Parses a part with its namespaces; throws when it is not well-formed or a prefix is not declared. */
export function parseXml(xml: string): XmlElement {
  const parser = new SaxesParser({ xmlns: true });
  const open: XmlElement[] = [];
  let root: XmlElement | null = null;
  parser.on('opentag', ({ name, attributes }) => {
    const element: XmlElement = { name, attributes: Object.fromEntries(Object.entries(attributes).map(([key, { value }]) => [key, value])), children: [], text: '' };
    if (open.length > 0) open.at(-1)!.children.push(element);
    else root = element;
    open.push(element);
  });
  parser.on('text', (text) => {
    if (open.length > 0) open.at(-1)!.text += text;
  });
  parser.on('closetag', () => void open.pop());
  parser.write(xml).close();
  return root!;
}

/** The children of a name. */
export function childrenOf(element: XmlElement | undefined, name: string): XmlElement[] {
  return element?.children.filter((child) => child.name === name) ?? [];
}

/** Every element below one, itself first. */
export function* walkXml(element: XmlElement): Generator<XmlElement> {
  yield element;
  for (const child of element.children) yield* walkXml(child);
}
