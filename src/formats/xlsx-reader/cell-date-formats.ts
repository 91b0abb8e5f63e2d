import { dateFormat } from './date-formats.js';
import { decodeXmlEscapes } from './decode-xml-escapes.js';
import type { XlsxCaps } from '../input-caps.js';
import { readShortPart } from './xml-reader.js';
import type { ZipParts } from './zip-parts.js';

/**
 * For each cell style of a workbook, in order, its number format's code if that shows a date or a time, else null.
 *
 * @throws TreadlebookError `input_unreadable` when the part is damaged or too long
 */
export async function readCellDateFormats(parts: ZipParts, part: string, caps: XlsxCaps): Promise<(string | null)[]> {
  const codes = new Map<number, string>();
  const ids: number[] = [];
  await readShortPart(parts, part, caps, {
    open(name, attributes, parent) {
      if (name === 'numFmt' && parent === 'numFmts') codes.set(Number(attributes['numFmtId']), decodeXmlEscapes(attributes['formatCode'] ?? ''));
      if (name === 'xf' && parent === 'cellXfs') ids.push(Number(attributes['numFmtId'] ?? 0));
    },
  });
  const known = new Map<number, string | null>();
  return ids.map((id) => {
    let format = known.get(id);
    if (format === undefined) known.set(id, (format = dateFormat(id, codes.get(id))));
    return format;
  });
}
