import ExcelJS from 'exceljs';
import { expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import { statedProvenance, type StatedProvenance } from '../../src/workbook/stated-provenance.js';
import { blankWorkbook, workbookOf } from '../../src/workbook/write-workbook.js';
import { bytesOf } from './bytes-of.js';

const NOTHING = { limitSet: null, from: null, to: null };

const statedBy = async (bytes: Uint8Array): Promise<StatedProvenance> => statedProvenance(await openXlsx(bytes));

/** A workbook of someone else's with a sheet of that name. */
async function stranger(sheet: string, lines: readonly (readonly [string, ExcelJS.CellValue])[]): Promise<Uint8Array> {
  const book = new ExcelJS.Workbook();
  book.addWorksheet(sheet).addRows(lines.map((line) => [...line]));
  return new Uint8Array(await book.xlsx.writeBuffer());
}

it('is read from our own workbooks', async () => {
  const fleet = await evaluateReadings(Buffer.from('unit,inspected_on\nT-1,2026-03-01\n'), { limits: 'us-nevada', from: '2026-01-01', to: '2026-06-30' });
  const { set, sha256 } = fleet.plan;
  expect(await statedBy(await bytesOf(workbookOf(fleet)))).toStrictEqual({ limitSet: { id: 'us-nevada', words: `us-nevada: ${set.title}`, sha256 }, from: '2026-01-01', to: '2026-06-30' });
  expect(await statedBy(await bytesOf(blankWorkbook({ rows: 1, limits: 'us-nevada' })))).toMatchObject({ limitSet: { id: 'us-nevada' }, from: null, to: null });
});

it('is nothing where there is no workbook, no such sheet, or one that says nothing of the kind', async () => {
  expect(await statedProvenance(undefined)).toStrictEqual(NOTHING);
  expect(await statedBy(await stranger('Sheet1', [['Summaries from', '2026-01-01']]))).toStrictEqual(NOTHING);
  expect(await statedBy(await stranger('Provenance', [['Limit set', 'none'], ['Summaries from', 'soon'], ['Summaries up to', 45000], ['__proto__', 'x']]))).toStrictEqual(NOTHING);
});

it('leaves out a period that is none, and takes the first line of a label', async () => {
  expect(await statedBy(await stranger('Provenance', [['Summaries from', '2026-06-01'], ['Summaries up to', '2026-01-01']]))).toStrictEqual(NOTHING);
  expect(await statedBy(await stranger('Provenance', [['Summaries up to', '2026-01-01'], ['Summaries up to', '2027-01-01']]))).toStrictEqual({ ...NOTHING, to: '2026-01-01' });
  const { limitSet } = await statedBy(await stranger('Provenance', [['Limit set', `own: ${'x'.repeat(9000)}`]]));
  expect([limitSet!.id, limitSet!.words.length]).toStrictEqual(['own', 180]);
});
