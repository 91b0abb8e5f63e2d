import { describe, expect, it } from 'vitest';
import { keyingsAgree } from '../../src/readings/compare-inspections.js';
import { compareCsv, inShort } from './compare-keying.js';

// Kinds of keying slip and what must be said of each were worked out by hand.

const HEADER = 'inspection_id,inspected_on,unit,site,pressure_unit,released_primary_start,released_primary_end,released_time,audible_leak,notes';
const PAPER = [
  'I-1,2026-03-01,K-101,North Yard,psi,114,112,1:00,no,',
  'I-2,2026-03-01,K-102,North Yard,psi,120,117,1:00,no,hose chafed',
  'I-3,2026-03-02,K-103,South Yard,kPa,720,705,1:00,yes,',
  'I-4,2026-03-03,K-101,North Yard,psi,110,109,2:00,no,retest',
  'I-5,2026-03-03,K-104,South Yard,bar,7.2,7.1,1:00,no,',
];
const keyed = (rows: readonly string[], header = HEADER): string => [header, ...rows].join('\n');
/** The paper with one line keyed otherwise. */
const slipped = (line: number, from: string, to: string): string[] => PAPER.map((row, index) => (index === line ? row.replace(from, to) : row));

describe('two keyings of one stack', () => {
  it('that are alike have no difference', async () => {
    const compared = await compareCsv(keyed(PAPER), keyed(PAPER));
    expect(keyingsAgree(compared)).toBe(true);
    expect(compared).toMatchObject({ matched: 5, missing: [], extra: [], differences: [], compared_cells: 47, agreeing_cells: 47, agreement: 1 });
  });

  it('name transposed digits by cell, in either file', async () => {
    const compared = await compareCsv(keyed(PAPER), keyed(['', ...slipped(0, ',114,', ',141,')]));
    expect(compared.differences).toStrictEqual([
      { row_a: 2, row_b: 3, cell_a: 'F2', cell_b: 'F3', column: 'released_primary_start', text_a: '114', text_b: '141', kind: 'value', inspection_id: 'I-1', inspected_on: '2026-03-01', unit: 'K-101' },
    ]);
    expect(compared).toMatchObject({ compared_cells: 47, agreeing_cells: 46, agreement: 46 / 47 });
    expect(compared.columns[0]).toStrictEqual({ column: 'released_primary_start', compared_cells: 5, agreeing_cells: 4, differences: 1, agreement: 4 / 5 });
    expect(compared.columns.slice(1).every(({ differences, agreement }) => differences === 0 && agreement === 1)).toBe(true);
  });

  it('name a skipped row and a row too many, and no cell of them', async () => {
    const compared = await compareCsv(keyed(PAPER), keyed([...PAPER.filter((_, index) => index !== 2), 'I-9,2026-04-09,Z-9,East,psi,90,80,1:30,yes,other']));
    expect(compared.differences).toStrictEqual([]);
    expect(compared.missing).toStrictEqual([{ row: 4, inspection_id: 'I-3', inspected_on: '2026-03-02', unit: 'K-103' }]);
    expect(compared.extra).toStrictEqual([{ row: 6, inspection_id: 'I-9', inspected_on: '2026-04-09', unit: 'Z-9' }]);
    expect(keyingsAgree(compared)).toBe(false);
  });

  it('may have their rows in any order, and their columns', async () => {
    const turned = [...PAPER].reverse().map((row) => row.split(',').reverse().join(','));
    const compared = await compareCsv(keyed(PAPER), keyed(turned, HEADER.split(',').reverse().join(',')));
    expect(keyingsAgree(compared)).toBe(true);
    expect(compared.compared_cells).toBe(47);
  });

  it.each([
    ['a blank', slipped(3, 'North Yard', ''), ['site D5 "North Yard" D5 "" blank']],
    ['a mark that is not a reading', slipped(0, ',112,', ',1l2,'), ['released_primary_end G2 "112" G2 "1l2" not understood']],
    ['case and spaces', slipped(0, 'North Yard', 'north  yard'), ['site D2 "North Yard" D2 "north  yard" spelling']],
    ['spaces at the ends', slipped(0, 'North Yard', '  North Yard '), []],
    ['yes in other words', slipped(2, ',yes,', ',Y,'), []],
    ['yes for no', slipped(1, ',no,', ',yes,'), ['audible_leak I3 "no" I3 "yes" value']],
    ['a time in other words', slipped(3, ',2:00,', ',120 s,'), []],
    ['a time otherwise', slipped(3, ',2:00,', ',2:10,'), ['released_time H5 "2:00" H5 "2:10" value']],
    ['a date', slipped(2, '2026-03-02', '2026-03-20'), ['inspected_on B4 "2026-03-02" B4 "2026-03-20" value']],
    ['a wrong unit, found by its id', slipped(4, 'K-104', 'K-140'), ['unit C6 "K-104" C6 "K-140" value']],
  ])('say of %s what it is', async (_, second, expected) => {
    expect(inShort(await compareCsv(keyed(PAPER), keyed(second)))).toStrictEqual(expected);
  });
});

describe('pressures', () => {
  // 1 lb = 0.45359237 kg, g = 9.80665 m/s2, 1 in = 0.0254 m, all exact (NIST SP 811, appendix B.8); 1 bar = 100 kPa.
  const psiPerKpa = (1000 * 0.0254 ** 2) / (0.45359237 * 9.80665);
  const one = (unit: string, reading: string | number): string => `inspected_on,unit,pressure_unit,cut_out\n2026-03-01,K-101,${unit},${reading}`;

  it.each([
    ['kPa', 720, '', '7.2 bar'],
    ['', '720 kPa', '', 720 * psiPerKpa],
    ['', '7.2 bar', '', (720 * psiPerKpa).toFixed(4)],
  ])('%s %s is %s %s', async (unitA, a, unitB, b) => {
    const compared = await compareCsv(one(unitA, a), one(unitB, b));
    expect(inShort(compared).filter((line) => line.startsWith('cut_out'))).toStrictEqual([]);
  });

  it('of one text below two units say what they mean', async () => {
    const compared = await compareCsv(one('kPa', 720), one('psi', 720));
    expect(inShort(compared)).toStrictEqual(['pressure_unit C2 "kPa" C2 "psi" value', 'cut_out D2 "720 = 104.427171 psi" D2 "720 = 720 psi" value']);
    expect(720 * psiPerKpa).toBeCloseTo(104.427171, 5);
  });

  it('differ when the third decimal was cut', async () => {
    expect(inShort(await compareCsv(one('', '7.2 bar'), one('', '104.427')))).toStrictEqual(['cut_out D2 "7.2 bar" D2 "104.427" value']);
  });

  it('written as a range mean another thing than its middle', async () => {
    expect(inShort(await compareCsv(one('', '104-108'), one('', '106')))).toStrictEqual(['cut_out D2 "104-108" D2 "106" value']);
    expect(inShort(await compareCsv(one('', '104-108'), one('', '104–108 psi')))).toStrictEqual([]);
  });

  it('are compared with their half-width, whether it stands in the cell or beside it', async () => {
    const beside = (half: number): string => `inspected_on,unit,cut_out,cut_out_half_width\n2026-03-01,K-101,106,${half}`;
    expect(inShort(await compareCsv(one('', '104-108'), beside(2)))).toStrictEqual([]);
    expect(inShort(await compareCsv(beside(2), beside(3)))).toStrictEqual(['cut_out C2 "106 = 106 psi ± 2 psi" C2 "106 = 106 psi ± 3 psi" value']);
  });

  it('that say never are no number', async () => {
    const light = (reading: string): string => `inspected_on,unit,light_on_at\n2026-03-01,K-101,${reading}`;
    expect(inShort(await compareCsv(light('never'), light('60')))).toStrictEqual(['light_on_at C2 "never" C2 "60" value']);
    expect(inShort(await compareCsv(light('never'), light('Never')))).toStrictEqual([]);
  });
});

describe('blanks', () => {
  const row = (vehicles: string, time: string): string => `inspected_on,unit,vehicles,released_time\n2026-03-01,K-101,${vehicles},${time}`;

  it('mean the value that they stand for', async () => {
    expect(inShort(await compareCsv(row('', '1:00'), row('1', '1:00')))).toStrictEqual([]);
    expect(inShort(await compareCsv(row('', '1:00'), row('2', '1:00')))).toStrictEqual(['vehicles C2 "" C2 "2" blank']);
  });

  it('and marks for not measured mean the same', async () => {
    expect(inShort(await compareCsv(row('1', ''), row('1', 'n/a')))).toStrictEqual([]);
    expect(inShort(await compareCsv(row('1', 'n/a'), row('1', '1:00')))).toStrictEqual(['released_time D2 "n/a" D2 "1:00" blank']);
  });

  it('and what was not understood are blank against text', async () => {
    expect(inShort(await compareCsv(row('1', 'soon'), row('1', '')))).toStrictEqual(['released_time D2 "soon" D2 "" blank']);
    expect(inShort(await compareCsv(row('1', 'soon'), row('1', 'soon ')))).toStrictEqual([]);
    expect(inShort(await compareCsv(row('1', 'soon'), row('1', 'SOON')))).toStrictEqual(['released_time D2 "soon" D2 "SOON" spelling']);
    expect(inShort(await compareCsv(row('1', 'soon'), row('1', 'later')))).toStrictEqual(['released_time D2 "soon" D2 "later" not understood']);
  });

  it('of a column that one keying does not have are differences without a cell', async () => {
    const compared = await compareCsv(row('2', '1:00'), 'inspected_on,unit,released_time\n2026-03-01,K-101,1:00');
    expect(inShort(compared)).toStrictEqual(['vehicles C2 "2" - "" blank']);
  });
});

describe('columns of the user\'s own', () => {
  it('are matched by their header and compared as texts, plain numbers by value', async () => {
    const a = 'unit,inspected_on,Bay,weather report,Code\nK-1,2026-03-01,9.50,dry,007';
    const b = 'Weather Report,unit,inspected_on,code,BAY\nwet,K-1,2026-03-01,7,9.5';
    expect(inShort(await compareCsv(a, b))).toStrictEqual(['weather report D2 "dry" A2 "wet" value', 'Code E2 "007" D2 "7" value']);
  });

  it('of one header are taken in their order', async () => {
    const a = 'unit,inspected_on,tyre,tyre,tyre\nK-1,2026-03-01,a,b,c';
    expect(inShort(await compareCsv(a, a.replace('b,c', 'b,d')))).toStrictEqual(['tyre E2 "c" E2 "d" value']);
  });

  it('may be called anything', async () => {
    const names = ['__proto__', 'constructor', 'toString', 'hasOwnProperty', '', '★', '=1+1', 'field 3', 'extra 1 tyre'];
    const a = `unit,inspected_on,${names.join(',')}\nK-1,2026-03-01,${names.map((_, index) => `x${index}`).join(',')}`;
    expect(inShort(await compareCsv(a, a))).toStrictEqual([]);
    const compared = await compareCsv(a, a.replaceAll(/\bx(\d)/g, 'y$1'));
    expect(compared.differences.map(({ column, text_a, text_b }) => [column, text_a, text_b])).toStrictEqual(names.map((name, index) => [name || '(no header)', `x${index}`, `y${index}`]));
    expect(compared.columns.slice(0, 9).map(({ differences }) => differences)).toStrictEqual(new Array(9).fill(1));
  });

  it('that nothing stands in, and have no header, are not there', async () => {
    expect(inShort(await compareCsv('unit,,inspected_on,\nK-1,,2026-03-01,x', 'unit,inspected_on,\nK-1,2026-03-01,x'))).toStrictEqual([]);
  });

  it('long numbers are told apart digit by digit', async () => {
    const serial = (digits: string): string => `unit,inspected_on,serial\nK-1,2026-03-01,${digits}`;
    expect(inShort(await compareCsv(serial('90071992547409931'), serial('90071992547409932')))).toHaveLength(1);
  });
});
