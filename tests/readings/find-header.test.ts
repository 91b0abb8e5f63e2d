import { describe, expect, it } from 'vitest';
import { fieldDictionary } from '../../src/readings/dictionary.js';
import { foldHeader, headerScore, holdsOnlyUnits, joinHeaderRows, joinUnitsRow, readHeader, type ColumnMap } from '../../src/readings/find-header.js';

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

describe('the units that a header names', () => {
  it.each([
    ['Cut in (psig)', 'psi', null],
    ['Cut in [ kPa ]', 'kPa', null],
    ['Cut in bar', 'bar', null],
    ['Cut in (kPa) psi', 'kPa', null],
    ['Cut in (lbs)', 'psi', null],
    ['Cut in (min)', null, null],
    ['Released time [mins]', null, 'min'],
    ['Released time minutes', null, 'min'],
    ['Released time (MIN)', null, 'min'],
    ['Released time (s)', null, 's'],
    ['Released time (Secs)', null, 's'],
    ['Released time seconds', null, 's'],
    ['Released time sec', null, 's'],
    ['Released time (min) s', null, 'min'],
    ['Released time (m:ss)', null, null],
    ['Released time', null, null],
    ['Released time min', null, 'min'],
    ['Released time (psi)', null, null],
    // What is said of the time is no unit of it.
    ['Released time (1 min)', null, null],
    ['Released time (minimum)', null, null],
    ['Released time (standing)', null, null],
  ])('%s', (text, unit, timeUnit) => {
    expect(header('unit', text).columns[1]).toMatchObject({ role: 'field', header: text, unit, timeUnit });
  });
});

describe('a row of units', () => {
  it.each<[boolean, (string | number | null)[]]>([
    [true, ['psi', 'psi', 's']],
    [true, [null, '(kPa)', '[bar]', '']],
    [true, ['psi', 'dd/mm/yyyy', 'y/n', '-', 'rpm', '1/min', '°C', 'f', '%', 'km', 'litres', 'yes/no']],
    [true, ['min:s', 'm:ss', 'mm:ss', 'secs.', 'minutes', 'min']],
    [true, ['d-m-y', 'PSI']],
    [false, ['km', 'mi', '%']],
    [false, ['psi', 'K-101']],
    [false, ['psi', 110]],
    [false, ['psi', 'd/m-y']],
    [false, ['psi gauge log']],
    [false, ['psi', 'p(si']],
    [false, ['psi', 'ps)i']],
    [false, ['', null]],
    [false, []],
  ])('%s: %j', (expected, cells) => {
    expect(holdsOnlyUnits({ number: 2, cells })).toBe(expected);
  });

  it('goes in brackets behind the names above it', () => {
    expect(joinUnitsRow({ number: 3, cells: ['Unit', 'Cut in', 'Time', null] }, { number: 4, cells: ['', '(psi)', '[min]', 's', 'bar'] })).toStrictEqual({ number: 4, cells: ['Unit', 'Cut in (psi)', 'Time (min)', '(s)', '(bar)'] });
  });
});

describe('a header in two rows', () => {
  it('has the words of the upper row over the blanks to their right, before those of the lower', () => {
    expect(joinHeaderRows({ number: 1, cells: [null, 'Released', null, '', 'Other'] }, { number: 2, cells: ['Truck', 'P start', 'P end', null, 'Weather', 'Sky'] })).toStrictEqual({
      number: 2,
      cells: ['Truck', 'Released P start', 'Released P end', '', 'Other Weather', 'Other Sky'],
    });
    expect(joinHeaderRows({ number: 1, cells: ['Unit', 'Date'] }, { number: 2, cells: [] })).toStrictEqual({ number: 2, cells: ['Unit', 'Date'] });
  });
});

describe('how a column was recognised', () => {
  const how = (...cells: string[]): unknown[] => header(...cells).columns.map((column) => (column.role === 'field' ? [dictionary.fields[column.position]!.name, column.how] : column.role));

  it('is kept, from the surest way to the least', () => {
    expect(how('unit', 'Low-air light came on at', 'Relased primary start', 'S start')).toStrictEqual([['unit', 'name'], ['light_on_at', expect.any(String)], ['released_primary_start', 'misspelt words'], ['released_secondary_start', 'the column to its left']]);
    expect(how('Truck no', 'P start', 'P end')).toStrictEqual([['unit', 'spelling'], ['released_primary_start', 'assumed'], ['released_primary_end', 'assumed']]);
    expect(how('unit', 'Reservoir pressure primary before, brakes released')[1]).toStrictEqual(['released_primary_start', 'words']);
  });

  it('ends a test at a reading of another kind, and not at a note', () => {
    for (const other of ['Cut-in', 'Pressure held', 'Build-up time']) expect(how('unit', 'Applied P start', other, 'P end').slice(3)).toStrictEqual([['released_primary_end', 'assumed']]);
    expect(how('unit', 'Applied P start', 'Notes', 'P end').slice(3)).toStrictEqual([['applied_primary_end', 'the column to its left']]);
  });

  it('takes the test from a column that is no reading but names one', () => {
    expect(how('unit', 'Applied', 'P start', 'P end')).toStrictEqual([['unit', 'name'], 'extra', ['applied_primary_start', 'the column to its left'], ['applied_primary_end', 'the column to its left']]);
  });

  it.each([
    [['unit', 'Released P start', 'P start'], 2],
    [['unit', 'Applied P start', 'P start'], 2],
    [['unit', 'P start', 'P start'], 2],
    [['unit', 'P start', 'Released P start'], 1],
  ])('%j: gives no field that a column has already, and names no repetition where nothing says that there is one', (cells, position) => {
    const { columns, repeated } = header(...cells);
    expect(columns[position]).toStrictEqual({ role: 'extra', header: 'P start' });
    expect(repeated).toStrictEqual([]);
  });

  it.each([
    ['Lamp came on (lbs)', 'light_on_at'],
    ['Lamp came on [ psi ]', 'light_on_at'],
    ['Lamp(lbs)came on', 'light_on_at'],
    ['Lamp came on (pressure unit)', 'light_on_at'],
    ['Buzzer came on (min)', 'buzzer_on_at'],
    ['Buzzer came on (m:ss)', 'buzzer_on_at'],
    ['Pri. (released) start', 'released_primary_start'],
  ])('%s: words go without a unit in brackets, and with any other word there', (text, field) => {
    expect(how('unit', text)[1]).toStrictEqual([field, 'words']);
  });

  it('is what a person says, whatever stands to its left', () => {
    const { columns } = readHeader({ number: 1, cells: ['unit', 'Released P end', 'P start'] }, dictionary, new Map([['P start', 'buildup_from']]));
    expect(columns[2]).toMatchObject({ position: dictionary.position.get('buildup_from'), how: 'map' });
  });

  it('is never a reading where the program wrote the column or it has no header, whatever a person says', () => {
    const map: ColumnMap = new Map<string, string | null>([['', 'cut_in'], ['computed.verdict', 'cut_out'], ['as_found', 'notes']]);
    const named = readHeader({ number: 1, cells: ['', 'computed.verdict', 'as_found', 'unit', 'cut_in', 'cut_out', 'notes'] }, dictionary, map);
    expect(named.columns.map((column) => (column.role === 'field' ? dictionary.fields[column.position]!.name : column.role))).toStrictEqual(['extra', 'computed', 'as_found', 'unit', 'cut_in', 'cut_out', 'notes']);
    expect(named.repeated).toStrictEqual([]);
  });

  it('leaves a column alone that a person said is none, and takes one that a person named', () => {
    const map: ColumnMap = new Map<string, string | null>([['Weather', 'cut_in'], ['cut_in', null]]);
    const { columns, row } = readHeader({ number: 3, cells: ['unit', 'Weather', 'cut_in'] }, dictionary, map);
    expect(row).toBe(3);
    expect(columns.slice(1)).toStrictEqual([{ role: 'field', header: 'Weather', position: dictionary.position.get('cut_in'), unit: null, timeUnit: null, how: 'map' }, { role: 'extra', header: 'cut_in' }]);
  });

  it('shows what is not ours as the lower of two rows has it', () => {
    const upper = { number: 1, cells: ['unit', 'Other Weather', 'Other'] };
    expect(readHeader(upper, dictionary, new Map(), { number: 2, cells: ['unit', 'Weather', null] }).columns.slice(1)).toStrictEqual([{ role: 'extra', header: 'Weather' }, { role: 'extra', header: 'Other' }]);
  });
});

describe('the score of a header', () => {
  const score = (...cells: string[]): number => headerScore(header(...cells), dictionary);

  it('is nothing for a lone column that only may be the unit', () => {
    expect(score('unit')).toBe(2);
    expect(score('Truck')).toBe(0);
    expect(score('Weather')).toBe(0);
    expect(headerScore(readHeader({ number: 1, cells: ['Wagon'] }, dictionary, new Map([['Wagon', 'unit']])), dictionary)).toBe(2);
  });

  it('counts what was assumed for half', () => {
    expect(score('Truck no', 'P start', 'P end')).toBe(2);
    expect(score('Truck no', 'Released P start', 'Released P end')).toBe(3);
  });
});

describe('foldHeader', () => {
  it.each([
    ['Unit #', 'unit no'],
    ['Unit_No.', 'unit no'],
    ['  RELEASED -- time (s) ', 'released time s'],
    ['Bétriebs-Nr', 'bétriebs nr'],
    ['...', ''],
  ])('%j is %j', (text, folded) => {
    expect(foldHeader(text)).toBe(folded);
  });

  it('looks at the first 300 characters and no further', () => {
    expect(foldHeader('x'.repeat(1000))).toBe('x'.repeat(300));
  });
});
