import { describe, expect, it } from 'vitest';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import { pullInFirst } from '../../src/workbook/pull-in-first.js';
import { workbookOf } from '../../src/workbook/write-workbook.js';
import { bytesOf } from './bytes-of.js';
import { FOLLOW_UP, followUpFleet, OPEN_ROWS } from './follow-up-fleet.js';
import { rowsOfSheet } from './sheet-tables.js';

describe('the units to pull in first', { timeout: 60_000 }, () => {
  it('are those that the sheet Units names at its top, in its words', async () => {
    for (const fleet of [await followUpFleet(), await evaluateReadings('samples/invented-fleet.csv'), await evaluateReadings('samples/invented-fleet.csv', { to: '2025-12-31' })]) {
      const rows = await rowsOfSheet(await bytesOf(workbookOf(fleet)), 'Units');
      expect(pullInFirst(fleet).map(({ unit, toDo }) => [unit, toDo])).toStrictEqual([2, 3, 4].map((row) => rows.get(row)!.slice(0, 2)));
    }
  });

  it('are the longest open first, by the rules worked out by hand', async () => {
    const fleet = await followUpFleet();
    const open = OPEN_ROWS.map(({ unit }) => ({ unit, toDo: FOLLOW_UP[unit]!.to_do }));
    expect(pullInFirst(fleet, open.length)).toStrictEqual(open);
    expect(pullInFirst(fleet, 1)).toStrictEqual(open.slice(0, 1));
    expect(pullInFirst(fleet, 99).map(({ toDo }) => toDo)).not.toContain('');
  });

  it('are none where nothing is to be done', async () => {
    const fleet = await evaluateReadings(Buffer.from('unit,inspected_on,light_on_at\nT-1,2026-03-01,70\n'));
    expect(pullInFirst(fleet)).toStrictEqual([]);
  });
});
