import ExcelJS from 'exceljs';
import { describe, expect, it } from 'vitest';
import type { Inspection } from '../../src/readings/inspection.js';
import { openReadings, type OpenOptions } from '../../src/workbook/open-readings.js';

const CSV = 'unit,inspected_on\nK-1,2026-03-14\n';

async function unitsOf(input: Uint8Array | string, options: OpenOptions = {}): Promise<unknown> {
  const opened = await openReadings(typeof input === 'string' ? Buffer.from(input) : input, options);
  const inspections: Inspection[] = [];
  for await (const inspection of opened.reader.inspections) inspections.push(inspection);
  const at = opened.reader.dictionary.position.get('unit')!;
  return { units: inspections.map(({ values }) => values[at]), sheet: opened.source().sheet, others: opened.otherSheets };
}

async function bookOf(sheets: Readonly<Record<string, readonly (readonly string[])[]>>, hidden: readonly string[] = []): Promise<Uint8Array> {
  const book = new ExcelJS.Workbook();
  for (const [name, rows] of Object.entries(sheets)) {
    const sheet = book.addWorksheet(name, hidden.includes(name) ? { state: 'hidden' } : {});
    for (const row of rows) sheet.addRow([...row]);
  }
  return new Uint8Array(await book.xlsx.writeBuffer());
}

const table = (unit: string): string[][] => [['unit', 'inspected_on'], [unit, '2026-03-14']];

describe('opening readings', () => {
  it('tells the format by the ending of the name, else by the first bytes', async () => {
    expect(await unitsOf(CSV)).toMatchObject({ units: ['K-1'] });
    expect(await unitsOf(CSV.replaceAll(',', '\t'), { name: 'fleet.tsv' })).toMatchObject({ units: ['K-1'] });
    expect(await unitsOf('  [{"unit":"K-1","inspected_on":"2026-03-14"}]')).toMatchObject({ units: ['K-1'] });
    expect(await unitsOf('[unit],inspected_on\nK-1,2026-03-14\n', { name: 'fleet.csv' })).toMatchObject({ units: ['K-1'] });
    expect(await unitsOf(await bookOf({ Log: table('K-1') }))).toMatchObject({ units: ['K-1'], sheet: 'Log' });
    expect(await unitsOf(await bookOf({ Log: table('K-1') }), { name: 'renamed.csv' })).toMatchObject({ units: ['K-1'], sheet: 'Log' });
  });

  it('takes the sheet Readings, else the first in sight with a header, and names the others', async () => {
    expect(await unitsOf(await bookOf({ Log: table('K-1'), Readings: table('K-2') }))).toStrictEqual({ units: ['K-2'], sheet: 'Readings', others: [] });
    expect(await unitsOf(await bookOf({ Hidden: table('K-0'), Cover: [['Brake log']], March: table('K-1'), April: table('K-2') }, ['Hidden']))).toStrictEqual({ units: ['K-1'], sheet: 'March', others: ['Hidden', 'April'] });
  });

  it('takes the sheet that is named, whatever its case and even when it is hidden', async () => {
    const book = await bookOf({ March: table('K-1'), April: table('K-2') }, ['April']);
    expect(await unitsOf(book, { sheet: 'april' })).toMatchObject({ units: ['K-2'], sheet: 'April' });
    await expect(unitsOf(book, { sheet: 'Aprl' })).rejects.toMatchObject({ code: 'input_unreadable', mend: 'did you mean April? The sheets are March, April' });
  });

  it('reads a stream in pieces of any size, and gives the SHA-256 of its bytes', async () => {
    const pieces = (async function* (): AsyncGenerator<Uint8Array> {
      for (const byte of Buffer.from(CSV)) yield new Uint8Array([byte]);
    })();
    const opened = await openReadings(pieces, { name: 'fleet.csv' });
    for await (const { row } of opened.reader.inspections) expect(row).toBe(2);
    // The digest by `sha256sum`, for the bytes of the text above.
    expect(opened.source()).toMatchObject({ name: 'fleet.csv', sheet: '', rows_read: 1, inspections: 1, sha256: '5ec5a22a5a4859794cf611e0f45d73c112f0dd3cfbafba891172f8a18e5c2f1e' });
  });

  it('tells a workbook from a stream that begins with a single byte', async () => {
    const book = await bookOf({ Log: table('K-1') });
    const pieces = (async function* (): AsyncGenerator<Uint8Array> {
      yield book.subarray(0, 1);
      yield book.subarray(1);
    })();
    expect((await openReadings(pieces)).source().sheet).toBe('Log');
  });

  it('refuses workbooks without a table, in one line', async () => {
    await expect(unitsOf(await bookOf({ Cover: [['Brake log']] }))).rejects.toMatchObject({ code: 'header_missing' });
    await expect(unitsOf(await bookOf({ Empty: [] }))).rejects.toMatchObject({ code: 'input_empty' });
  });
});
