import { partText, type Parts } from './read-parts.js';
import { defect } from './sheet-limits.js';
import { xmlAttribute, xmlText } from './xml-text.js';

const WORKBOOK = 'xl/workbook.xml';

/** A name for cells. */
export interface DefinedName {
  readonly name: string;
  /** What it stands for, such as `Readings!$B$4:$B$99`. */
  readonly reference: string;
  /** The sheet for which alone it holds, such as a print area's; the whole workbook when left out. */
  readonly onSheet?: string;
}

/**
 * Adds defined names to the workbook part, at their place in the schema (ECMA-376 Part 1, CT_Workbook: after `sheets`,
 * before `calcPr`). A template's maker would walk every cell of a range.
 */
export function addDefinedNames(parts: Parts, names: readonly DefinedName[]): void {
  if (names.length === 0) return;
  const xml = partText(parts, WORKBOOK);
  const elements = names.map(({ name, reference, onSheet }) => `<definedName name="${xmlAttribute(name)}"${onSheet === undefined ? '' : ` localSheetId="${sheetIndex(xml, onSheet)}"`}>${xmlText(reference)}</definedName>`).join('');
  const end = '</definedNames>';
  const after = '</sheets>';
  let changed: string;
  if (xml.includes(end)) changed = xml.replace(end, () => elements + end);
  else if (xml.includes(after)) changed = xml.replace(after, () => `${after}<definedNames>${elements}${end}`);
  else throw defect('the template', 'its workbook part lists no sheets', 'lay out at least one sheet');
  parts.set(WORKBOOK, Buffer.from(changed));
}

/** The position of a sheet among the sheets, from 0. */
function sheetIndex(xml: string, sheet: string): number {
  const index = [...xml.matchAll(/<sheet\b[^>]*\bname="([^"]*)"/g)].findIndex((match) => match[1] === xmlAttribute(sheet));
  if (index < 0) throw defect(`sheet ${sheet}`, 'the template has no such sheet', 'name a sheet of the template');
  return index;
}
