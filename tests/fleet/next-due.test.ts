import ExcelJS from 'exceljs';
import { describe, expect, it } from 'vitest';
import { monthsAfter, nextDue } from '../../src/fleet/next-due.js';
import { isoDateToSerial } from '../../src/readings/date-serial.js';
import { recalculate, requireOutside } from '../support/recalculate.js';

describe('the day on which an inspection is due', () => {
  it.each([['2026-01-31', 1, '2026-02-28'], ['2024-01-31', 1, '2024-02-29'], ['2024-02-29', 12, '2025-02-28'], ['2026-12-15', 1, '2027-01-15'], ['2026-11-30', 3, '2027-02-28'], ['2026-10-31', 12, '2027-10-31'], ['2026-03-31', 0, '2026-03-31'], ['0099-05-05', 12, '0100-05-05']])('%s and %i months: %s', (on, months, due) => {
    expect(monthsAfter(on, months)).toBe(due);
    expect(nextDue(on, { unit: 'months', every: months })).toBe(due);
  });

  it('is so many days on', () => {
    expect(nextDue('2026-01-31', { unit: 'days', every: 90 })).toBe('2026-05-01');
    expect(nextDue('2023-12-31', { unit: 'days', every: 366 })).toBe('2024-12-31');
  });

  it('is not known without an interval, nor beyond the calendar', () => {
    expect(nextDue('2026-01-31', null)).toBeNull();
    expect(nextDue('9999-06-01', { unit: 'months', every: 12 })).toBeNull();
    expect(nextDue('9999-12-31', { unit: 'days', every: 1 })).toBeNull();
    expect(nextDue('9998-12-31', { unit: 'months', every: 12 })).toBe('9999-12-31');
  });

  it('is that of a spreadsheet\'s EDATE', { timeout: 120_000 }, async (context) => {
    requireOutside(context, 'soffice');
    const asked = ['2023-01-28', '2023-01-29', '2023-01-30', '2023-01-31', '2024-02-29', '2025-08-31', '2026-10-31', '2026-12-01', '2096-02-29'].flatMap((on) => [1, 3, 6, 12, 13, 48, 120].map((months) => ({ on, months })));
    const book = new ExcelJS.Workbook();
    const sheet = book.addWorksheet('Due');
    asked.forEach(({ on, months }, index) => (sheet.getCell(`A${index + 1}`).value = { formula: `EDATE(${isoDateToSerial(on)},${months})+0` }));
    const found = (await recalculate(new Uint8Array(await book.xlsx.writeBuffer()))).get('Due')!;
    expect(asked.length).toBe(63);
    expect(asked.map(({ on, months }) => isoDateToSerial(monthsAfter(on, months)!))).toStrictEqual(found.slice(0, asked.length).map(([serial]) => Number(serial)));
  });
});
