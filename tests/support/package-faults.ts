import { posix } from 'node:path';
import { childrenOf, walkXml, type XmlElement } from './xml-tree.js';

/** The parts of a workbook, parsed, by path. */
export type ParsedParts = ReadonlyMap<string, XmlElement>;

const SHEETML = 'application/vnd.openxmlformats-officedocument.spreadsheetml';
/** The content type of what a relationship of each kind points at (ECMA-376 Part 1, 12.3 and 14.2; Part 2, 11). */
const CONTENT_TYPES: Readonly<Record<string, string>> = {
  officeDocument: `${SHEETML}.sheet.main+xml`, worksheet: `${SHEETML}.worksheet+xml`, styles: `${SHEETML}.styles+xml`, sharedStrings: `${SHEETML}.sharedStrings+xml`, theme: 'application/vnd.openxmlformats-officedocument.theme+xml',
  drawing: 'application/vnd.openxmlformats-officedocument.drawing+xml', chart: 'application/vnd.openxmlformats-officedocument.drawingml.chart+xml', 'core-properties': 'application/vnd.openxmlformats-package.core-properties+xml', 'extended-properties': 'application/vnd.openxmlformats-officedocument.extended-properties+xml',
};

/** One relationship: its id, the last word of its type, and the path of the part. */
export interface Link {
  readonly id: string;
  readonly kind: string;
  readonly target: string;
}

/** The relationships of a part. */
export function linksOf(parts: ParsedParts, part: string): Link[] {
  const list = parts.get(posix.join(posix.dirname(part), '_rels', `${posix.basename(part)}.rels`));
  return childrenOf(list, 'Relationship').map(({ attributes: { Id = '', Type = '', Target = '' } }) => ({ id: Id, kind: Type.split('/').at(-1)!, target: Target.startsWith('/') ? Target.slice(1) : posix.join(posix.dirname(part), Target) }));
}

/** Relationships that lead nowhere, parts without a content type or with a wrong one, parts that nothing points at. */
export function packageFaults(parts: ParsedParts): string[] {
  const faults: string[] = [];
  const types = parts.get('[Content_Types].xml');
  const overrides = childrenOf(types, 'Override').map(({ attributes }) => [attributes['PartName']!.slice(1), attributes['ContentType']!] as const);
  const defaults = new Map(childrenOf(types, 'Default').map(({ attributes }) => [attributes['Extension']!.toLowerCase(), attributes['ContentType']!]));
  const typeOf = new Map(overrides);
  if (typeOf.size !== overrides.length) faults.push('[Content_Types].xml names a part twice');
  for (const [path] of overrides) if (!parts.has(path)) faults.push(`[Content_Types].xml names ${path}, which is not there`);
  const pointedAt = new Set<string>();
  for (const source of ['', ...parts.keys()]) {
    const links = linksOf(parts, source);
    if (new Set(links.map(({ id }) => id)).size !== links.length) faults.push(`${source}: an id stands twice among its relationships`);
    for (const { kind, target, id } of links) {
      pointedAt.add(target);
      if (!parts.has(target)) faults.push(`${source}: ${id} leads to ${target}, which is not there`);
      else if (typeOf.get(target) !== CONTENT_TYPES[kind]) faults.push(`${target}: its content type ${typeOf.get(target)} is not that of ${kind}`);
    }
    const root = parts.get(source);
    if (!root || source.endsWith('.rels')) continue;
    const ids = [...walkXml(root)].flatMap(({ attributes }) => (attributes['r:id'] === undefined ? [] : [attributes['r:id']]));
    for (const id of ids) if (!links.some((link) => link.id === id)) faults.push(`${source}: it asks for the relationship ${id}, which is not there`);
    for (const { id, kind } of links) if (['worksheet', 'drawing', 'chart'].includes(kind) && !ids.includes(id)) faults.push(`${source}: nothing asks for its relationship ${id}`);
  }
  for (const path of parts.keys()) {
    if (path === '[Content_Types].xml' || path.endsWith('.rels')) continue;
    if (!typeOf.has(path) && !defaults.has(posix.extname(path).slice(1))) faults.push(`${path} has no content type`);
    if (!pointedAt.has(path)) faults.push(`nothing points at ${path}`);
  }
  for (const path of parts.keys()) if (path.endsWith('.rels') && path !== '_rels/.rels' && !parts.has(posix.join(posix.dirname(path), '..', posix.basename(path, '.rels')))) faults.push(`${path} is of a part that is not there`);
  return faults;
}

/** Names of sheets and defined names that a program refuses, and references to sheets that are not there. */
export function nameFaults(parts: ParsedParts): string[] {
  const faults: string[] = [];
  const workbook = parts.get('xl/workbook.xml')!;
  const sheets = childrenOf(childrenOf(workbook, 'sheets')[0], 'sheet').map(({ attributes }) => attributes);
  const twice = (values: readonly (string | undefined)[]): boolean => new Set(values.map((value) => value?.toLowerCase())).size !== values.length;
  if (twice(sheets.map(({ name }) => name)) || twice(sheets.map(({ sheetId }) => sheetId))) faults.push('two sheets have one name or one id');
  for (const { name = '' } of sheets) if (name === '' || name.length > 31 || /[:\\/?*[\]\p{Cc}]|^'|'$|^history$|_x[0-9a-f]{4}_/iu.test(name)) faults.push(`the sheet name ${JSON.stringify(name)}`);
  const active = Number(childrenOf(childrenOf(workbook, 'bookViews')[0], 'workbookView')[0]?.attributes['activeTab'] ?? 0);
  if (active >= sheets.length) faults.push(`the active tab ${active}`);
  const names = childrenOf(childrenOf(workbook, 'definedNames')[0], 'definedName');
  if (twice(names.map(({ attributes: { name, localSheetId = '' } }) => `${localSheetId}!${name}`))) faults.push('a defined name stands twice');
  const known = new Set(sheets.map(({ name }) => name!.toLowerCase()));
  for (const { attributes: { name = '', localSheetId }, text } of names) {
    if (!/^(?:_xlnm\.)?[A-Za-z_\\][A-Za-z0-9_.\\]{0,254}$/.test(name) || /^(?:[A-Za-z]{1,3}[0-9]+|[rc]|r[0-9]*c[0-9]*)$/i.test(name)) faults.push(`the defined name ${name}`);
    if (localSheetId !== undefined && !(Number(localSheetId) < sheets.length)) faults.push(`${name} is of sheet ${localSheetId}`);
    for (const [reference, quoted, plain] of text.matchAll(/(?:'((?:[^']|'')+)'|([A-Za-z_][A-Za-z0-9_.]*))!/g)) if (!known.has((quoted?.replaceAll("''", "'") ?? plain!).toLowerCase())) faults.push(`${name} points at ${reference}, which is not there`);
    if (text.includes('#REF!') || !/^(?:(?:'(?:[^']|'')+'|[A-Za-z_][A-Za-z0-9_.]*)!\$?[A-Z]*\$?[0-9]*(?::\$?[A-Z]*\$?[0-9]*)?,?)+$/.test(text)) faults.push(`${name} points at ${text}`);
  }
  return faults;
}
