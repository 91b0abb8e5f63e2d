import { partText, type Parts } from './read-parts.js';
import { relationshipsOf } from './relationships.js';
import { defect } from './sheet-limits.js';
import { SaxesParser } from 'saxes';
import { parse } from './split-xml.js';

/** The sheets of a workbook in order: name to path of the part. */
export function findSheets(parts: Parts): Map<string, string> {
  const workbook = 'xl/workbook.xml';
  const targets = new Map(relationshipsOf(parts, workbook).map(({ id, target }) => [id, target]));
  const sheets = new Map<string, string>();
  const parser = new SaxesParser();
  parser.on('opentag', ({ name, attributes }) => {
    if (name !== 'sheet') return;
    const path = targets.get(attributes['r:id'] ?? '');
    if (path === undefined || !parts.has(path)) {
      throw defect(`sheet ${attributes['name'] ?? ''}`, 'the template has no part for it', 'lay the template out again');
    }
    sheets.set(attributes['name'] ?? '', path);
  });
  parse(parser, partText(parts, workbook), workbook);
  return sheets;
}
