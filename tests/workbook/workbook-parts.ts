import { fromBufferPromise } from 'yauzl';
import { makeZip } from '../formats/make-xlsx.js';

/** The parts of a workbook by path, in the order of the zip. */
export async function workbookParts(bytes: Uint8Array): Promise<Map<string, string>> {
  const parts = new Map<string, string>();
  const zip = await fromBufferPromise(Buffer.from(bytes), { lazyEntries: true });
  for await (const entry of zip.eachEntry()) {
    const chunks: Buffer[] = [];
    for await (const chunk of await zip.openReadStreamPromise(entry)) chunks.push(chunk as Buffer);
    parts.set(entry.fileName, Buffer.concat(chunks).toString('utf8'));
  }
  return parts;
}

/** The path of the part that holds a sheet. */
export function sheetPath(parts: ReadonlyMap<string, string>, sheet: string): string {
  const id = new RegExp(`<sheet [^>]*name="${sheet}"[^>]*r:id="([^"]+)"`).exec(parts.get('xl/workbook.xml')!)?.[1];
  const links = parts.get('xl/_rels/workbook.xml.rels')!;
  const link = [...links.matchAll(/<Relationship [^>]*>/g)].map(([element]) => element).find((element) => element.includes(`Id="${id}"`));
  const target = /Target="([^"]+)"/.exec(link ?? '')?.[1];
  if (target === undefined) throw new Error(`no part holds the sheet ${sheet}`);
  return `xl/${target.replace(/^\/?(?:xl\/)?/, '')}`;
}

/** The workbook with the XML of one sheet changed. */
export async function withSheetChanged(bytes: Uint8Array, sheet: string, change: (xml: string) => string): Promise<Uint8Array> {
  const parts = await workbookParts(bytes);
  const path = sheetPath(parts, sheet);
  const before = parts.get(path)!;
  const after = change(before);
  if (after === before) throw new Error(`nothing was changed on the sheet ${sheet}`);
  parts.set(path, after);
  return new Uint8Array(await makeZip(Object.fromEntries(parts)));
}
