import { describe, expect, test } from 'vitest';
import { columnMapText, describeColumns, parseColumnMap } from '../../src/readings/column-map.js';
import type { ColumnRole } from '../../src/readings/find-header.js';
import { TreadlebookError } from '../../src/util/treadlebook-error.js';
import { dictionary } from './reshape-support.js';

const map = (columns: unknown, more: Record<string, unknown> = {}): string => JSON.stringify({ format: 'treadlebook-map', version: 1, columns, ...more });

function refusal(text: string): unknown {
  try {
    parseColumnMap(text, 'map.json', dictionary);
  } catch (error) {
    const { code, where, what, mend } = error as TreadlebookError;
    return { code, where, what, mend };
  }
  return 'taken';
}

describe('parseColumnMap', () => {
  test('says which header holds which field, and which holds none', () => {
    const columns = { 'P start': 'released_primary_start', Bay: null, Gizmo: null, constructor: 'unit' };
    expect([...parseColumnMap(map(columns), 'map.json', dictionary)]).toStrictEqual(Object.entries(columns));
  });

  test('takes a byte order mark at the beginning for nothing, and one elsewhere for a part of a name', () => {
    expect([...parseColumnMap(`\uFEFF${map({ Bay: 'site' })}`, 'map.json', dictionary)]).toStrictEqual([['Bay', 'site']]);
    expect([...parseColumnMap(map({ '\uFEFFBay': 'site' }), 'map.json', dictionary)]).toStrictEqual([['\uFEFFBay', 'site']]);
  });

  test('takes a header named like what every object has', () => {
    expect([...parseColumnMap('{"format":"treadlebook-map","version":1,"columns":{"__proto__":"unit","Bay":null}}', 'map.json', dictionary)]).toStrictEqual([['__proto__', 'unit'], ['Bay', null]]);
    expect([...parseColumnMap('{"format":"treadlebook-map","version":1,"columns":{"__proto__":null}}', 'map.json', dictionary)]).toStrictEqual([['__proto__', null]]);
    expect(refusal('{"format":"treadlebook-map","version":1,"columns":{"__proto__":7}}')).toStrictEqual({ code: 'usage', where: 'map.json', what: 'columns.__proto__: it is neither the name of a field nor null', mend: 'write what `--show-map` prints, and change that' });
  });

  test('refuses what is no JSON, and what is no map', () => {
    expect(refusal('{')).toMatchObject({ code: 'usage', where: 'map.json', what: expect.stringMatching(/^it is not JSON: .+/) as string, mend: 'check commas, quotes and brackets' });
    expect(refusal('7')).toMatchObject({ code: 'usage', where: 'map.json', what: expect.stringMatching(/^the file: .+/) as string, mend: 'write what `--show-map` prints, and change that' });
    expect(refusal(map({ Bay: 7 }))).toMatchObject({ code: 'usage', where: 'map.json', what: expect.stringMatching(/^columns\.Bay: .+/) as string });
    expect(refusal(map({}, { version: 2 }))).toMatchObject({ what: expect.stringMatching(/^version: .+/) as string });
  });

  test('refuses a field that there is not, with the one that is meant, and one that is given twice', () => {
    expect(refusal(map({ Bay: 'sitte' }))).toStrictEqual({ code: 'usage', where: 'map.json, Bay', what: 'no field is named sitte', mend: 'did you mean site?' });
    expect(refusal(map({ Bay: 'zzzzzzzzzzzz' }))).toMatchObject({ mend: '`treadlebook fields` lists the fields' });
    expect(refusal(map({ Bay: 'site', Yard: 'site' }))).toStrictEqual({ code: 'usage', where: 'map.json, Yard', what: 'site is given to the column Bay already', mend: 'give each field to one column' });
  });
});

describe('what the columns of a table were taken as', () => {
  const field = (header: string, name: string, more: Record<string, unknown> = {}): ColumnRole => ({ role: 'field', header, position: dictionary.position.get(name)!, unit: null, timeUnit: null, how: 'name', ...more }) as ColumnRole;
  const columns: readonly ColumnRole[] = [
    field('Truck', 'unit'),
    field('Cut-in (kPa)', 'cut_in', { unit: 'kPa' }),
    field('Minutes', 'released_time', { timeUnit: 'min' }),
    { role: 'extra', header: 'Bay' },
    { role: 'as_found', header: 'as_found' },
    { role: 'computed', header: 'computed.verdict' } as ColumnRole,
    { role: 'extra', header: '' },
  ];

  test('is told column by column', () => {
    expect(describeColumns(columns, dictionary)).toStrictEqual([
      { column: 'A', header: 'Truck', field: 'unit', unit: '', how: 'name' },
      { column: 'B', header: 'Cut-in (kPa)', field: 'cut_in', unit: 'kPa', how: 'name' },
      { column: 'C', header: 'Minutes', field: 'released_time', unit: 'min', how: 'name' },
      { column: 'D', header: 'Bay', field: null, unit: '', how: 'a column of yours, kept as it is' },
      { column: 'E', header: 'as_found', field: null, unit: '', how: 'made anew by the program' },
      { column: 'F', header: 'computed.verdict', field: null, unit: '', how: 'made anew by the program' },
      { column: 'G', header: '', field: null, unit: '', how: 'a column of yours, kept as it is' },
    ]);
  });

  test('is written as a map that is read back', () => {
    const text = columnMapText(columns, dictionary);
    expect(JSON.parse(text)).toStrictEqual({ format: 'treadlebook-map', version: 1, columns: { Truck: 'unit', 'Cut-in (kPa)': 'cut_in', Minutes: 'released_time', Bay: null } });
    expect(text.endsWith('}\n')).toBe(true);
    expect([...parseColumnMap(text, 'map.json', dictionary)]).toHaveLength(4);
  });

  test('of a header that stands there twice says which field it is', () => {
    const twice = (...both: readonly ColumnRole[]): unknown => (JSON.parse(columnMapText(both, dictionary)) as { columns: unknown }).columns;
    expect(twice(field('Bay', 'site'), { role: 'extra', header: 'Bay' })).toStrictEqual({ Bay: 'site' });
    expect(twice({ role: 'extra', header: 'Bay' }, field('Bay', 'site'))).toStrictEqual({ Bay: 'site' });
  });
});
