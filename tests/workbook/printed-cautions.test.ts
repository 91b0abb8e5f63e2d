import ExcelJS from 'exceljs';
import { describe, expect, it } from 'vitest';
import { cautions, printedCautions } from '../../src/workbook/cautions.js';
import { compareReadings } from '../../src/workbook/compare-readings.js';
import { comparisonWorkbook } from '../../src/workbook/comparison-workbook.js';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import { reportWorkbook } from '../../src/workbook/report-workbook.js';
import { blankWorkbook, workbookOf } from '../../src/workbook/write-workbook.js';
import { bytesOf } from './bytes-of.js';

const FLEET = 'samples/invented-fleet-messy.csv';
/** The longest text of a header or footer (Excel specifications and limits). */
const LONGEST = 255;

/** What each workbook of ours is, and how many sheets it has at least. */
const BOOKS: readonly (readonly [string, () => Promise<Uint8Array>, number])[] = [
  ['an evaluated workbook', async () => bytesOf(workbookOf(await evaluateReadings(FLEET))), 12],
  ['a blank workbook', async () => bytesOf(blankWorkbook({ rows: 3, limits: 'ca-quebec' })), 12],
  ['a comparison', async () => bytesOf(comparisonWorkbook(await compareReadings('samples/invented-fleet.csv', FLEET))), 3],
  ['a report', async () => bytesOf(reportWorkbook(await evaluateReadings(FLEET), { unit: 'S-307', date: '2026-10-12' })), 1],
];

describe.each(BOOKS)('every page of %s that can be printed', { timeout: 60_000 }, (_, write, least) => {
  it('carries every caution in its header and footer, and its number', async () => {
    const book = new ExcelJS.Workbook();
    await book.xlsx.load(Buffer.from(await write()) as never);
    expect(book.worksheets.length).toBeGreaterThanOrEqual(least);
    for (const { name, headerFooter } of book.worksheets) {
      const { oddHeader = '', oddFooter = '', evenHeader, evenFooter, differentFirst, differentOddEven } = headerFooter;
      const [header, footer] = [oddHeader, oddFooter].map((text) => text.replace(/\s+/g, ' '));
      expect([name, printedCautions('header').filter((caution) => !header!.includes(caution))]).toStrictEqual([name, []]);
      expect([name, printedCautions('footer').filter((caution) => !footer!.includes(caution))]).toStrictEqual([name, []]);
      expect([name, oddHeader.length <= LONGEST, oddFooter.length <= LONGEST]).toStrictEqual([name, true, true]);
      expect([name, footer]).toStrictEqual([name, expect.stringMatching(/&P.*&N/)]);
      // A first or an even page of its own would be without them.
      expect([name, evenHeader ?? '', evenFooter ?? '', differentFirst ?? false, differentOddEven ?? false]).toStrictEqual([name, '', '', false, false]);
    }
  });
});

it('every caution has its short form in the header or the footer', () => {
  expect(printedCautions('header').length + printedCautions('footer').length).toBe(cautions().length);
  const words = (text: string): Set<string> => new Set(text.toLowerCase().match(/[a-z]{5,}/g));
  for (const short of [...printedCautions('header'), ...printedCautions('footer')]) {
    expect([short, cautions().some((caution) => [...words(short)].filter((word) => words(caution).has(word)).length >= 0.6 * words(short).size)]).toStrictEqual([short, true]);
  }
});
