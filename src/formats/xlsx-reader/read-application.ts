import type { Relationship } from './relationships.js';
import type { XlsxCaps } from '../input-caps.js';
import { readShortPart } from './xml-reader.js';
import type { ZipParts } from './zip-parts.js';

/** The program that wrote the file, as its properties say; null if they do not. */
export async function readApplication(parts: ZipParts, packageLinks: readonly Relationship[], caps: XlsxCaps): Promise<string | null> {
  const linked = packageLinks.find((link) => link.type === 'extended-properties' || link.type === 'extendedProperties')?.part;
  const part = linked ?? 'docProps/app.xml';
  if (!parts.has(part)) return null;
  let application = '';
  let inside = false;
  await readShortPart(parts, part, caps, {
    open(name, _attributes, parent) {
      inside = name === 'Application' && parent === 'Properties';
    },
    text(text) {
      if (inside) application = (application + text).slice(0, caps.stringLength);
    },
    close() {
      inside = false;
    },
  });
  return application.trim() || null;
}
