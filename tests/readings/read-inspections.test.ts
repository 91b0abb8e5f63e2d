import { describe, expect, it } from 'vitest';
import { fieldDictionary } from '../../src/readings/dictionary.js';
import { readInspections, type InspectionReader, type ReadOptions } from '../../src/readings/read-inspections.js';
import type { Inspection } from '../../src/readings/inspection.js';
import type { RawCell, RawRow } from '../../src/util/raw-table.js';

const dictionary = fieldDictionary();

interface Read {
  readonly reader: InspectionReader;
  readonly inspections: readonly Inspection[];
  readonly values: readonly Record<string, unknown>[];
}

async function read(rows: readonly (readonly RawCell[])[], options: Partial<ReadOptions> & { readonly date1904?: boolean; readonly sheet?: string } = {}): Promise<Read> {
  const { date1904 = false, sheet = '', ...more } = options;
  const source = (async function* (): AsyncGenerator<RawRow> {
    for (const [index, cells] of rows.entries()) yield { number: index + 1, cells };
  })();
  const reader = await readInspections({ sheet, date1904, rows: source }, { dictionary, name: 'test.csv', ...more });
  const inspections: Inspection[] = [];
  for await (const inspection of reader.inspections) inspections.push(inspection);
  const values = inspections.map((inspection) => Object.fromEntries(dictionary.fields.flatMap(({ name }, position) => ((inspection.values[position] ?? null) === null ? [] : [[name, inspection.values[position]]]))));
  return { reader, inspections, values };
}

const problemsOf = ({ reader }: Read): unknown[] => reader.problems.map(({ code, row, column, cell, found }) => [code, row, column, cell, found]);

describe('reading inspections', () => {
  it('gives one inspection for each row that is not blank, with its row, and counts that add up', async () => {
    const result = await read([['unit', 'inspected_on'], ['K-1', '2026-03-14'], ['', ' '], [], ['K-2', '2026-03-15']]);
    expect(result.inspections.map(({ row }) => row)).toStrictEqual([2, 5]);
    expect(result.reader.counts).toMatchObject({ rowsRead: 4, rowsBlank: 2, inspections: 2 });
    expect(result.reader.problems).toStrictEqual([]);
  });

  it('takes a pressure in the unit of its row, of its header or of its cell, and keeps it in that of its row', async () => {
    const { values } = await read([
      ['unit', 'inspected_on', 'pressure_unit', 'cut_in', 'Cut out (kPa)'],
      ['K-1', '2026-03-14', 'bar', '7', '870'],
      ['K-2', '2026-03-14', '', '700 kPa', '8.7 bar'],
    ]);
    // 700 kPa is 101.5264 psi and 870 kPa 126.1828 psi (NIST SP 811, appendix B.8: 6.894757 kPa to the psi).
    expect(values.map((row) => [row['cut_in'], row['cut_out']])).toStrictEqual([[7, expect.closeTo(8.7, 9)], [expect.closeTo(101.5264, 3), expect.closeTo(126.1828, 3)]]);
  });

  it('keeps a range as its middle and half its width, and the text as found beside both', async () => {
    const { values, inspections } = await read([['unit', 'inspected_on', 'cut_in'], ['K-1', '2026-03-14', '98-102']]);
    expect(values[0]).toStrictEqual({ unit: 'K-1', inspected_on: '2026-03-14', cut_in: 100, cut_in_half_width: 2 });
    expect([...inspections[0]!.asFound]).toStrictEqual([['cut_in', '98-102']]);
  });

  it('keeps what it cannot read, names it with its cell, and goes on', async () => {
    const result = await read([['unit', 'inspected_on', 'cut_in', 'released_time', 'audible_leak', 'vehicle_kind'], ['K-1', '2026-02-30', 'low', 'soon', 'perhaps', 'lorry']], { sheet: 'Log' });
    expect(result.values[0]).toStrictEqual({ unit: 'K-1' });
    expect(result.inspections[0]!.notRead).toStrictEqual(['inspected_on', 'cut_in', 'released_time', 'audible_leak', 'vehicle_kind']);
    expect(Object.fromEntries(result.inspections[0]!.asFound)).toStrictEqual({ inspected_on: '2026-02-30', cut_in: 'low', released_time: 'soon', audible_leak: 'perhaps', vehicle_kind: 'lorry' });
    expect(problemsOf(result)).toStrictEqual([
      ['not_understood', 2, 'inspected_on', 'B2', '2026-02-30'],
      ['not_understood', 2, 'cut_in', 'C2', 'low'],
      ['not_understood', 2, 'released_time', 'D2', 'soon'],
      ['not_understood', 2, 'audible_leak', 'E2', 'perhaps'],
      ['not_understood', 2, 'vehicle_kind', 'F2', 'lorry'],
    ]);
    for (const { sheet, expected } of result.reader.problems) expect([sheet, expected]).toStrictEqual(['Log', expect.stringMatching(/\S/)]);
  });

  it('keeps an implausible pressure and names it, but uses no implausible time', async () => {
    const result = await read([['unit', 'inspected_on', 'cut_in', 'released_time'], ['K-1', '2026-03-14', '720', '45 min']]);
    expect(result.values[0]).toMatchObject({ cut_in: 720 });
    expect(result.values[0]).not.toHaveProperty('released_time');
    expect(problemsOf(result)).toStrictEqual([['implausible', 2, 'cut_in', 'C2', '720'], ['implausible', 2, 'released_time', 'D2', '45 min']]);
  });

  it('names a row without a unit or a date, and keeps it', async () => {
    const result = await read([['unit', 'inspected_on', 'cut_in'], ['', '', '100']]);
    expect(result.values[0]).toStrictEqual({ cut_in: 100 });
    expect(problemsOf(result)).toStrictEqual([['required_blank', 2, 'inspected_on', 'B2', ''], ['required_blank', 2, 'unit', 'A2', '']]);
  });

  it('keeps columns that are not ours in their order, and cells beyond the header', async () => {
    const result = await read([['Bay', 'unit', 'Weather', 'inspected_on'], ['7', 'K-1', 'rain', '2026-03-14', '', 'late'], ['', 'K-2', '', '2026-03-14']]);
    expect(result.reader.extraHeaders).toStrictEqual(['Bay', 'Weather']);
    expect(result.inspections.map(({ extra }) => extra.slice(0, 2))).toStrictEqual([['7', 'rain'], ['', '']]);
    expect(result.inspections[0]!.extra.at(-1)).toBe('late');
    expect(problemsOf(result)).toStrictEqual([['cells_beyond_header', 2, '', 'F2', 'late']]);
  });

  it('takes a spreadsheet\'s 4:10 in a time column for minutes and seconds, and its dates by their system', async () => {
    const rows = (serial: number): RawCell[][] => [['unit', 'inspected_on', 'buildup_time'], ['K-1', { value: serial, format: 'yyyy-mm-dd' }, { value: 250 / 1440, format: 'h:mm' }]];
    // 2026-03-14 is serial 46095, and 44633 where days count from 1904 (ECMA-376 Part 1, 18.17.4).
    expect((await read(rows(46095))).values[0]).toStrictEqual({ unit: 'K-1', inspected_on: '2026-03-14', buildup_time: 250 });
    expect((await read(rows(44633), { date1904: true })).values[0]).toStrictEqual({ unit: 'K-1', inspected_on: '2026-03-14', buildup_time: 250 });
  });

  it('is not confused by headers and cells that are words of JavaScript', async () => {
    const { values, inspections } = await read([['unit', 'inspected_on', '__proto__', 'constructor'], ['__proto__', '2026-03-14', 'hasOwnProperty', 'toString']]);
    expect(values[0]).toStrictEqual({ unit: '__proto__', inspected_on: '2026-03-14' });
    expect(inspections[0]!.extra).toStrictEqual(['hasOwnProperty', 'toString']);
  });
});

describe('the order of day and month', () => {
  const dates = (...texts: string[]): RawCell[][] => [['unit', 'inspected_on'], ...texts.map((text, index) => [`K-${index}`, text])];

  it('is proved by the column, wherever the proof stands', async () => {
    const { values } = await read(dates('3/4/2026', '5/4/2026', '14/3/2026'));
    expect(values.map((row) => row['inspected_on'])).toStrictEqual(['2026-04-03', '2026-04-05', '2026-03-14']);
    expect((await read(dates('3/4/2026', '3/14/2026'))).values.map((row) => row['inspected_on'])).toStrictEqual(['2026-03-04', '2026-03-14']);
  });

  it('is asked for where nothing proves it or two dates contradict each other, and can be given', async () => {
    const unproved = await read(dates('3/4/2026', '2026-05-06'));
    expect(unproved.values.map((row) => row['inspected_on'] ?? null)).toStrictEqual([null, '2026-05-06']);
    expect(unproved.reader.problems.map(({ code, expected }) => [code, expected])).toStrictEqual([['date_order_unknown', expect.stringContaining('--date-order')]]);
    const torn = await read(dates('14/3/2026', '3/14/2026', '3/4/2026'));
    expect(torn.values[2]!['inspected_on'] ?? null).toBeNull();
    expect((await read(dates('3/4/2026'), { dateOrder: 'dmy' })).values[0]!['inspected_on']).toBe('2026-04-03');
    expect((await read(dates('3/4/2026'), { dateOrder: 'mdy' })).values[0]!['inspected_on']).toBe('2026-03-04');
  });

  it('keeps the rows in their order, although some had to wait for the proof', async () => {
    const { inspections } = await read(dates('2026-01-01', '3/4/2026', '2026-01-03', '14/3/2026'));
    expect(inspections.map(({ row }) => row)).toStrictEqual([2, 3, 4, 5]);
  });
});

describe('texts as found that an evaluated table keeps', () => {
  const sheet = (cells: RawCell[], kept: string): RawCell[][] => [['unit', 'inspected_on', 'cut_in', 'released_time', 'as_found', 'computed.verdict'], ['K-1', '2026-03-14', ...cells, kept, 'pass']];

  it('come back where they still say what the cell says', async () => {
    const { inspections } = await read(sheet([100, '1:00'], 'cut_in "98-102"; released_time "60 sec"'));
    expect(Object.fromEntries(inspections[0]!.asFound)).toStrictEqual({ cut_in: '98-102', released_time: '60 sec' });
  });

  it('come back for a cell that is blank because nothing was measured', async () => {
    expect(Object.fromEntries((await read(sheet([null, '1:00'], 'cut_in "n/a"'))).inspections[0]!.asFound)).toStrictEqual({ cut_in: 'n/a' });
  });

  it('are dropped where the cell was changed since, or cleared', async () => {
    const changed = await read(sheet([110, null], 'cut_in "98-102"; released_time "60 sec"'));
    expect(changed.values[0]).toStrictEqual({ unit: 'K-1', inspected_on: '2026-03-14', cut_in: 110 });
    expect(Object.fromEntries(changed.inspections[0]!.asFound)).toStrictEqual({});
  });

  it('are a column like any other in a table that was not evaluated', async () => {
    const { reader, inspections } = await read([['unit', 'inspected_on', 'cut_in', 'as_found'], ['K-1', '2026-03-14', '100', 'cut_in "98-102"']]);
    expect(reader.extraHeaders).toStrictEqual(['as_found']);
    expect([...inspections[0]!.asFound]).toStrictEqual([]);
  });
});
