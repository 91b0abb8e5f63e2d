import { workbookParts } from '../workbook/workbook-parts.js';
import { linksOf, nameFaults, packageFaults, type ParsedParts } from './package-faults.js';
import { misplacedElements } from './schema-order.js';
import { sheetFaults, type Shared } from './sheet-faults.js';
import { childrenOf, parseXml, walkXml, type XmlElement } from './xml-tree.js';

/**
 * What a spreadsheet program would refuse or offer to mend in a workbook: parts that are not well-formed or not in the order of the schema,
 * links that lead nowhere, names, areas, styles and texts out of their bounds. Each fault names its part.
 */
export async function workbookFaults(bytes: Uint8Array): Promise<string[]> {
  const faults: string[] = [];
  const parts = new Map<string, XmlElement>();
  for (const [path, xml] of await workbookParts(bytes)) {
    try {
      parts.set(path, parseXml(xml));
    } catch (error) {
      faults.push(`${path}: ${(error as Error).message}`);
    }
  }
  for (const [path, root] of parts) faults.push(...misplacedElements(root).map((fault) => `${path}: ${fault}`));
  faults.push(...packageFaults(parts), ...nameFaults(parts), ...styleFaults(parts), ...drawingFaults(parts));
  const shared = sharedOf(parts);
  for (const { kind, target } of linksOf(parts, 'xl/workbook.xml')) if (kind === 'worksheet' && parts.has(target)) faults.push(...sheetFaults(parts.get(target)!, shared).map((fault) => `${target}: ${fault}`));
  return [...new Set(faults)];
}

function listOf(parts: ParsedParts, name: string): XmlElement[] {
  return childrenOf(parts.get('xl/styles.xml'), name)[0]?.children ?? [];
}

function sharedOf(parts: ParsedParts): Shared {
  return { strings: childrenOf(parts.get('xl/sharedStrings.xml'), 'si').length, cellStyles: listOf(parts, 'cellXfs').length, differentialStyles: listOf(parts, 'dxfs').length };
}

/** Styles that ask for fonts, fills, borders and formats that are not there. */
function styleFaults(parts: ParsedParts): string[] {
  const faults: string[] = [];
  const sizes = { fontId: listOf(parts, 'fonts').length, fillId: listOf(parts, 'fills').length, borderId: listOf(parts, 'borders').length, xfId: listOf(parts, 'cellStyleXfs').length };
  const formats = listOf(parts, 'numFmts').map(({ attributes }) => attributes);
  if (new Set(formats.map(({ numFmtId }) => numFmtId)).size !== formats.length || formats.some(({ formatCode = '' }) => formatCode === '' || formatCode.length > 255)) faults.push('xl/styles.xml: a number format');
  for (const { attributes } of [...listOf(parts, 'cellXfs'), ...listOf(parts, 'cellStyleXfs')]) {
    for (const [name, size] of Object.entries(sizes)) if (attributes[name] !== undefined && !(Number(attributes[name]) < size)) faults.push(`xl/styles.xml: ${name} ${attributes[name]} of ${size}`);
    const id = Number(attributes['numFmtId'] ?? 0);
    if (id >= 164 && !formats.some(({ numFmtId }) => Number(numFmtId) === id)) faults.push(`xl/styles.xml: the number format ${id}`);
  }
  for (const list of parts.get('xl/styles.xml')?.children ?? []) if (list.attributes['count'] !== undefined && Number(list.attributes['count']) !== list.children.length) faults.push(`xl/styles.xml: ${list.name} announces ${list.attributes['count']} of ${list.children.length}`);
  const { count, uniqueCount } = parts.get('xl/sharedStrings.xml')?.attributes ?? {};
  const strings = childrenOf(parts.get('xl/sharedStrings.xml'), 'si').length;
  if (uniqueCount !== undefined && Number(uniqueCount) !== strings) faults.push(`xl/sharedStrings.xml: ${uniqueCount} of ${count} are announced, ${strings} there`);
  return faults;
}

/** Shapes of one drawing with one id, axes that are not there, caches with points beyond their count. */
function drawingFaults(parts: ParsedParts): string[] {
  const faults: string[] = [];
  for (const [path, root] of parts) {
    const all = [...walkXml(root)];
    if (root.name === 'xdr:wsDr') {
      const ids = all.filter(({ name }) => name === 'xdr:cNvPr').map(({ attributes }) => attributes['id']);
      if (new Set(ids).size !== ids.length) faults.push(`${path}: two shapes have one id`);
    }
    if (root.name !== 'c:chartSpace') continue;
    const axes = all.filter(({ name }) => name === 'c:catAx' || name === 'c:valAx').map((axis) => childrenOf(axis, 'c:axId')[0]!.attributes['val']);
    const used = all.filter(({ name }) => /^c:(?:bar|line|scatter)Chart$/.test(name)).flatMap((chart) => childrenOf(chart, 'c:axId').map(({ attributes }) => attributes['val']));
    const crossed = all.filter(({ name }) => name === 'c:crossAx').map(({ attributes }) => attributes['val']);
    if (new Set(axes).size !== axes.length || [...used, ...crossed].some((id) => !axes.includes(id)) || axes.some((id) => !used.includes(id))) faults.push(`${path}: its axes are ${axes.join(', ')}, its charts use ${used.join(', ')}`);
    for (const series of ['c:idx', 'c:order']) {
      const numbers = all.filter(({ name }) => name === 'c:ser').map((one) => childrenOf(one, series)[0]!.attributes['val']);
      if (new Set(numbers).size !== numbers.length) faults.push(`${path}: two series have one ${series}`);
    }
    for (const cache of all.filter(({ name }) => name === 'c:numCache' || name === 'c:strCache')) {
      const points = Number(childrenOf(cache, 'c:ptCount')[0]?.attributes['val']);
      const places = childrenOf(cache, 'c:pt').map(({ attributes }) => Number(attributes['idx']));
      if (places.some((place, index) => !(place < points) || place <= (places[index - 1] ?? -1))) faults.push(`${path}: points ${places.join(', ')} of ${points}`);
      if (cache.name === 'c:numCache' && childrenOf(cache, 'c:pt').some((point) => !Number.isFinite(Number(point.children[0]?.text)) || point.children[0]?.text === '')) faults.push(`${path}: a point that is no number`);
    }
  }
  return faults;
}
