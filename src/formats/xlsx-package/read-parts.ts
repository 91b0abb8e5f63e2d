import { fromBufferPromise } from 'yauzl';
import { defect } from './sheet-limits.js';

/** The parts of a package by their path, such as `xl/workbook.xml`. */
export type Parts = Map<string, Buffer>;

/**
 * Opens a small package held in memory. Folder entries are left out.
 *
 * @throws TreadlebookError `defect` when the bytes are no zip, or hold a path twice
 */
export async function readParts(template: Uint8Array): Promise<Parts> {
  const parts: Parts = new Map();
  try {
    const bytes = Buffer.from(template.buffer, template.byteOffset, template.byteLength);
    const zip = await fromBufferPromise(bytes, { lazyEntries: true });
    for await (const entry of zip.eachEntry()) {
      if (entry.fileName.endsWith('/')) continue;
      if (parts.has(entry.fileName)) throw new Error(`${entry.fileName} is there twice`);
      const chunks: Buffer[] = [];
      for await (const chunk of await zip.openReadStreamPromise(entry)) chunks.push(chunk as Buffer);
      parts.set(entry.fileName, Buffer.concat(chunks));
    }
  } catch (cause) {
    const reason = cause instanceof Error ? cause.message : String(cause);
    throw defect('the template', `it cannot be opened as a workbook (${reason})`, 'lay the template out again', cause);
  }
  return parts;
}

/** The text of a part that must be there. */
export function partText(parts: Parts, path: string): string {
  const bytes = parts.get(path);
  if (bytes === undefined) throw defect('the template', `it has no part ${path}`, 'lay the template out again');
  return bytes.toString('utf8').replace(/^\ufeff/, '');
}
