import type { KeyParts, PartChange } from './broken-workbooks.js';

const DEEP = 5000;

/** What can befall a part as a whole. */
export function partChanges(parts: ReadonlyMap<string, string>, key: KeyParts): PartChange[] {
  const { workbook, links, strings, styles, readings, limits, provenance } = key;
  const changes: PartChange[] = [];
  const each = (paths: readonly string[], name: string, change: PartChange['change']): void => {
    for (const path of paths) changes.push({ name: `${path} ${name}`, path, change });
  };
  const read = [workbook, links, strings, styles, readings];
  const inside = (text: string, more: string): string => text.replace(/(<(?!\?)[^>]*?[^/])>/, `$1>${more}`);
  each(['[Content_Types].xml', '_rels/.rels', 'docProps/app.xml', ...read, limits, provenance], 'taken out', () => null);
  each([...read, limits, provenance, '_rels/.rels'], 'empty', () => '');
  each(read, 'as random bytes', () => Buffer.from(Array.from({ length: 500 }, (_, index) => (index * 7919) % 256)));
  each(read, 'cut in half', (text) => text.slice(0, text.length / 2));
  each(read, 'without its last tag', (text) => text.slice(0, text.lastIndexOf('<')));
  each([...read, '_rels/.rels'], 'with a DOCTYPE', (text) => text.replace(/(<\?xml[^>]*\?>)?/, '$1<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]>'));
  each([workbook, strings, readings], 'with an entity of its own', (text) => inside(text, '&b;'));
  each([workbook, strings, readings], 'with bytes that are no UTF-8', (text) => Buffer.concat([Buffer.from(text.slice(0, -20)), Buffer.from([0xc3, 0x28, 0xff]), Buffer.from(text.slice(-20))]));
  each(read, 'in UTF-16', (text) => Buffer.from(`\ufeff${text.replace('UTF-8', 'UTF-16')}`, 'utf16le'));
  each([workbook, readings], 'after a byte order mark', (text) => `\ufeff${text}`);
  each([workbook, links, strings, styles, readings], `with ${DEEP} elements inside one another`, (text) => inside(text, `${'<x>'.repeat(DEEP)}${'</x>'.repeat(DEEP)}`));
  each([workbook, strings, readings], 'with another root', (text) => text.replace(/<(workbook|sst|worksheet)\b/, '<html').replace(/<\/(workbook|sst|worksheet)>/, '</html>'));
  each([workbook, strings, readings], 'in no namespace', (text) => text.replace(/ xmlns="[^"]*"/, ''));
  each([workbook, strings, styles, readings], 'with another namespace', (text) => text.replace('http://schemas.openxmlformats.org/spreadsheetml/2006/main', 'http://purl.oclc.org/ooxml/spreadsheetml/main'));
  each([workbook, strings, styles, readings], 'with every element under a prefix', (text) => text.replace(/<(\/?)([A-Za-z]\w*)(?=[\s/>])/g, '<$1q:$2').replace(' xmlns="', ' xmlns:q="'));
  each([strings, readings], 'with comments between its elements', (text) => text.replaceAll('><', '><!-- x --><'));
  each([workbook, readings], 'with a processing instruction', (text) => inside(text, '<?php system("x") ?>'));
  each([readings], 'with text in CDATA', (text) => text.replace(/<v>([^<]*)<\/v>/g, '<v><![CDATA[$1]]></v>'));
  each([readings], 'with character references for digits', (text) => text.replace(/<v>(\d)/g, (_all, digit: string) => `<v>&#${48 + Number(digit)};`));
  each([readings], 'with a character that XML has not', (text) => text.replace('<v>', '<v>&#0;'));
  const swap = (path: string, other: string): void => void changes.push({ name: `${path} with the content of ${other}`, path, change: () => parts.get(other)! });
  swap(readings, limits);
  swap(readings, strings);
  swap(readings, workbook);
  swap(limits, readings);
  swap(provenance, readings);
  swap(strings, styles);
  swap(styles, strings);
  swap(workbook, readings);
  swap(links, '_rels/.rels');
  swap('_rels/.rels', links);
  return changes;
}
