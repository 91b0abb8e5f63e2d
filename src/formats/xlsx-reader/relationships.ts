import { posix } from 'node:path';
import type { XlsxCaps } from '../input-caps.js';
import { readShortPart } from './xml-reader.js';
import type { ZipParts } from './zip-parts.js';

/** A link from one part to another. */
export interface Relationship {
  readonly id: string;
  /** The last word of its type, such as `worksheet`, the same in the transitional and the strict namespaces. */
  readonly type: string;
  /** The part it points to; null for a target outside the package. */
  readonly part: string | null;
}

/**
 * The links of a part, or of the package itself for an empty `source`; none if it has no list of them.
 *
 * @throws TreadlebookError `input_unreadable` when the list is damaged or too long
 */
export async function readRelationships(parts: ZipParts, source: string, caps: XlsxCaps): Promise<Relationship[]> {
  const folder = posix.dirname(source || 'root');
  const list = posix.join(folder, '_rels', `${posix.basename(source)}.rels`);
  const found: Relationship[] = [];
  if (!parts.has(list)) return found;
  await readShortPart(parts, list, caps, {
    open(name, attributes, parent) {
      if (name !== 'Relationship' || parent !== 'Relationships') return;
      const { Id: id = '', Type: type = '', Target: target = '', TargetMode: mode } = attributes;
      found.push({ id, type: type.slice(type.lastIndexOf('/') + 1), part: mode === 'External' ? null : resolveTarget(folder, target) });
    },
  });
  return found;
}

/** Absolute targets count from the root of the package, the others from the folder of the part that holds the link. */
function resolveTarget(folder: string, target: string): string {
  let path = target.replaceAll('\\', '/');
  try {
    path = decodeURI(path);
  } catch {
    // A stray percent sign stands for itself.
  }
  return posix.join('/', path.startsWith('/') ? '' : folder, path).slice(1);
}
