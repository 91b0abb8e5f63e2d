import { describe, expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import type { EvaluateOptions } from '../../src/workbook/opened-fleet.js';
import { evaluatedCsv } from '../../src/workbook/evaluated-csv.js';
import { workbookOf } from '../../src/workbook/write-workbook.js';
import { requireOutside } from '../support/recalculate.js';
import { savedByLibreOffice } from '../support/run-libreoffice.js';
import { csvOf, warnings, warningSet } from './baseline-tables.js';
import { bytesOf, textOf } from './bytes-of.js';
import { workbookParts, sheetPath } from './workbook-parts.js';

/** 40 days from 2026-01-30 on, and one inspection without a date. */
const TABLE = csvOf([...warnings(2, 40, { first: '2026-01-30' }), { unit: 'T-0', light_on_at: 50 }]);
const evaluate = (options: EvaluateOptions): ReturnType<typeof evaluateReadings> => evaluateReadings(TABLE, { limits: warningSet(), ...options });
const SUMMARIES = ['Units', 'Open work', 'Trend', 'Fail rates'];

/** The summary sheets that hold a formula. */
async function liveSheets(book: Uint8Array): Promise<string[]> {
  const parts = await workbookParts(book);
  return SUMMARIES.filter((name) => /<f[ >]/.test(parts.get(sheetPath(parts, name))!));
}

describe('a fleet over a period', { timeout: 120_000 }, () => {
  it('keeps every inspection, and counts those of the period', async () => {
    const { evaluations, summary, asOf } = await evaluate({ from: '2026-02-01', to: '2026-02-10' });
    expect(evaluations).toHaveLength(41);
    expect(summary.fleet).toMatchObject({ inspections: 10, failed: 0 });
    expect(summary.period).toStrictEqual({ from: '2026-02-01', to: '2026-02-10', by: 'week' });
    expect([summary.counted_to, asOf]).toStrictEqual(['2026-02-10', '2026-02-10']);
    // What failed on the two days before still stands open.
    expect(summary.open_work.map(({ unit }) => unit).sort()).toStrictEqual(['T-0', 'T-1']);
  });

  it('takes asOf for to', async () => {
    expect((await evaluate({ asOf: '2026-02-10' })).summary).toStrictEqual((await evaluate({ to: '2026-02-10' })).summary);
  });

  it('leaves inspections without a date out where an end is given', async () => {
    expect((await evaluate({})).summary.fleet.inspections).toBe(41);
    for (const options of [{ from: '2000-01-01' }, { to: '2100-01-01' }]) expect((await evaluate(options)).summary.fleet.inspections).toBe(40);
  });

  // 2026-01-30 is a Friday in ISO week 5; 40 days later is 2026-03-10, a Tuesday in week 11.
  it.each([
    ['week', ['2026-W05', '2026-W06', '2026-W07', '2026-W08', '2026-W09', '2026-W10', '2026-W11']],
    ['month', ['2026-01', '2026-02', '2026-03']],
    ['quarter', ['2026-Q1']],
  ] as const)('has a trend by %s', async (by, periods) => {
    expect((await evaluate({ by })).summary.trend.map(({ period }) => period)).toStrictEqual(periods);
  });

  it('is live only where neither end is given', async () => {
    for (const options of [{}, { by: 'month' as const }, { baseline: TABLE }]) expect([options, await liveSheets(await bytesOf(workbookOf(await evaluate(options))))]).toStrictEqual([options, SUMMARIES]);
    for (const options of [{ from: '2026-02-01' }, { to: '2026-02-10' }, { asOf: '2026-02-10' }]) expect([options, await liveSheets(await bytesOf(workbookOf(await evaluate(options))))]).toStrictEqual([options, []]);
  });

  it('writes the same table as CSV, whatever the period', async () => {
    const csv = async (options: EvaluateOptions): Promise<string> => {
      const { plan, columns, evaluations } = await evaluate(options);
      return textOf(evaluatedCsv(plan, columns, evaluations));
    };
    expect(await csv({ from: '2026-02-01', to: '2026-02-10', by: 'month', baseline: TABLE })).toBe(await csv({}));
  });

  it('is a workbook that LibreOffice opens when the period leaves nothing', async (context) => {
    requireOutside(context, 'soffice');
    const books: Uint8Array[] = [];
    for (const options of [{ from: '2030-01-01' }, { to: '2001-01-01' }, { from: '2001-01-01', to: '2001-12-31', by: 'week' as const }]) {
      const fleet = await evaluate(options);
      expect(fleet.summary).toMatchObject({ trend: [], fleet: { inspections: 0, tested: 0, rate: null } });
      books.push(await bytesOf(workbookOf(fleet)));
    }
    const names = async (bytes: Uint8Array): Promise<string[]> => (await openXlsx(bytes)).sheets.map(({ name }) => name);
    for (const [index, saved] of (await savedByLibreOffice(books)).entries()) {
      expect(await names(saved)).toStrictEqual(await names(books[index]!));
      for (const sheet of (await openXlsx(saved)).sheets) {
        for await (const { number, cells } of sheet.table().rows) {
          const errors = cells.filter((cell) => typeof cell === 'string' && /^#(?:N\/A|REF!|VALUE!|DIV\/0!|NAME\?|NUM!)$/.test(cell));
          // A chart leaves a gap for #N/A, on the sheet that shows one unit.
          if (sheet.name !== 'One unit') expect([sheet.name, number, errors]).toStrictEqual([sheet.name, number, []]);
        }
      }
    }
  });
});
