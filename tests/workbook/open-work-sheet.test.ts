import { describe, expect, it } from 'vitest';
import { isoDateToSerial } from '../../src/readings/date-serial.js';
import { cautions } from '../../src/workbook/cautions.js';
import { OPEN_WORK_TITLE_ROW } from '../../src/workbook/sheets/open-work-columns.js';
import { blankWorkbook, workbookOf } from '../../src/workbook/write-workbook.js';
import { compareWith } from '../support/compare-with-recalculation.js';
import { requireOutside } from '../support/recalculate.js';
import { bytesOf } from './bytes-of.js';
import { FOLLOW_UP, FOLLOW_UP_ROWS, followUpFleet, OPEN_ROWS, typedFollowUp } from './follow-up-fleet.js';
import { recalculatedTwins } from './recalculated-twins.js';
import { recordsOfSheet, rowsOfSheet, type PlainCell } from './sheet-tables.js';
import { sheetPath, workbookParts } from './workbook-parts.js';

/** What the sheet tells of each open failure, by the rules of the follow-up worked out by hand; ranks for units that are open since one day depend on their order on Units. */
const EXPECTED = OPEN_ROWS.map(({ unit, site, last_failed, leak_place, repaired }, index): PlainCell[] => {
  const { days_open, open_since, checks } = FOLLOW_UP[unit]!;
  return [index + 1, unit, site, days_open!, isoDateToSerial(open_since!), checks!, isoDateToSerial(last_failed), leak_place, repaired];
});

async function list(workbook: Uint8Array): Promise<Record<string, PlainCell>[]> {
  return [...(await recordsOfSheet(workbook, 'Open work', OPEN_WORK_TITLE_ROW)).values()].filter((record) => record['Unit'] !== null);
}

async function shownRows(workbook: Uint8Array): Promise<PlainCell[][]> {
  return (await list(workbook)).map((record) => ['No.', 'Unit', 'Site', 'Days open', 'Open since', 'Failed checks', 'Last failed on', 'Where it was heard leaking', 'Repaired on'].map((title) => record[title] ?? null));
}

describe('the sheet Open work', { timeout: 180_000 }, () => {
  it('lists the open failures, the longest open first, with what was read and where to look', async () => {
    const fleet = await followUpFleet();
    const bytes = await bytesOf(workbookOf(fleet));
    expect(await shownRows(bytes)).toStrictEqual(EXPECTED);
    const [first, second] = await list(bytes);
    expect(first!['What was read']).toMatch(/^Fails\. Loss, brakes released: .* 5 psi\/min; at most 3 psi\/min is allowed\./);
    expect(second!['What was read']).toMatch(/^Fails\. Low-air warning: /);
    const looking = Object.entries(first!).find(([title]) => title.startsWith('Where to look first'));
    expect(looking).toStrictEqual(['Where to look first (common practice, no source; the licensed mechanic decides)', expect.stringMatching(/\S/)]);
  });

  // The outside source is LibreOffice, which computes a twin of the workbook that holds no results.
  it('follows the sheet Units: LibreOffice computes what is stored', async (context) => {
    requireOutside(context, 'soffice');
    const fleets = [await followUpFleet(), await followUpFleet(FOLLOW_UP_ROWS.filter(({ unit }) => unit === 'A-1'))];
    const recalculated = await recalculatedTwins(fleets);
    for (const [index, fleet] of fleets.entries()) {
      const { compared, differences } = await compareWith(await bytesOf(workbookOf(fleet)), recalculated[index]);
      expect(differences.filter(({ cell }) => cell.startsWith('Open work!'))).toStrictEqual([]);
      expect(compared).toBeGreaterThan(36);
    }
  });

  it('lists in a blank workbook into which the fleet is typed what the rules give', async (context) => {
    requireOutside(context, 'soffice');
    const computed = await typedFollowUp(context);
    expect(await shownRows(computed)).toStrictEqual(EXPECTED);
    const figures = (await rowsOfSheet(computed, 'Open work')).get(5)!;
    // 7 open failures; H-9 and H-10 are overdue.
    expect(figures.filter((cell) => cell !== null)).toStrictEqual([7, 2]);
  });

  it('gives the figures of the period', async () => {
    const rows = await rowsOfSheet(await bytesOf(workbookOf(await followUpFleet())), 'Open work');
    // Open 7, overdue 2. Closed: A-1 (0 days), B-3 (4), G-8 (14), 007 (1): the median of 0, 1, 4, 14 is 2.5, the 90th percentile (type 7) 4 + 0.7 * 10 = 11.
    expect(rows.get(5)!.filter((cell) => cell !== null)).toStrictEqual([7, 0, 4, 2.5, 2]);
    // No row tests everything, so none passes; 11 failed that found their unit without an open failure.
    expect(rows.get(6)).toContain('0 of 11 that were no retests; 95 % interval 0 % to 26 %');
    expect(rows.get(6)).toContain('nine of ten within 11 days (90th percentile)');
    expect(String(rows.get(2)![0])).toContain('all inspections up to 2026-03-20');
  });

  it('says so when nothing is open', async () => {
    const fleet = await followUpFleet(FOLLOW_UP_ROWS.filter(({ unit }) => unit === 'A-1'));
    expect((await shownRows(await bytesOf(workbookOf(fleet)))).map((cells) => cells[1])).toStrictEqual(['No open failure.']);
    expect((await shownRows(await bytesOf(workbookOf({ ...fleet, asOf: '2026-03-20' })))).map((cells) => cells[1])).toStrictEqual(['No open failure.']);
  });

  it('holds values and no formula when the summaries stop at a day', async () => {
    const bytes = await bytesOf(workbookOf({ ...(await followUpFleet()), asOf: '2026-03-20' }));
    const parts = await workbookParts(bytes);
    expect(parts.get(sheetPath(parts, 'Open work'))!).not.toMatch(/<f[ >]/);
    expect(await shownRows(bytes)).toStrictEqual(EXPECTED);
  });

  it('shows every caution, since it is carried into the workshop, and has 30 rows ready in a blank workbook', async () => {
    for (const bytes of [await bytesOf(workbookOf(await followUpFleet())), await bytesOf(blankWorkbook({ rows: 3 }))]) {
      const texts = [...(await rowsOfSheet(bytes, 'Open work')).values()].flat().filter((cell) => typeof cell === 'string');
      for (const caution of cautions()) expect(texts.some((text) => text.includes(caution))).toBe(true);
    }
    const parts = await workbookParts(await bytesOf(blankWorkbook({ rows: 3 })));
    const xml = parts.get(sheetPath(parts, 'Open work'))!;
    expect([...xml.matchAll(/<row r="(\d+)"/g)].filter(([, number]) => Number(number) > OPEN_WORK_TITLE_ROW)).toHaveLength(30);
    expect(xml).toMatch(/<pageSetup[^>]* orientation="landscape"/);
  });
});
