import { childrenOf, walkXml, type XmlElement } from './xml-tree.js';

/** What the cells of a sheet may ask for. */
export interface Shared {
  readonly strings: number;
  readonly cellStyles: number;
  readonly differentialStyles: number;
}

interface Area {
  readonly top: number;
  readonly left: number;
  readonly bottom: number;
  readonly right: number;
}

const ROWS = 1_048_576;
const COLUMNS = 16_384;

/** What a program would refuse or mend in a worksheet, beside the order of its elements. */
export function sheetFaults(sheet: XmlElement, shared: Shared): string[] {
  return [...cellFaults(sheet, shared), ...areaFaults(sheet), ...ruleFaults(sheet, shared), ...pageFaults(sheet)];
}

function cellFaults(sheet: XmlElement, { strings, cellStyles }: Shared): string[] {
  const faults: string[] = [];
  const masters = new Map<string, Area>();
  let lastRow = 0;
  for (const row of childrenOf(childrenOf(sheet, 'sheetData')[0], 'row')) {
    const number = Number(row.attributes['r']);
    if (!(number > lastRow && number <= ROWS)) faults.push(`row ${row.attributes['r']} after row ${lastRow}`);
    lastRow = number;
    const height = Number(row.attributes['ht'] ?? 15);
    if (!(height >= 0 && height <= 409.5)) faults.push(`row ${number}: the height ${row.attributes['ht']}`);
    let lastColumn = 0;
    for (const cell of row.children) {
      const { r = '', s = '0', t = 'n' } = cell.attributes;
      const at = areaOf(r);
      if (!at || at.top !== number || at.left <= lastColumn || at.left > COLUMNS) faults.push(`the cell ${r} in row ${number} after column ${lastColumn}`);
      lastColumn = at?.left ?? lastColumn;
      if (!(Number(s) < cellStyles)) faults.push(`${r}: the style ${s}`);
      const [value, formula, text] = ['v', 'f', 'is'].map((name) => childrenOf(cell, name)[0]);
      if (t === 's' && !(Number(value?.text) < strings)) faults.push(`${r}: the shared text ${value?.text}`);
      if (t === 'n' && value && !/^-?\d+(?:\.\d+)?(?:[eE][-+]?\d+)?$/.test(value.text)) faults.push(`${r}: the number ${value.text}`);
      if (t === 'b' && !/^[01]$/.test(value?.text ?? '')) faults.push(`${r}: the truth ${value?.text}`);
      if (!['s', 'n', 'b', 'str', 'inlineStr'].includes(t)) faults.push(`${r}: the type ${t}`);
      if ((t === 'inlineStr') !== (text !== undefined) || (text && formula)) faults.push(`${r}: a text in the cell of type ${t}`);
      if (Math.max(value?.text.length ?? 0, ...childrenOf(text, 't').map((one) => one.text.replace(/_x[0-9A-F]{4}_/g, 'x').length)) > 32_767) faults.push(`${r}: the text is too long`);
      if (formula) faults.push(...formulaFaults(r, formula, masters));
    }
  }
  return faults;
}

function formulaFaults(cell: string, { attributes: { t, si = '', ref }, text }: XmlElement, masters: Map<string, Area>): string[] {
  const at = areaOf(cell)!;
  const faults = text.length > 8192 || text.startsWith('=') ? [`${cell}: the formula ${text.slice(0, 20)}, ${text.length} characters`] : [];
  // A text within a formula has 255 characters at most (Microsoft, "Excel specifications and limits").
  for (const [literal] of text.matchAll(/"(?:[^"]|"")*"/g)) if (literal.slice(1, -1).replaceAll('""', '"').length > 255) faults.push(`${cell}: a text of ${literal.length - 2} characters in the formula`);
  if (t === undefined && text === '') faults.push(`${cell}: an empty formula`);
  if (t === 'array' && (ref === undefined || text === '' || !within(at, areaOf(ref)))) faults.push(`${cell}: the array formula of ${ref}`);
  if (t !== 'shared') return faults;
  const master = masters.get(si);
  if (text !== '') {
    const area = areaOf(ref ?? '');
    if (master || !area || !within(at, area)) faults.push(`${cell}: the shared formula ${si} of ${ref}`);
    if (/(?:^|[^A-Za-z0-9_.'])(?:'[^']*'|[A-Za-z_.]+)!\$?[A-Z]{1,3}[0-9]/.test(text.replace(/"(?:[^"]|"")*"/g, '""'))) faults.push(`${cell}: a shared formula looks at another sheet`);
    if (area) masters.set(si, area);
  } else if (!master || !within(at, master)) faults.push(`${cell}: it shares the formula ${si}, which is not for it`);
  return faults;
}

/** Merged cells that overlap, and other areas that are none. */
function areaFaults(sheet: XmlElement): string[] {
  const faults: string[] = [];
  const merged = childrenOf(sheet, 'mergeCells');
  const areas = merged.flatMap((list) => childrenOf(list, 'mergeCell')).map(({ attributes }) => [attributes['ref']!, areaOf(attributes['ref']!)] as const);
  for (const [index, [ref, area]] of areas.entries()) {
    if (!area || (area.top === area.bottom && area.left === area.right)) faults.push(`merged: ${ref}`);
    for (const [other, also] of areas.slice(index + 1)) if (area && also && overlap(area, also)) faults.push(`merged: ${ref} and ${other}`);
  }
  for (const list of [...walkXml(sheet)]) if (list.attributes['count'] !== undefined && Number(list.attributes['count']) !== list.children.length) faults.push(`${list.name}: ${list.attributes['count']} are announced, ${list.children.length} there`);
  const columns = childrenOf(childrenOf(sheet, 'cols')[0], 'col').map(({ attributes }) => [Number(attributes['min']), Number(attributes['max']), Number(attributes['width'])] as const);
  columns.forEach(([min, max, width], index) => {
    if (!(min >= 1 && min <= max && max <= COLUMNS && width >= 0 && width <= 255) || min <= (columns[index - 1]?.[1] ?? 0)) faults.push(`columns ${min} to ${max}, ${width} wide`);
  });
  for (const [name, attribute] of [['dimension', 'ref'], ['autoFilter', 'ref']] as const) for (const { attributes } of childrenOf(sheet, name)) if (!areaOf(attributes[attribute]!)) faults.push(`${name}: ${attributes[attribute]}`);
  return faults;
}

function ruleFaults(sheet: XmlElement, { differentialStyles }: Shared): string[] {
  const faults: string[] = [];
  for (const { attributes: { sqref = '' }, children } of childrenOf(sheet, 'conditionalFormatting')) {
    if (sqref.split(' ').some((ref) => !areaOf(ref))) faults.push(`conditional format of ${sqref}`);
    for (const { attributes: { dxfId, priority } } of children) {
      if (dxfId !== undefined && !(Number(dxfId) < differentialStyles)) faults.push(`conditional format of ${sqref}: the style ${dxfId}`);
      if (!(Number(priority) >= 1)) faults.push(`conditional format of ${sqref}: the priority ${priority}`);
    }
  }
  for (const { attributes, children } of childrenOf(childrenOf(sheet, 'dataValidations')[0], 'dataValidation')) {
    const { sqref = '', type, prompt = '', promptTitle = '', error = '', errorTitle = '' } = attributes;
    if (sqref.split(' ').some((ref) => !areaOf(ref))) faults.push(`validation of ${sqref}`);
    // ECMA-376 Part 1, 18.3.1.32; 255 and 225 are the limits of Excel.
    if (prompt.length > 255 || error.length > 255 || promptTitle.length > 32 || errorTitle.length > 32) faults.push(`validation of ${sqref}: words too long`);
    if (children.some(({ text }) => text === '' || text.length > (type === 'list' ? 257 : 8192))) faults.push(`validation of ${sqref}: ${children.map(({ text }) => text).join('; ')}`);
    if (type === undefined || children.length === 0) faults.push(`validation of ${sqref}: nothing to hold it against`);
  }
  return faults;
}

function pageFaults(sheet: XmlElement): string[] {
  const faults: string[] = [];
  for (const { name, text } of childrenOf(sheet, 'headerFooter').flatMap(({ children }) => children)) {
    if (text.length > 255) faults.push(`${name}: ${text.length} characters`);
    if (/&(?![LCRPNAFDTG&]|[0-9]|"[^"]*"|[BIUSEXYK+-])/.test(text.replaceAll('&&', ''))) faults.push(`${name}: ${text}`);
  }
  for (const { attributes } of childrenOf(sheet, 'pageSetup')) for (const name of ['fitToWidth', 'fitToHeight', 'scale']) if (attributes[name] !== undefined && !/^\d+$/.test(attributes[name])) faults.push(`pageSetup: ${name} is ${attributes[name]}`);
  for (const { attributes: { id } } of childrenOf(childrenOf(sheet, 'rowBreaks')[0], 'brk')) if (!(Number(id) >= 1 && Number(id) < ROWS)) faults.push(`page break at ${id}`);
  return faults;
}

/** The area of a reference such as `A1:C7`; null when it is none. */
function areaOf(reference: string): Area | null {
  const match = /^\$?([A-Z]{1,3})\$?([1-9][0-9]{0,6})(?::\$?([A-Z]{1,3})\$?([1-9][0-9]{0,6}))?$/.exec(reference);
  if (!match) return null;
  const column = (letters: string): number => [...letters].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0);
  const [left, top] = [column(match[1]!), Number(match[2])];
  const [right, bottom] = match[3] === undefined ? [left, top] : [column(match[3]), Number(match[4])];
  return right >= left && bottom >= top && right <= COLUMNS && bottom <= ROWS ? { top, left, bottom, right } : null;
}

function within(inner: Area, outer: Area | null): boolean {
  return outer !== null && inner.top >= outer.top && inner.bottom <= outer.bottom && inner.left >= outer.left && inner.right <= outer.right;
}

function overlap(a: Area, b: Area): boolean {
  return a.top <= b.bottom && b.top <= a.bottom && a.left <= b.right && b.left <= a.right;
}
