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

  test('a table with readings below its header goes before a later one with better names', async () => {
    const later = [['unit', 'inspected_on', 'cut_in', 'cut_out', 'site'], ['T2', '2026-03-15', '101', '121', 'North']];
    const { fields, inspections } = await readRows([['Truck no.', 'Date', 'Cut-in', 'Cut-out'], ['T1', '2026-03-14', '100', '120'], [], ...later]);
    expect(fields).toStrictEqual(['unit', 'inspected_on', 'cut_in', 'cut_out']);
    expect(inspections[0]!.row).toBe(2);
    // One reading is enough, of pressure or of time, and three columns are; a row of units may stand between.
    for (const above of [
      [['Truck no.', 'Date', 'Cut-in', 'Cut-out'], ['T1', '2026-03-14', '100', '']],
      [['Truck no.', 'Date', 'Cut-in'], ['T1', '2026-03-14', '100']],
      [['Truck no.', 'Date', 'Released time'], ['T1', '2026-03-14', '60 s']],
      [['Truck no.', 'Date', 'Cut-in', 'Cut-out'], ['', '', 'psi', 'psi'], ['T1', '2026-03-14', '100', '120']],
    ]) {
      const found = await readRows([...above, [], ...later]);
      expect(found.fields.slice(0, 2)).toStrictEqual(['unit', 'inspected_on']);
      expect(found.fields).not.toContain('site');
      expect(found.inspections[0]!.row).toBe(above.length);
    }
    // Without a reading below it, with too few columns or without a unit it is a title.
    for (const above of [
      [['Truck no.', 'Date', 'Cut-in', 'Cut-out']],
      [['Truck no.', 'Date', 'Cut-in', 'Cut-out'], ['T1', '2026-03-14', 'see below', '']],
      [['Truck no.', 'Date', 'Cut-in', 'Cut-out'], [null, '2026-03-14', '100', '120']],
      [['Truck no.', 'Cut-in'], ['T1', '100']],
      [['Date', 'Cut-in', 'Cut-out'], ['2026-03-14', '100', '120']],
      [['Date', 'Truck no.', 'Cut-in', 'Cut-out'], ['2026-03-14', null, '100', '120']],
      [['Brake log', null, 'page 12'], ['Truck no.', 'Date', 'Cut-in', 'Cut-out']],
    ]) {
      const found = await readRows([...above, ...later]);
      expect(found.fields).toStrictEqual(['unit', 'inspected_on', 'cut_in', 'cut_out', 'site']);
      expect(found.inspections.map(({ row }) => row)).toStrictEqual([above.length + 2]);
    }
  });

  test('of several tables with readings the first is taken', async () => {
    const { fields, inspections } = await readRows([
      ['Truck no.', 'Date', 'Cut-in'], ['T1', '2026-03-14', '100'], [],
      ['Truck no.', 'Date', 'Cut-in', 'Cut-out'], ['T2', '2026-03-14', '100', '120'], [],
      ['unit', 'inspected_on', 'cut_in', 'cut_out', 'site'], ['T3', '2026-03-15', '101', '121', 'North'],
    ]);
    expect(fields).toStrictEqual(['unit', 'inspected_on', 'cut_in']);
    expect(inspections[0]!.row).toBe(2);
  });

  test('a header with nothing below it heads a table without rows', async () => {
    const { fields, inspections } = await readRows([['unit', 'inspected_on', 'cut_in']]);
    expect(fields).toStrictEqual(['unit', 'inspected_on', 'cut_in']);
    expect(inspections).toStrictEqual([]);
  });

  // Below P start and P end the word applied makes a better header of the two rows, unless a number in the lower one shows that it is data.
  test.each([
    ['gauge', true], [null, true], ['5 min', true], ['a5', true], ['5a', true], ['', true],
    [5, false], ['5', false], ['55', false], [' 5.25 ', false], ['1:00', false], ['1,5', false], [true, false],
  ])('a row with %j is a second row of the header: %j', async (cell, joined) => {
    const { fields } = await readRows([['Truck no.', 'Date', 'P start', 'P end', 'Weather'], [null, null, 'applied', 'applied', cell], ['T1', '2026-03-14', '110', '108', 'rain']]);
    expect(fields).toStrictEqual(['unit', 'inspected_on', ...['start', 'end'].map((point) => `${joined ? 'applied' : 'released'}_primary_${point}`), null]);
  });

  test('a row of units that would take a name away from its column is not joined to it', async () => {
    const { fields } = await readRows([['Truck no.', 'Date', 'Cut-in', 'Lamp came on'], ['', '', 'psi', 'y/n'], ['T1', '2026-03-14', '100', '70']]);
    expect(fields).toStrictEqual(['unit', 'inspected_on', 'cut_in', 'light_on_at']);
  });

  test('a row of units below the header belongs to it', async () => {
    const { fields, inspections, column } = await readRows([['unit', 'inspected_on', 'cut_in', 'released_time'], ['', 'yyyy-mm-dd', 'bar', 'min'], ['T1', '2026-03-14', '7', '1']]);
    expect(fields).toStrictEqual(['unit', 'inspected_on', 'cut_in', 'released_time']);
    expect(inspections.map(({ row }) => row)).toStrictEqual([3]);
    expect(column('released_time')).toStrictEqual([60]);
    // 1 bar = 14.503 773 773 psi, NIST SP 811 Appendix B.
    expect(column('cut_in')[0]).toBeCloseTo(7 * 14.503773773, 6);
  });

  test('no header: shows the first row that holds anything, cut where it is long', async () => {
    await expect(readRows([[null, ' '], ['Weather', null, 'Sky'], ['1', '2']])).rejects.toMatchObject({ what: expect.stringContaining('(the first row reads: Weather, Sky)') as string, mend: 'put the column names above the rows, at least unit and inspected_on; `treadlebook fields` lists them' });
    await expect(readRows([['x'.repeat(120), '1']])).rejects.toMatchObject({ what: expect.stringContaining(`reads: ${'x'.repeat(119)}…)`) as string });
    await expect(readRows([['x'.repeat(117), '1']])).rejects.toMatchObject({ what: expect.stringContaining(`reads: ${'x'.repeat(117)}, 1)`) as string });
    await expect(readRows([[null], [' ']])).rejects.toMatchObject({ code: 'input_empty', what: 'there are no rows' });
  });

  test('no header: says what the first row reads and the mend', async () => {
    await expect(readRows([['a', 'b'], ['1', '2']])).rejects.toMatchObject({ code: 'header_missing', where: 'rows' });
    await expect(readRows([['Uint', 'Date'], ['T1', '2026-03-14']])).rejects.toMatchObject({ code: 'header_missing', mend: 'rename the column Uint to unit' });
    await expect(readRows([])).rejects.toMatchObject({ code: 'input_empty' });
  });
});
