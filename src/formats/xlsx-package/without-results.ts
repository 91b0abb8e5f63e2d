import type { SheetRow } from './sheet-rows.js';
import { xmlAttribute } from './xml-text.js';

/** The XML of template rows, with the stored result of every formula left out, so that a reader must compute it. */
export function withoutResults(rows: readonly SheetRow[]): string {
  let xml = '';
  for (const row of rows) {
    if (!row.cells.some((cell) => cell.formula)) {
      xml += row.xml;
      continue;
    }
    xml += `${openTag('row', row.attributes)}>`;
    for (const cell of row.cells) {
      const { t: _type, ...attributes } = cell.attributes;
      xml += cell.formula ? `${openTag('c', attributes)}>${cell.formula.xml}</c>` : cell.xml;
    }
    xml += '</row>';
  }
  return xml;
}

/** An opening tag up to, not including, its closing bracket. */
export function openTag(name: string, attributes: Readonly<Record<string, string>>): string {
  let xml = `<${name}`;
  for (const [key, value] of Object.entries(attributes)) xml += ` ${key}="${xmlAttribute(value)}"`;
  return xml;
}
