import { describe, expect, test } from 'vitest';
import { fieldOfMeanings, headerMeaning } from '../../src/readings/header-words.js';
import { readRows } from '../support/read-rows.js';

const HEAD = ['Unit #', 'Date'];
const fieldsOf = async (...headers: string[]): Promise<(string | null)[]> => (await readRows([[...HEAD, ...headers], ['T1', '2026-03-14']])).fields.slice(2);

describe('headers in other words', () => {
  test.each([
    ['Released, pri. start psi', 'released_primary_start'],
    ['Primary reservoir, begin (kPa), brakes released', 'released_primary_start'],
    ['REL SEC END', 'released_secondary_end'],
    ['Secondary tank after (applied)', 'applied_secondary_end'],
    ['Applied secondary finish', 'applied_secondary_end'],
    ['Settling time (s)', 'applied_settle_time'],
    ['Low air warning light', 'light_on_at'],
    ['Lamp came on at', 'light_on_at'],
    ['Warning buzzer', 'buzzer_on_at'],
    ['Build-up from', 'buildup_from'],
    ['Pump up time', 'buildup_time'],
    ['Governor cut-in', 'cut_in'],
    ['Cut out pressure', 'cut_out'],
    ['Park valve pops at', 'parking_valve_closes_at'],
    ['Reserve before', 'reserve_before'],
    ['Where leaking', 'leak_place'],
    ['Relased primary start', 'released_primary_start'], // one letter missing
    ['Weather', null],
    ['Tyre pressure', null],
    ['__proto__', null],
    ['constructor', null],
  ])('%s', async (header, field) => {
    expect(await fieldsOf(header)).toStrictEqual([field]);
  });

  test.each(['Truck no.', 'Unit No', 'BUS #', 'Vehicle number', 'unit'])('%s is the unit', async (header) => {
    const { fields } = await readRows([[header, 'Date insp.', 'Cut-in'], ['T1', '2026-03-14', '100']]);
    expect(fields).toStrictEqual(['unit', 'inspected_on', 'cut_in']);
  });

  test('the unit of pressure in a header holds for its column, and what is kept says so', async () => {
    const { column, inspections } = await readRows([[...HEAD, 'Cut-in (kPa)', 'Cut-out psi'], ['T1', '2026-03-14', '690', '125']]);
    // 1 kPa = 0.145 037 737 730 209 psi, NIST SP 811 Appendix B.
    expect(column('cut_in')[0]).toBeCloseTo(690 * 0.14503773773020922, 9);
    expect(column('cut_out')).toStrictEqual([125]);
    expect(inspections[0]!.asFound.get('cut_in')).toBe('690 kPa');
  });

  test('a bare number below a header that says minutes is minutes', async () => {
    const { column } = await readRows([[...HEAD, 'Released time (min)', 'Applied time (s)', 'Build-up minutes'], ['T1', '2026-03-14', '1', '60', 4.2]]);
    expect([column('released_time'), column('applied_time'), column('buildup_time')]).toStrictEqual([[60], [60], [252]]);
  });

  test('headers that name no test belong to the test on their left', async () => {
    const fields = await fieldsOf('Released P start', 'P end', 'S start', 'S end', 'min', 'Applied P start', 'P end', 'S start', 'S end', 'min');
    expect(fields).toStrictEqual(
      ['released', 'applied'].flatMap((testName) => [...['primary_start', 'primary_end', 'secondary_start', 'secondary_end'].map((point) => `${testName}_${point}`), `${testName}_time`]),
    );
  });

  test('without any test named the released test is assumed, and asked about', async () => {
    const { fields, reader } = await readRows([[...HEAD, 'P start', 'P end'], ['T1', '2026-03-14', '110', '108']]);
    expect(fields.slice(2)).toStrictEqual(['released_primary_start', 'released_primary_end']);
    expect(reader.problems.map(({ code, column }) => [code, column])).toStrictEqual([
      ['header_assumed', 'released_primary_start'],
      ['header_assumed', 'released_primary_end'],
    ]);
  });

  test('a time of day is not taken for the time of a test', async () => {
    expect(await fieldsOf('Time', 'Cut-in')).toStrictEqual([null, 'cut_in']);
  });

  test('two columns never become one field: the surer one has it, the other is kept and named', async () => {
    const { fields, reader, inspections } = await readRows([[...HEAD, 'Cut in pressure', 'cut_in'], ['T1', '2026-03-14', '98', '101']]);
    expect(fields.slice(2)).toStrictEqual([null, 'cut_in']);
    expect(reader.problems.map(({ code, cell }) => [code, cell])).toStrictEqual([['header_twice', 'C1']]);
    expect(inspections[0]!.extra).toStrictEqual(['98']);
  });

  test('a map by hand goes before everything', async () => {
    const map = new Map<string, string | null>([
      ['Cut-in', null],
      ['Weather', 'notes'],
    ]);
    const { fields } = await readRows([[...HEAD, 'Cut-in', 'Weather'], ['T1', '2026-03-14', '98', 'rain']], { map });
    expect(fields.slice(2)).toStrictEqual([null, 'notes']);
  });
});

describe('the meanings of words', () => {
  const meanings = (text: string): string[] => [...headerMeaning(text).meanings];

  test.each([
    ['pri start psi', ['primary', 'start']],
    ['governor cut in', ['governor', 'cutin']],
    ['cut in', ['cutin']],
    ['pump up time', ['buildup', 'time']],
    ['s start', ['secondary', 'start']],
    ['sec end', ['secondary', 'end']],
    // Beside a time, s and sec are seconds.
    ['released time s', ['released', 'time']],
    ['sec released minutes', ['released', 'time']],
    ['weather', ['weather']],
    ['the pressure of', []],
    ['', []],
  ])('%j', (text, expected) => {
    expect(headerMeaning(text)).toStrictEqual({ meanings: new Set(expected), misspelt: false });
  });

  test.each([
    ['primry', 'primary'],
    ['primaary', 'primary'],
    ['prinary', 'primary'],
    ['primray', 'primary'],
    ['rimary', 'primary'],
    ['rpimary', 'primary'],
    ['primaryx', 'primary'],
    ['aplied', 'applied'],
    ['appplied', 'applied'],
    ['begim', 'begin'],
    ['lihgt', 'light'],
    ['setle', 'settle'],
  ])('%s is %s but for one slip', (text, meaning) => {
    expect(headerMeaning(text).misspelt).toBe(true);
    expect(meanings(text)).toStrictEqual(meanings(meaning));
  });

  test.each(['prmry', 'pranery', 'prixxry', 'sart', 'lmap', 'lampe', 'dates', 'ligtnn', 'yramirp', 'thgli', 'primaryxx', 'prixxary', 'prixmry', 'priaxry', 'priamxry', 'relaeed'])('%s is a word of its own', (text) => {
    expect(headerMeaning(text)).toStrictEqual({ meanings: new Set([text]), misspelt: false });
  });

  test('name a field in any order, and none where one is too many', () => {
    expect(fieldOfMeanings(['start', 'released', 'primary'])).toBe('released_primary_start');
    expect(fieldOfMeanings(new Set(['primary', 'released', 'start', 'start']))).toBe('released_primary_start');
    expect(fieldOfMeanings(['start', 'released', 'primary', 'weather'])).toBeNull();
    expect(fieldOfMeanings([])).toBeNull();
  });
});
