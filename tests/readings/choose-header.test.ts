import { describe, expect, test } from 'vitest';
import { readRows } from '../support/read-rows.js';

describe('finding the table', () => {
  test('below titles and blank rows, with blank columns between', async () => {
    const { fields, inspections, reader } = await readRows([['Brake log, invented', null, null], [], ['Unit', null, 'Date', 'Cut-in'], [], ['T1', null, '2026-03-14', '101'], ['T2', null, '2026-03-15', '99']]);
    expect(fields).toStrictEqual(['unit', null, 'inspected_on', 'cut_in']);
    expect(inspections.map(({ row }) => row)).toStrictEqual([5, 6]);
    expect(reader.counts).toStrictEqual({ rowsRead: 3, rowsBlank: 1, rowsSetAside: 0, inspections: 2 });
    expect(reader.problems).toStrictEqual([]);
  });

  test('under a header in two rows, the upper one merged over several columns', async () => {
    const { fields, reader, inspections } = await readRows([
      [null, null, 'Released', null, null, 'Applied', null, null, 'Other'],
      ['Truck no.', 'Date', 'P start', 'P end', 'min', 'P start', 'P end', 'min', 'Weather'],
      ['T1', '2026-03-14', '110', '109', '1', '108', '106', '1', 'rain'],
    ]);
    expect(fields).toStrictEqual(['unit', 'inspected_on', 'released_primary_start', 'released_primary_end', 'released_time', 'applied_primary_start', 'applied_primary_end', 'applied_time', null]);
    expect(reader.extraHeaders).toStrictEqual(['Weather']);
    expect(inspections[0]!.extra).toStrictEqual(['rain']);
  });

  test('a title row above a plain header changes nothing', async () => {
    const { fields } = await readRows([['Released and applied tests, spring'], ['unit', 'inspected_on', 'cut_in'], ['T1', '2026-03-14', '101']]);
    expect(fields).toStrictEqual(['unit', 'inspected_on', 'cut_in']);
  });

  test('rows of totals are set aside and named, and a unit called Total7 is not one', async () => {
    const { reader, inspections } = await readRows([['unit', 'inspected_on', 'cut_in'], ['T1', '2026-03-14', '101'], ['Total7', '2026-03-14', '99'], ['Total', null, '200'], [null, 'Average', '100']]);
    expect(inspections.map(({ row }) => row)).toStrictEqual([2, 3]);
    expect(reader.counts).toStrictEqual({ rowsRead: 4, rowsBlank: 0, rowsSetAside: 2, inspections: 2 });
    expect(reader.problems.map(({ code, row, found }) => [code, row, found])).toStrictEqual([
      ['row_set_aside', 4, 'Total | 200'],
      ['row_set_aside', 5, 'Average | 100'],
    ]);
  });

  test('no header: says what the first row reads and the mend', async () => {
    await expect(readRows([['a', 'b'], ['1', '2']])).rejects.toMatchObject({ code: 'header_missing', where: 'rows' });
    await expect(readRows([['Uint', 'Date'], ['T1', '2026-03-14']])).rejects.toMatchObject({ code: 'header_missing', mend: 'rename the column Uint to unit' });
    await expect(readRows([])).rejects.toMatchObject({ code: 'input_empty' });
  });
});
