import { describe, expect, it } from 'vitest';
import type { LossTrend } from '../../src/fleet/unit-summary.js';
import { isoDateToSerial } from '../../src/readings/date-serial.js';
import { UNITS_TITLE_ROW } from '../../src/workbook/sheets/unit-places.js';
import { blankWorkbook, workbookOf } from '../../src/workbook/write-workbook.js';
import type { EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import { compareWith } from '../support/compare-with-recalculation.js';
import { requireOutside } from '../support/recalculate.js';
import { bytesOf } from './bytes-of.js';
import { FOLLOW_UP, FOLLOW_UP_ROWS, followUpFleet, typedFollowUp, type FollowUp } from './follow-up-fleet.js';
import { recalculatedTwins } from './recalculated-twins.js';
import { asCell, recordsOfSheet, rowsOfSheet, type PlainCell } from './sheet-tables.js';
import { sheetPath, workbookParts } from './workbook-parts.js';

const day = (iso: string | undefined): number | null => (iso === undefined ? null : isoDateToSerial(iso));

/** The cells in which the sheet tells what {@link FollowUp} holds. */
function expectedCells(unit: string, found: FollowUp): PlainCell[] {
  return [unit, found.to_do, found.checks ?? null, day(found.open_since), found.days_open ?? null, day(found.next_due), found.overdue ?? null, found.share_now, day(found.share_on), day(found.repaired), found.before ?? null, found.after ?? null].map(asCell);
}

async function shownUnits(workbook: Uint8Array): Promise<PlainCell[][]> {
  const titles = ['Unit', 'What to do', 'Checks', 'Open since', 'Days open', 'Next due', 'Overdue days', 'Worst share of a leak\'s limit now', 'Share now is of, if older', 'Repaired on', 'Share before', 'Share after'];
  const records = [...(await recordsOfSheet(workbook, 'Units', UNITS_TITLE_ROW)).values()].filter((record) => record['Unit'] !== null);
  return records.map((record) => titles.map((title) => asCell(record[title] ?? null)));
}

const byUnit = (a: readonly PlainCell[], b: readonly PlainCell[]): number => (String(a[0]) < String(b[0]) ? -1 : 1);
const EXPECTED = Object.entries(FOLLOW_UP).map(([unit, found]) => expectedCells(unit, found)).sort(byUnit);

const RISING: LossTrend = {
  measure: 'released_loss', unit: 'psi/min', dates: ['2026-01-06'], losses: [2], limit: 3, since_repair: null, slope_per_90_days: 0.5, slope_low: 0.1, slope_high: 0.9, p: 0.01, direction: 'rising', crossing: 'on the day shown', crosses_on: '2026-12-04', control: null,
};

/** The fleet with trends of our own: a leak that reaches its limit on a day, one that may be there, one that stays within it for long, and one that falls. */
async function withTrends(): Promise<EvaluatedFleet> {
  const fleet = await followUpFleet();
  const trends: Readonly<Record<string, LossTrend>> = {
    'F-7': RISING,
    K9: { ...RISING, crossing: 'already reached', crosses_on: null },
    '7': { ...RISING, crossing: 'beyond 10 years', crosses_on: null },
    'H-9': { ...RISING, crosses_on: '2026-06-01' },
    'G-8': { ...RISING, direction: 'falling', crossing: 'no rise shown', crosses_on: null, slope_per_90_days: -0.5 },
  };
  const units = fleet.summary.units.map((unit) => (trends[unit.unit] ? { ...unit, trend_of: 'released_loss', trends: [trends[unit.unit]!] } : unit));
  return { ...fleet, summary: { ...fleet.summary, units } };
}

describe('the sheet Units', { timeout: 180_000 }, () => {
  it('tells of every unit what the rules of the follow-up give', async () => {
    const shown = await shownUnits(await bytesOf(workbookOf(await followUpFleet())));
    expect(shown.sort(byUnit)).toStrictEqual(EXPECTED);
  });

  // The outside source is LibreOffice, which computes a twin of the workbook that holds no results.
  it('has formulas that give in LibreOffice what is stored, with and without a trend', async (context) => {
    requireOutside(context, 'soffice');
    const fleets = [await followUpFleet(), await withTrends()];
    const recalculated = await recalculatedTwins(fleets);
    for (const [index, fleet] of fleets.entries()) {
      const { compared, differences } = await compareWith(await bytesOf(workbookOf(fleet)), recalculated[index]);
      expect(differences.filter(({ cell }) => cell.startsWith('Units!'))).toStrictEqual([]);
      expect(compared).toBeGreaterThan(Object.keys(FOLLOW_UP).length * 30);
    }
  });

  it('tells in a blank workbook into which the fleet is typed what the rules give', async (context) => {
    requireOutside(context, 'soffice');
    const computed = await typedFollowUp(context);
    expect((await shownUnits(computed)).sort(byUnit)).toStrictEqual(EXPECTED);
    const top = await rowsOfSheet(computed, 'Units');
    expect([2, 3, 4].map((number) => [top.get(number)![0], top.get(number)![1]])).toStrictEqual([
      ['E-6', 'open failure, 74 days; repaired, retest it'],
      ['C-4', 'open failure, 69 days'],
      ['I-11', 'open failure, 47 days'],
    ]);
    expect(top.get(2)![6]).toBe(isoDateToSerial('2026-03-20'));
    // A kind that is none of the choices is not taken.
    expect(new Map([...(await recordsOfSheet(computed, 'Units', UNITS_TITLE_ROW)).values()].map((record) => [record['Unit'], record['Kind']])).get('Unit')).toBeNull();
  });

  it('says what to do about trends, and names the most urgent first: open failures by age, then leaks by the day, then what is overdue', async () => {
    const fleet = await withTrends();
    const records = [...(await recordsOfSheet(await bytesOf(workbookOf(fleet)), 'Units', UNITS_TITLE_ROW)).values()].filter((record) => typeof record['In this order'] === 'number');
    const inOrder = records.sort((a, b) => Number(a['In this order']) - Number(b['In this order'])).map((record) => [record['Unit'], record['What to do']]);
    expect(inOrder.slice(7)).toStrictEqual([
      ['K9', 'leak rising, may be at its limit now'],
      ['H-9', 'leak rising, limit reached by 2026-06-01; overdue 48 days'],
      ['F-7', 'leak rising, limit reached by 2026-12-04'],
      ['H-10', 'overdue 385 days'],
    ]);
    expect(inOrder.slice(0, 7).map(([unit]) => unit)).toStrictEqual(['E-6', 'C-4', 'I-11', 'D-5', 'B-3', '<5', 'K*']);
  });

  it('counts the days to another day that is typed, and says so where nothing is to be done', async (context) => {
    requireOutside(context, 'soffice');
    const rows = FOLLOW_UP_ROWS.filter(({ unit }) => ['A-1', 'F-7'].includes(unit!));
    const fleet = await followUpFleet(rows);
    const [twin, laterTwin] = await recalculatedTwins([fleet, { ...fleet, summary: { ...fleet.summary, counted_to: '2027-03-11' } }]);
    const shown = await rowsOfSheet(twin!, 'Units');
    expect(shown.get(2)!.slice(0, 2)).toStrictEqual(['none', 'no open failure, no leak shown to reach its limit, nothing overdue']);
    const counted = await shownUnits(laterTwin!);
    // Due 2027-01-06 and 2027-03-01; by then the repair of 2027-01-01 counts.
    expect(counted.map((cells) => [cells[0]!, cells[1]!, cells[9]!]).sort(byUnit)).toStrictEqual([['A-1', 'overdue 10 days', day('2026-03-01')], ['F-7', 'overdue 64 days', day('2027-01-01')]]);
  });

  it('charts the worst 15: those beyond the limit as a striped series of its own, and a line at the limit', async () => {
    const parts = await workbookParts(await bytesOf(workbookOf(await followUpFleet())));
    const chart = [...parts.values()].find((xml) => xml.includes('The 15 units that use the most'))!;
    const series = chart.split('<c:ser>').slice(1);
    const valuesOf = (xml: string, part: string): string[] => [...(new RegExp(`<c:${part}>.*?</c:${part}>`).exec(xml)?.[0] ?? '').matchAll(/<c:v>([^<]*)<\/c:v>/g)].map(([, value]) => value!);
    expect(series.map((xml) => /<c:tx><c:v>([^<]*)/.exec(xml)![1])).toStrictEqual(['beyond the limit', 'within the limit', 'the limit']);
    expect(series.map((xml) => xml.includes('<a:pattFill'))).toStrictEqual([true, false, false]);
    expect(chart.split('<c:lineChart>')[1]).toContain('the limit');
    expect(valuesOf(series[0]!, 'cat').slice(0, 2)).toStrictEqual(['&lt;5', 'K*']);
    expect(valuesOf(series[0]!, 'val').map(Number)).toStrictEqual([3, 2, 5 / 3, 5 / 3, 1.5, 4 / 3, 4 / 3].map((value) => expect.closeTo(value, 9)));
    expect(valuesOf(series[1]!, 'val')).toHaveLength(8);
    expect(valuesOf(series[2]!, 'val')).toStrictEqual(Array.from({ length: 15 }, () => '1'));
  });

  it('holds values and no formula when the summaries stop at a day', async () => {
    const fleet = await followUpFleet();
    const bytes = await bytesOf(workbookOf({ ...fleet, asOf: '2026-03-20' }));
    const xml = (await workbookParts(bytes)).get(sheetPath(await workbookParts(bytes), 'Units'))!;
    expect(xml).not.toMatch(/<f[ >]/);
    expect((await shownUnits(bytes)).sort(byUnit)).toStrictEqual(EXPECTED);
  });

  it('says in a blank workbook what a blank trend means', async () => {
    const texts = [...(await rowsOfSheet(await bytesOf(blankWorkbook({ rows: 3 })), 'Units')).values()].flat();
    expect(texts.some((text) => String(text).includes('A blank trend, limit date, signal of the control chart or word on build-up and leak comes when the workbook is evaluated with the program'))).toBe(true);
  });
});
