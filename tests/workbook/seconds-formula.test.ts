import ExcelJS from 'exceljs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fieldSchema, type Field } from '../../src/readings/field.js';
import type { Inspection } from '../../src/readings/inspection.js';
import { readEntry, timeSpan } from '../../src/readings/read-entry.js';
import { entryCell } from '../../src/workbook/cell-values.js';
import { secondsFormula } from '../../src/workbook/working-formulas.js';
import { recalculate, requireOutside } from '../support/recalculate.js';

const SPANS = [
  [10, 1800],
  [0, 1200],
  [5, 1800],
] as const;
const CONTEXT = { unit: 'psi', columnUnit: null, dateOrder: null, date1904: false } as const;

/** Texts that a person may write, and texts that only look like them. */
const WRITTEN = [
  '1:00', '01:00', '0:47.5', '0:47,5', '4:10', '60', '060', '60 s', '60s', '60 S', '1 min', '1MIN', '4.2 min', '4,2 min', '0.5 min', '.5 min', '12.25', '11.0005', '0', '0 s',
  '1: 30', '1 0:30', '6 0', '1.5:30', '1:.50', '1:5', '1:050', '1:00.', '1:60', '1:00.000000abc', 's', 'min', ' s', '.', ',5', '5.', '60. s', '1,234 s', '1,234', '0,500 s', '1.2.3 s', '0.5', '0.17361', '0.0007',
  '1e2', '1e2 s', '60%', '$60', '-60', '+60', '6-0', '--60', '(60)', '0x3c', '1/2', '1:00 pm', '0:01:00', '1:02:03', ':30', '4m 10s', '60 sec', '60 mins', '1:00 min', '~60 s', 'n/a', '-', '?', 'soon', '６０', '60\u00a0s', '1:00:00', '99999:00', '1800.0004', '1800 s', '1800.1 s', '9.9996 s', '00:10', '30:00', '30:00.1', '1\'', '4\' 10"', 'TRUE', '=60', 'ten',
] as const;

/** Numbers in a cell: seconds, parts of a minute, and what a spreadsheet program makes of `4:10`, `1:00`, `12:00` and `0:04:10`. */
const NUMBERS = [0, 0.5, 1, 5, 10, 60, 60.0004, 47.5, 1800, 1800.0004, 3600, -60, 250 / 1440, 60 / 1440, 720 / 1440, 180 / 1440, 250 / 86_400, 10 / 1440, 600 / 86_400, 0.17361, 0.001, 0.0007, 1e-9, 0.999, 0.99999] as const;

const piece = fc.constantFrom('0', '1', '2', '4', '5', '6', '9', '0', '1', '3', ':', ':', '.', ',', ' ', 's', ' s', 'min', ' min', 'e', '%', '$', '-', '+');
const random = fc.array(piece, { minLength: 1, maxLength: 7 }).map((pieces) => pieces.join(''));
const likely = fc.tuple(fc.constantFrom('', '0', '1', '4', '12', '47', '60', '90', '1.5', '4,2', '1,234', '0.5', ' 6'), fc.constantFrom('', ':', ':', '.', ',', ' '), fc.constantFrom('', '00', '10', '5', '059', '30.5', '60'), fc.constantFrom('', '', ' s', 's', ' min', 'min', ' ', '%', 'e1')).map((parts) => parts.join(''));

function fieldWith(from: number, to: number): Field {
  return fieldSchema.parse({ name: 'a_time', kind: 'time', title: 'A time', help: 'A time.', plausible: { from, to, unit: 's', why: 'a test' } });
}

function inspectionOf(field: Field, text: string): { readonly inspection: Inspection; readonly entry: number | null } {
  const read = readEntry(field, text, CONTEXT);
  const notRead = read.trouble && read.entry === null ? [field.name] : [];
  return { inspection: { row: 1, values: [read.entry], asFound: new Map([[field.name, text]]), notRead, extra: [] }, entry: read.entry as number | null };
}

describe('the formula that reads seconds from a time cell', () => {
  // The parser says what a text means; LibreOffice computes the formula.
  it('understands what import writes, nothing that import does not, and never anything else', { timeout: 120_000 }, async (context) => {
    requireOutside(context, 'soffice');
    const texts = [...new Set([...WRITTEN, ...fc.sample(random, { numRuns: 400, seed: 11 }), ...fc.sample(likely, { numRuns: 500, seed: 12 })])].filter((text) => text.trim() !== '');
    const cases = texts.flatMap((text) => SPANS.map(([from, to]) => ({ text, field: fieldWith(from, to) })));
    const book = new ExcelJS.Workbook();
    const sheet = book.addWorksheet('Readings');
    const asText = (address: string, value: string | null): void => {
      sheet.getCell(address).numFmt = '@';
      if (value !== null) sheet.getCell(address).value = value;
    };
    const expected = cases.map(({ text, field }, index) => {
      const row = index + 1;
      const { inspection, entry } = inspectionOf(field, text);
      const written = entryCell(field, entry, inspection);
      if (written !== null && typeof written !== 'string') throw new Error(`a time cell holds the ${typeof written} ${String(written)}`);
      asText(`A${row}`, written);
      asText(`B${row}`, text);
      sheet.getCell(`C${row}`).value = { formula: secondsFormula(`A${row}`, timeSpan(field)) };
      sheet.getCell(`D${row}`).value = { formula: secondsFormula(`B${row}`, timeSpan(field)) };
      return entry;
    });
    const numbers = NUMBERS.flatMap((number) => SPANS.map(([from, to]) => ({ number, field: fieldWith(from, to) })));
    for (const [index, { number, field }] of numbers.entries()) {
      sheet.getCell(`E${index + 1}`).value = number;
      sheet.getCell(`F${index + 1}`).value = { formula: secondsFormula(`E${index + 1}`, timeSpan(field)) };
    }
    const rows = (await recalculate(new Uint8Array(await book.xlsx.writeBuffer()))).get('Readings')!;
    const seconds = (text: string | undefined): number | null => (text === '' || text === undefined ? null : Number(text));
    const wrong = cases.flatMap(({ text, field }, index) => {
      const [imported, typed] = [seconds(rows[index]?.[2]), seconds(rows[index]?.[3])];
      const want = expected[index]!;
      const agrees = want === null ? imported === null : imported !== null && Math.abs(imported - want) < 1e-9;
      const safe = typed === null || (want !== null && Math.abs(typed - want) < 1e-9);
      return agrees && safe ? [] : [{ text, span: timeSpan(field), want, imported, typed }];
    });
    expect(wrong).toStrictEqual([]);
    expect(expected.filter((entry) => entry !== null).length).toBeGreaterThan(300);
    expect(expected.filter((entry) => entry === null).length).toBeGreaterThan(300);
    for (const [index, { number, field }] of numbers.entries()) {
      const want = readEntry(field, number, CONTEXT).entry as number | null;
      expect([number, field.plausible!.from, seconds(rows[index]?.[5])]).toStrictEqual([number, field.plausible!.from, want === null ? null : expect.closeTo(want, 6)]);
    }
    // What the sheet's own instructions tell people to type is understood as typed.
    for (const [text, want] of [['1:00', 60], ['4:10', 250], ['0:47.5', 47.5], ['60', 60], ['60 s', 60], ['1 min', 60], ['4.2 min', 252], ['4,2 min', 252]] as const) {
      expect([text, seconds(rows[cases.findIndex((one) => one.text === text)]?.[3])]).toStrictEqual([text, want]);
    }
  });
});
