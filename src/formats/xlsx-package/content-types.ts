import { partText, type Parts } from './read-parts.js';
import { appendChildren, splitXml } from './split-xml.js';

const PATH = '[Content_Types].xml';

/** Names the content type of a new part. */
export function addContentType(parts: Parts, part: string, type: string): void {
  const added = `<Override PartName="/${part}" ContentType="${type}"/>`;
  parts.set(PATH, Buffer.from(appendChildren(partText(parts, PATH), PATH, added)));
}

/** Takes out the content type of a part that is gone. */
export function removeContentType(parts: Parts, part: string): void {
  const { head, children, tail } = splitXml(partText(parts, PATH), PATH);
  const kept = children.filter((child) => child.attributes['PartName'] !== `/${part}`);
  parts.set(PATH, Buffer.from(head + kept.map((child) => child.xml).join('') + tail));
}
