import { describe, expect, it } from 'vitest';
import { sha256 } from '../../src/util/sha256.js';
import { evaluateReadings, type EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import type { EvaluateOptions } from '../../src/workbook/opened-fleet.js';
import { blankWorkbook, workbookOf } from '../../src/workbook/write-workbook.js';
import { compareWith } from '../support/compare-with-recalculation.js';
import { requireOutside } from '../support/recalculate.js';
import { csvOf, warnings, warningSet } from './baseline-tables.js';
import { bytesOf } from './bytes-of.js';
import { recalculatedTwins } from './recalculated-twins.js';
import { rowsOfSheet, type PlainCell } from './sheet-tables.js';
import { sheetPath, workbookParts } from './workbook-parts.js';

/** 4 inspections in 2025, 10 from 2026-03-01 on, 2 without a date, of which one cannot be read. */
const TABLE = csvOf([...warnings(3, 4, { first: '2025-01-01' }), ...warnings(1, 10), { unit: 'T-0', light_on_at: 50 }, { unit: 'T-1', inspected_on: 'soon', light_on_at: 70 }]);
const COUNTS = ['Inspections in the period', 'before the period', 'after the period', 'without a date', 'Do they add up to the rows on Readings?'];

async function linesOf(options: EvaluateOptions): Promise<Map<PlainCell, PlainCell>> {
  const book = await bytesOf(workbookOf(await evaluateReadings(TABLE, { limits: warningSet(), ...options })));
  return new Map([...(await rowsOfSheet(book, 'Provenance')).values()].map((cells) => [cells[0] ?? null, cells[1] ?? null]));
}

describe('the sheet Provenance', { timeout: 120_000 }, () => {
  it.each<[EvaluateOptions, string, readonly number[]]>([
    [{}, 'all inspections; those without a date stand in no week, month or quarter of the trend', [14, 0, 0, 2]],
    [{ to: '2025-12-31' }, 'up to 2025-12-31, both days included', [4, 0, 10, 2]],
    [{ asOf: '2025-12-31' }, 'up to 2025-12-31, both days included', [4, 0, 10, 2]],
    [{ from: '2026-03-02' }, 'from 2026-03-02 on, both days included; Units and Open work tell how things stand at its end, from what lies before it too', [9, 5, 0, 2]],
    [{ from: '2025-01-02', to: '2026-03-01' }, 'from 2025-01-02 to 2026-03-01, both days included; Units and Open work tell how things stand at its end, from what lies before it too', [4, 1, 9, 2]],
    [{ to: '2001-01-01' }, 'up to 2001-01-01, both days included; no inspection lies in it', [0, 0, 14, 2]],
    [{ from: '2030-01-01' }, 'from 2030-01-01 on, both days included; no inspection lies in it; Units and Open work tell how things stand at its end, from what lies before it too', [0, 14, 0, 2]],
  ])('tells the period %j, and counts that add up', async (options, words, counts) => {
    const lines = await linesOf(options);
    expect(lines.get('Period that the summaries count')).toBe(words);
    expect(COUNTS.map((label) => lines.get(label))).toStrictEqual([...counts, 'yes']);
    expect(lines.get('Summaries from') ?? null).toBe(options.from ?? null);
    expect(lines.get('Summaries up to') ?? null).toBe(options.to ?? options.asOf ?? null);
    const live = options.from === undefined && options.to === undefined && options.asOf === undefined;
    expect(lines.get('Units, Open work, Trend, Fail rates')).toMatch(live ? /^live formulas over Readings$/ : /^values computed when this workbook was written: live formulas would count every inspection, not those of the period$/);
  });

  it('tells the length of the periods of the trend, and the day to which days are counted', async () => {
    for (const by of ['week', 'month', 'quarter'] as const) expect((await linesOf({ by })).get('Trend by')).toBe(by);
    expect((await linesOf({})).get('Days are counted to')).toBe('2026-03-10');
    expect((await linesOf({ to: '2025-12-31' })).get('Days are counted to')).toBe('2025-12-31');
  });

  it('names the baseline with its hash, and the set that it names itself', async () => {
    expect([...(await linesOf({})).keys()].filter((label) => String(label).startsWith('Baseline'))).toStrictEqual([]);
    const earlier = await bytesOf(workbookOf(await evaluateReadings(csvOf(warnings(1, 3, { first: '2024-01-01' })), { limits: 'us-nevada' })));
    const lines = await linesOf({ baseline: earlier, baselineName: '=old.xlsx' });
    expect(['Baseline', 'Baseline, SHA-256 of its bytes', 'Baseline, inspections'].map((label) => lines.get(label))).toStrictEqual(['=old.xlsx', sha256(earlier), 3]);
    expect(lines.get('Baseline, limit set that it names itself')).toMatch(/^us-nevada: /);
  });

  it('has no dates and no period in a blank workbook', async () => {
    const labels = [...(await rowsOfSheet(await bytesOf(blankWorkbook({ rows: 3 })), 'Provenance')).values()].map((cells) => cells[0]);
    expect(labels).toContain('Rows ready for entry');
    for (const label of COUNTS) expect(labels).not.toContain(label);
  });

  it('checks its counts by formulas that LibreOffice computes to the same', async (context) => {
    requireOutside(context, 'soffice');
    const fleets: EvaluatedFleet[] = [];
    for (const options of [{}, { from: '2025-01-02', to: '2026-03-01', by: 'month' as const, baseline: TABLE }, { to: '2001-01-01' }]) fleets.push(await evaluateReadings(TABLE, { limits: warningSet(), ...options }));
    const twins = await recalculatedTwins(fleets);
    for (const [index, fleet] of fleets.entries()) {
      const book = await bytesOf(workbookOf(fleet));
      const { differences } = await compareWith(book, twins[index]);
      expect(differences.filter(({ cell }) => cell.startsWith('Provenance!'))).toStrictEqual([]);
      const parts = await workbookParts(book);
      expect([...parts.get(sheetPath(parts, 'Provenance'))!.matchAll(/<f>/g)]).toHaveLength(5);
    }
  });
});
