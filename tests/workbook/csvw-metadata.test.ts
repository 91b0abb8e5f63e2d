import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { fieldDictionary } from '../../src/readings/dictionary.js';
import { packagePath } from '../../src/util/package-path.js';
import { csvwMetadata } from '../../src/workbook/csvw-metadata.js';

interface Column {
  readonly name: string;
  readonly titles: readonly string[];
  readonly required: boolean;
  readonly datatype: string | { readonly base: string; readonly format: string };
}

const metadata = csvwMetadata(fieldDictionary()) as { '@context': unknown; url: string; tableSchema: { columns: readonly Column[] } };
/** The datatypes that the recommendation builds in, of those that are used here (Metadata Vocabulary for Tabular Data, 5.11.1). */
const DATATYPES = new Set(['string', 'date', 'boolean', 'integer', 'number']);

it('describes every column of the readings table, by the rules of the vocabulary', () => {
  expect(metadata['@context']).toStrictEqual(['http://www.w3.org/ns/csvw', { '@language': 'en' }]);
  const { fields, standardCount } = fieldDictionary();
  expect(metadata.tableSchema.columns.map(({ name, titles, required }) => [name, titles[0], required])).toStrictEqual(fields.slice(0, standardCount).map(({ name, required }) => [name, name, required ?? false]));
  for (const { name, datatype } of metadata.tableSchema.columns) expect([name, DATATYPES.has(typeof datatype === 'string' ? datatype : datatype.base)]).toStrictEqual([name, true]);
});

it('points at a table that ships, whose columns of ours it knows', () => {
  const header = readFileSync(packagePath('samples', metadata.url.replace('../samples/', '')), 'utf8').split('\n')[0]!.trim().split(',');
  const names = new Set(metadata.tableSchema.columns.map(({ name }) => name));
  expect(header.filter((name) => !names.has(name))).toStrictEqual(['record_kind']);
});
