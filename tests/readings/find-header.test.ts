import { describe, expect, it } from 'vitest';
import { fieldDictionary } from '../../src/readings/dictionary.js';
import { foldHeader, headerScore, readHeader } from '../../src/readings/find-header.js';

const dictionary = fieldDictionary();
const standard = dictionary.fields.slice(0, dictionary.standardCount);
const header = (...cells: (string | number | null)[]): ReturnType<typeof readHeader> => readHeader({ number: 3, cells }, dictionary);
const rolesOf = (...cells: (string | number | null)[]): unknown[] => header(...cells).columns.map((column) => (column.role === 'field' ? dictionary.fields[column.position]!.name : [column.role, column.header]));

describe('a header row', () => {
  it('knows every field by its name, its title and each of its spellings, whatever their case and punctuation', () => {
    for (const { name, title, spellings } of standard) {
      for (const spelling of [name, name.toUpperCase(), title, ...spellings, ` ${title.toUpperCase()}: `]) expect([spelling, rolesOf(spelling, 'Weather')[0]]).toStrictEqual([spelling, name]);
    }
  });

  it('has no spelling that two fields share', () => {
    const owners = new Map<string, Set<string>>();
    for (const { name, title, spellings } of standard) for (const spelling of [name, title, ...spellings]) owners.set(foldHeader(spelling), (owners.get(foldHeader(spelling)) ?? new Set()).add(name));
    expect([...owners].filter(([, names]) => names.size > 1)).toStrictEqual([]);
  });

  it('reads the unit of pressure that a header names, and keeps it for pressures alone', () => {
    const units = header('Cut in (kPa)', 'Cut out [bar]', 'Light on at', 'Released time (min)', 'Odometer (kPa)').columns.map((column) => (column.role === 'field' ? [dictionary.fields[column.position]!.name, column.unit, column.timeUnit] : column.role));
    expect(units).toStrictEqual([['cut_in', 'kPa', null], ['cut_out', 'bar', null], ['light_on_at', null, null], ['released_time', null, 'min'], ['odometer', null, null]]);
  });

  it('keeps every other header as it is: blanks, numbers and names of JavaScript among them', () => {
    expect(rolesOf('unit', 'Weather', '', null, 7, '__proto__', 'constructor', 'toString')).toStrictEqual(['unit', ['extra', 'Weather'], ['extra', ''], ['extra', ''], ['extra', '7'], ['extra', '__proto__'], ['extra', 'constructor'], ['extra', 'toString']]);
  });

  it('gives a field to one column, and keeps the one that repeats it', () => {
    const twice = header('unit', 'Notes', 'notes', 'remarks');
    expect(twice.columns.map(({ role }) => role)).toStrictEqual(['field', 'field', 'extra', 'extra']);
    expect(twice.repeated).toStrictEqual([2, 3]);
  });

  it('tells what the program computed and the texts as found from columns of a user\'s own', () => {
    expect(rolesOf('computed.verdict', 'unit', 'as_found', 'as_found')).toStrictEqual([['computed', 'computed.verdict'], 'unit', ['extra', 'as_found'], ['as_found', 'as_found']]);
    expect(rolesOf('unit', 'as_found', 'verdict')).toStrictEqual(['unit', ['extra', 'as_found'], ['extra', 'verdict']]);
  });

  it('knows fields by their very names alone in a table that the program wrote', () => {
    // Every other column of such a table was the office's own when it was read first, however like a field it is called.
    expect(rolesOf('unit', 'cut_out', 'Cut-in', 'reled primary start', 'P start', 'CUT_IN', 'computed.verdict')).toStrictEqual(['unit', 'cut_out', ['extra', 'Cut-in'], ['extra', 'reled primary start'], ['extra', 'P start'], ['extra', 'CUT_IN'], ['computed', 'computed.verdict']]);
    expect(rolesOf('unit', 'cut_out', 'reled primary start')).toStrictEqual(['unit', 'cut_out', 'released_primary_start']);
  });

  it('counts for nothing when it names no unit, and for more by names than by spellings', () => {
    const score = (...cells: string[]): number => headerScore(header(...cells), dictionary);
    expect(score('inspected_on', 'cut_in', 'cut_out')).toBe(0);
    expect(score('unit', 'inspected_on')).toBe(4);
    expect(score('Truck No', 'Test date')).toBe(2);
    expect(score('unit', 'inspected_on')).toBeGreaterThan(score('Truck No', 'Test date', 'Yard'));
  });
});
