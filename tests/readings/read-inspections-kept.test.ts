import { describe, expect, it } from 'vitest';
import { fieldDictionary } from '../../src/readings/dictionary.js';
import { readInspections, type InspectionReader } from '../../src/readings/read-inspections.js';
import type { RawCell, RawRow } from '../../src/util/raw-table.js';
import { readRows as read } from '../support/read-rows.js';

const dictionary = fieldDictionary();
const HEADER = ['unit', 'inspected_on', 'cut_in'];
const LONG = 'x'.repeat(32_767);

const told = ({ reader }: { readonly reader: InspectionReader }): unknown[] => reader.problems.map(({ code, row, column, cell, found }) => [code, row, column, cell, found]);

describe('a text longer than a cell of a workbook holds', () => {
  // 32,767 characters is what spreadsheet programs hold in a cell: common practice, no source; ECMA-376 gives no bound.
  it('is told of where it stands, in a reading, in a column of one\'s own and beyond the header, and one that just fits is not', async () => {
    const rows = (text: string): RawCell[][] => [['unit', 'inspected_on', 'notes', 'Bay'], ['K-1', '2026-03-14', text, text, text]];
    const codes = async (text: string): Promise<unknown[]> => (await read(rows(text))).reader.problems.map(({ code, row, column, cell }) => [code, row, column, cell]);
    expect(await codes(LONG)).toStrictEqual([['cells_beyond_header', 2, '', 'E2']]);
    expect(await codes(`${LONG}x`)).toStrictEqual([
      ['text_too_long', 2, 'notes', 'C2'],
      ['text_too_long', 2, 'Bay', 'D2'],
      ['text_too_long', 2, '', 'E2'],
      ['cells_beyond_header', 2, '', 'E2'],
    ]);
  });

  it('is told of in the header too', async () => {
    const { reader } = await read([['unit', 'inspected_on', `${LONG}x`, LONG], ['K-1', '2026-03-14']]);
    expect(reader.problems.map(({ code, row, cell }) => [code, row, cell])).toStrictEqual([['text_too_long', 1, 'C1']]);
  });
});

describe('a formula without a stored value', () => {
  it('is not understood where its row says something, and its cell is blank', async () => {
    const result = await read([HEADER, { cells: ['K-1', '2026-03-14', null], unstored: [2] }]);
    expect(told(result)).toStrictEqual([['not_understood', 2, 'cut_in', 'C2', 'a formula without a stored value']]);
    expect(result.inspections[0]!.notRead).toStrictEqual(['cut_in']);
  });

  it('is nothing new beside a value that was stored', async () => {
    expect(told(await read([HEADER, { cells: ['K-1', '2026-03-14', 100], unstored: [7] }]))).toStrictEqual([]);
  });

  it('is told of once where rows hold nothing else: the first, and how many', async () => {
    const one = { cells: [null, null, null], unstored: [2] };
    expect(told(await read([HEADER, ['K-1', '2026-03-14', 100], one]))).toStrictEqual([['not_understood', 3, 'cut_in', 'C3', 'a formula without a stored value and nothing else, in this row']]);
    const three = await read([HEADER, ['K-1', '2026-03-14', 100], one, { cells: [null], unstored: [1, 2] }, one]);
    expect(told(three)).toStrictEqual([['not_understood', 3, 'cut_in', 'C3', 'a formula without a stored value and nothing else, in 3 rows from here on']]);
    expect(three.reader.counts).toMatchObject({ rowsRead: 4, rowsBlank: 3, inspections: 1 });
  });

  it('is nothing to tell of in a column of one\'s own, or beyond the header', async () => {
    expect(told(await read([[...HEADER, 'Bay'], ['K-1', '2026-03-14', 100], { cells: [null], unstored: [3, 9] }]))).toStrictEqual([]);
  });
});

describe('a header', () => {
  it('that stands twice is used where it stands first, and told of where it stands again', async () => {
    const result = await read([[...HEADER, 'cut_in'], ['K-1', '2026-03-14', '100', '90']], { sheet: 'Log' });
    expect(told(result)).toStrictEqual([['header_twice', 1, 'cut_in', 'D1', 'cut_in']]);
    expect(result.reader.problems[0]!.sheet).toBe('Log');
    expect([result.inspections[0]!.values[dictionary.position.get('cut_in')!], result.inspections[0]!.extra]).toStrictEqual([100, ['90']]);
    expect(result.reader.extraHeaders).toStrictEqual(['cut_in']);
  });

  it('that was only taken for a field is asked about, and one that was recognised is not', async () => {
    const { reader } = await read([['unit', 'inspected_on', 'Bay', 'P start'], ['K-1', '2026-03-14', '7', '110']]);
    expect(reader.problems.map(({ code, row, column, cell, found }) => [code, row, column, cell, found])).toStrictEqual([['header_assumed', 1, 'released_primary_start', 'D1', 'P start']]);
  });

  it('that is missing is told of with the file, and with the sheet where there is one', async () => {
    await expect(read([['a', 'b']], { name: 'log.csv' })).rejects.toThrow(/^log\.csv(?!, sheet)/);
    await expect(read([['a', 'b']], { name: 'log.csv', sheet: 'Log' })).rejects.toThrow('log.csv, sheet Log');
  });
});

describe('a row that sums up others', () => {
  it('is set aside with what stands in it, and one that names a unit or a day is not', async () => {
    const result = await read([['Bay', ...HEADER], ['', null, null, null], [null, 'Total', '', 212], [null, 'Total', '2026-03-14', 100], ['Total', 'K-1', null, 100]]);
    expect(told(result)[0]).toStrictEqual(['row_set_aside', 3, '', 'B3', 'Total | 212']);
    expect(result.reader.counts).toStrictEqual({ rowsRead: 4, rowsBlank: 1, rowsSetAside: 1, inspections: 2 });
  });
});

describe('a cell of blanks', () => {
  // U+00A0, a blank that does not break, and U+3000, one as wide as an ideograph, are white space in Unicode.
  it.each(['', ' ', '\t', '\u00a0', '\u3000 '])('%j is blank', async (blank) => {
    const { reader, inspections } = await read([HEADER, ['K-1', '2026-03-14', blank], [blank, blank, blank]]);
    expect([reader.counts.rowsBlank, reader.problems, inspections[0]!.notRead]).toStrictEqual([1, [], []]);
  });

  it.each(['-x', '~~', '\u007f?', 'é'])('%j is not', async (text) => {
    const { reader } = await read([HEADER, ['K-1', '2026-03-14', text], [null, null, text]]);
    expect([reader.counts.rowsBlank, reader.problems[0]?.cell]).toStrictEqual([0, 'C2']);
  });
});

describe('labels of a form that found no place', () => {
  it('are told of before all else, each with its cell', async () => {
    const result = await read([HEADER, ['K-1', '2026-03-14', 'low']], { unplaced: [{ sheet: 'Form', row: 12, column: 27, header: 'Horn', found: 'ok', expected: 'a reading' }] });
    expect(told(result)).toStrictEqual([['not_placed', 12, 'Horn', 'AB12', 'ok'], ['not_understood', 2, 'cut_in', 'C2', 'low']]);
    expect(result.reader.problems[0]).toMatchObject({ sheet: 'Form', expected: 'a reading' });
  });
});

describe('a table that was put together from other cells', () => {
  const origins = [{ row: 40, column: 1, sheet: 'Monday' }, { row: 41, column: 1 }, { row: 42, column: 3, sheet: 'Monday' }];

  it('has its problems told of where the cells stood', async () => {
    const result = await read([HEADER, { cells: ['K-1', '2026-03-14', 'low'], origins }], { sheet: 'Log' });
    expect(told(result)).toStrictEqual([['not_understood', 42, 'cut_in', 'D42', 'low']]);
    expect(result.reader.problems[0]!.sheet).toBe('Monday');
    expect(result.reader.isReshaped).toBe(true);
    expect((await read([HEADER, ['K-1', '2026-03-14']])).reader.isReshaped).toBe(false);
  });

  it('has a cell that stood in the sheet of the table told of there, and one that stood nowhere by its row alone', async () => {
    const ofDate = await read([HEADER, { cells: ['K-1', 'soon', 100], origins }], { sheet: 'Log' });
    expect([told(ofDate), ofDate.reader.problems[0]!.sheet]).toStrictEqual([[['not_understood', 41, 'inspected_on', 'B41', 'soon']], 'Log']);
    const nowhere = await read([HEADER, { cells: ['K-1', '2026-03-14', 'low'], origins: [origins[0]!, origins[1]!, null] }]);
    expect(told(nowhere)).toStrictEqual([['not_understood', 2, 'cut_in', '', 'low']]);
  });
});

describe('a text as found that an evaluated table keeps', () => {
  const sheet = (kept: string, notes: RawCell = null): RawCell[][] => [['unit', 'inspected_on', 'cut_in', 'as_found', 'computed.verdict'], ['K-1', '2026-03-14', 110, kept, 'pass', notes]];

  it('is told of where the cell was changed since, with the cell that counts', async () => {
    const result = await read(sheet('cut_in "98-102"'));
    expect(told(result)).toStrictEqual([['as_found_outdated', 2, 'cut_in', 'C2', '98-102']]);
  });

  it('is told of without a cell where its column is gone', async () => {
    expect(told(await read(sheet('released_time "60 sec"')))).toStrictEqual([['as_found_outdated', 2, 'released_time', '', '60 sec']]);
  });

  it('is kept where it is another spelling of the same name, and passed over where no field is of its name', async () => {
    const result = await read(sheet('unit "k-1 "; none_such "x"'));
    expect(told(result)).toStrictEqual([]);
    expect(Object.fromEntries(result.inspections[0]!.asFound)).toStrictEqual({ unit: 'k-1 ' });
    expect(told(await read(sheet('unit "K-2"')))).toStrictEqual([['as_found_outdated', 2, 'unit', 'A2', 'K-2']]);
  });
});

describe('the spellings of a unit', () => {
  it('become the first one where they are folded, and what was written is kept', async () => {
    const { inspections } = await read([HEADER, ['K-1', '2026-03-14', 100], ['k 1', '2026-03-15', 100], ['', '2026-03-16', 100], ['K-1', '2026-03-17', 100]], { units: 'folded' });
    const unitAt = dictionary.position.get('unit')!;
    expect(inspections.map(({ values, asFound }) => [values[unitAt], asFound.get('unit') ?? null])).toStrictEqual([['K-1', null], ['K-1', 'k 1'], [null, null], ['K-1', null]]);
  });
});

describe('what is not ours in a workbook that counts from 1904', () => {
  // A day has a serial that is 1462 higher where days count from 1900 (ECMA-376 Part 1, 18.17.4).
  it('keeps its dates as dates of 1900, in a column of one\'s own and beyond the header, and its times and numbers as they are', async () => {
    const cells: RawCell[] = ['K-1', '2026-03-14', 100, { value: 44633, format: 'yyyy-mm-dd' }, { value: 0.5, format: 'h:mm' }, 7, null, { value: 1, format: 'd/m/yyyy' }];
    const extra = async (date1904: boolean): Promise<unknown> => (await read([[...HEADER, 'Due', 'At', 'Bay', 'Next'], cells], { date1904 })).inspections[0]!.extra;
    expect(await extra(true)).toStrictEqual([{ value: 46095, format: 'yyyy-mm-dd' }, { value: 0.5, format: 'h:mm' }, 7, null, { value: 1463, format: 'd/m/yyyy' }]);
    expect(await extra(false)).toStrictEqual(cells.slice(3));
  });
});

describe('the room of an inspection', () => {
  it('ends with the standard columns, or with the last optional one that is filled', async () => {
    const lengths = async (cell: string): Promise<number> => (await read([HEADER, ['K-1', '2026-03-14', cell]])).inspections[0]!.values.length;
    expect(await lengths('100')).toBe(dictionary.standardCount);
    expect(await lengths('98-102')).toBe(dictionary.position.get('cut_in_half_width')! + 1);
  });
});

describe('rows that wait for the proof of their dates', () => {
  it('wait only where a date may be of either order, and those after them wait too', async () => {
    const source = (dates: readonly string[]): RawRow[] => [{ number: 1, cells: HEADER }, ...dates.map((date, index) => ({ number: index + 2, cells: [`K-${index}`, date] }))];
    const takenBeforeFirst = async (...dates: string[]): Promise<number> => {
      let taken = 0;
      const rows = (async function* () {
        for (const row of [...source(dates), ...Array.from({ length: 200 }, (_, index) => ({ number: 100 + index, cells: [`L-${index}`, '2026-03-14'] }))]) {
          taken += 1;
          yield row;
        }
      })();
      const reader = await readInspections({ sheet: '', date1904: false, rows }, { dictionary, name: 'test.csv' });
      for await (const inspection of reader.inspections) if (inspection.row === 2) return taken;
      return taken;
    };
    const all = 203;
    expect(await takenBeforeFirst('2026-03-14', '2026-03-15')).toBeLessThan(all);
    expect(await takenBeforeFirst('on 3/4/26', '2026-03-15')).toBe(all);
    expect(await takenBeforeFirst('2026-03-14', '3 / 4 / 2026')).toBeLessThan(all);
    for (const date of ['3 / 4 / 2026', '12/10/26', '3. 4. 2026']) expect([date, await takenBeforeFirst(date, '2026-03-15')]).toStrictEqual([date, all]);
    expect(await takenBeforeFirst('3/4/6', '2026-03-15')).toBeLessThan(all);
  });
});
