import { expect, it } from 'vitest';
import { fieldDictionary } from '../../src/readings/dictionary.js';
import { optionalColumnsOf } from '../../src/readings/optional-columns.js';

const dictionary = fieldDictionary();

it('the optional columns are named among those of a table, and no standard one', () => {
  const at = (name: string): { readonly role: 'field'; readonly position: number } => ({ role: 'field', position: dictionary.position.get(name)! });
  const first = dictionary.fields[dictionary.standardCount]!.name;
  const columns = [at('unit'), at(dictionary.fields[dictionary.standardCount - 1]!.name), at(first), at('cut_in_half_width'), { role: 'extra', header: 'Bay' }] as unknown as Parameters<typeof optionalColumnsOf>[0];
  expect([...optionalColumnsOf(columns, dictionary)]).toStrictEqual([first, 'cut_in_half_width']);
});
