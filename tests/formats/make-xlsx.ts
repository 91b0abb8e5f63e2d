import yazl from 'yazl';
import { rawZip } from '../workbook/hostile/raw-zip.js';
import { deflateRepeated } from './deflate-repeated.js';

const MAIN = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
const RELATIONSHIPS = 'http://schemas.openxmlformats.org/package/2006/relationships';
const OFFICE = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';

/** A small zip, its entries as given; a null leaves one out. */
export async function makeZip(entries: Readonly<Record<string, string | Uint8Array | null>>, compress = true): Promise<Buffer> {
  const zip = new yazl.ZipFile();
  for (const [name, content] of Object.entries(entries)) {
    if (content !== null) zip.addBuffer(Buffer.from(content as string), name, { compress });
  }
  zip.end();
  const chunks: Buffer[] = [];
  for await (const chunk of zip.outputStream) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks);
}

/** A whole worksheet part around its rows. */
export function sheetXml(rows: string): string {
  return `<?xml version="1.0" encoding="UTF-8"?>\n<worksheet xmlns="${MAIN}"><sheetData>${rows}</sheetData></worksheet>`;
}

/** The shared strings part around its items. */
export function stringsXml(items: string): string {
  return `<sst xmlns="${MAIN}">${items}</sst>`;
}

/** The styles part with one cell style for each number format id, and format codes of its own. */
export function stylesXml(ids: readonly number[], codes: Readonly<Record<number, string>> = {}): string {
  const formats = Object.entries(codes).map(([id, code]) => `<numFmt numFmtId="${id}" formatCode="${code.replaceAll('"', '&quot;')}"/>`);
  const styles = ids.map((id) => `<xf numFmtId="${id}"/>`);
  return `<styleSheet xmlns="${MAIN}"><numFmts>${formats.join('')}</numFmts><cellStyleXfs><xf numFmtId="14"/></cellStyleXfs><cellXfs>${styles.join('')}</cellXfs></styleSheet>`;
}

export function workbookXml(inside: string): string {
  return `<workbook xmlns="${MAIN}" xmlns:r="${OFFICE}">${inside}</workbook>`;
}

export function relationshipsXml(links: readonly (readonly [id: string, type: string, target: string])[]): string {
  const elements = links.map(([id, type, target]) => `<Relationship Id="${id}" Type="${OFFICE}/${type}" Target="${target}"/>`);
  return `<Relationships xmlns="${RELATIONSHIPS}">${elements.join('')}</Relationships>`;
}

/** The parts of a workbook with one sheet, named S, whose rows are given; any part can be given otherwise, or left out with null. */
export function xlsxParts(rows: string, parts: Readonly<Record<string, string | Uint8Array | null>> = {}): Record<string, string | Uint8Array | null> {
  return {
    '_rels/.rels': relationshipsXml([['rId1', 'officeDocument', 'xl/workbook.xml']]),
    'xl/workbook.xml': workbookXml('<sheets><sheet name="S" sheetId="1" r:id="rId1"/></sheets>'),
    'xl/_rels/workbook.xml.rels': relationshipsXml([
      ['rId1', 'worksheet', 'worksheets/sheet1.xml'],
      ['rId2', 'sharedStrings', 'sharedStrings.xml'],
      ['rId3', 'styles', 'styles.xml'],
    ]),
    'xl/worksheets/sheet1.xml': sheetXml(rows),
    ...parts,
  };
}

export async function makeXlsx(rows: string, parts: Readonly<Record<string, string | Uint8Array | null>> = {}): Promise<Buffer> {
  return makeZip(xlsxParts(rows, parts));
}

/** A workbook with these rows, one part of which is a text repeated, without holding it in memory. */
export function withRepeated(rows: string, part: string, start: string, filler: string, times: number, end: string): Buffer {
  const others = Object.entries(xlsxParts(rows)).flatMap(([name, content]) => (name === part || content === null ? [] : [{ name, content: Buffer.from(content as string) }]));
  return rawZip([...others, { name: part, content: deflateRepeated(start, filler, times, end), descriptor: true }]);
}
