import { posix } from 'node:path';
import type { Parts } from './read-parts.js';
import { appendChildren, splitXml } from './split-xml.js';
import { xmlAttribute } from './xml-text.js';

const NAMESPACE = 'http://schemas.openxmlformats.org/package/2006/relationships';
/** What the types of the relationships between the parts of a workbook start with. */
export const OFFICE_RELATIONSHIP = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';

/** One relationship of a part. */
export interface Relationship {
  readonly id: string;
  /** The full type. */
  readonly type: string;
  /** The path of the part pointed at; an outside address stays as it is. */
  readonly target: string;
}

/** Where the relationships of a part are kept: `xl/workbook.xml` has `xl/_rels/workbook.xml.rels`. */
export function relationshipsPath(part: string): string {
  return posix.join(posix.dirname(part), '_rels', `${posix.basename(part)}.rels`);
}

/** The relationships of a part; none when it has no such list. */
export function relationshipsOf(parts: Parts, part: string): Relationship[] {
  const path = relationshipsPath(part);
  const bytes = parts.get(path);
  if (bytes === undefined) return [];
  return splitXml(bytes.toString('utf8'), path).children.map(({ attributes }) => {
    const target = attributes['Target'] ?? '';
    return {
      id: attributes['Id'] ?? '',
      type: attributes['Type'] ?? '',
      target: attributes['TargetMode'] === 'External' ? target : resolveTarget(part, target),
    };
  });
}

function resolveTarget(part: string, target: string): string {
  return target.startsWith('/') ? target.slice(1) : posix.join(posix.dirname(part), target);
}

/**
 * Adds a relationship from one part to another and gives its id.
 *
 * @param type the last word of the type, such as `drawing`
 */
export function addRelationship(parts: Parts, part: string, type: string, target: string): string {
  const path = relationshipsPath(part);
  const taken = new Set(relationshipsOf(parts, part).map((relationship) => relationship.id));
  let number = taken.size + 1;
  while (taken.has(`rId${number}`)) number += 1;
  const relative = posix.relative(posix.dirname(part), target);
  const added = `<Relationship Id="rId${number}" Type="${OFFICE_RELATIONSHIP}/${type}" Target="${xmlAttribute(relative)}"/>`;
  const list =
    parts.get(path)?.toString('utf8') ??
    `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n<Relationships xmlns="${NAMESPACE}"/>`;
  parts.set(path, Buffer.from(appendChildren(list, path, added)));
  return `rId${number}`;
}

/** Takes out every relationship from one part to another. */
export function removeRelationship(parts: Parts, part: string, target: string): void {
  const path = relationshipsPath(part);
  const bytes = parts.get(path);
  if (bytes === undefined) return;
  const { head, children, tail } = splitXml(bytes.toString('utf8'), path);
  const kept = children.filter(({ attributes }) => resolveTarget(part, attributes['Target'] ?? '') !== target);
  parts.set(path, Buffer.from(head + kept.map((child) => child.xml).join('') + tail));
}
