import { describe, expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import type { LimitPlan } from '../../src/limits/compile-limit-set.js';
import { likelyPlaces } from '../../src/limits/likely-places.js';
import { layOutReadings } from '../../src/workbook/readings-layout.js';
import { limitsSheet, LIMITS_SHEET } from '../../src/workbook/sheets/limits-sheet.js';
import { verifyLimits } from '../../src/workbook/verify-limits.js';
import { lineOf, type Line } from '../../src/workbook/verify-line.js';
import { BookNames } from '../../src/workbook/verify-names.js';
import { expectedSheet, type ExpectedSheet } from '../../src/workbook/verify-sheets.js';
import { VerifyTally } from '../../src/workbook/verify-tally.js';
import { evaluateRows, ownPlan, shippedPlan, SOURCE } from '../support/evaluate-rows.js';
import { withSheetChanged } from '../workbook/workbook-parts.js';
import { readingsWorkbook } from './readings-workbook.js';

const CHECK = { check: 'a', title: 'A', measure: 'cut_out', at_most: 135, unit: 'psi', source: SOURCE };

const sheetOf = (plan: LimitPlan): ExpectedSheet => expectedSheet(limitsSheet, { plan, layout: layOutReadings({ plan, fileColumns: [], overflow: 0, rowCount: 1 }), fleet: null, live: true });
const intervalNames = ({ names }: ExpectedSheet): string[] => [...names.keys()].filter((name) => name.startsWith('limit_interval'));

/** The line of a cell that a name points to. */
function lineOfName({ names, lines }: ExpectedSheet, name: string): readonly unknown[] {
  const row = Number(/^Limits!\$E\$(\d+)$/.exec(names.get(name)!)![1]);
  return lines[row - 1]!.values.filter((value) => value !== null && value !== '');
}

describe('the interval in the sheet Limits', () => {
  it('has a line of its own, and a name for its number', () => {
    const sheet = sheetOf(shippedPlan('us-nevada'));
    expect(intervalNames(sheet)).toStrictEqual(['limit_interval_months']);
    // 49 CFR 396.17(a),(c)
    expect(lineOfName(sheet, 'limit_interval_months').slice(0, 6)).toStrictEqual(['Inspection due every', 12, 'months', '49 CFR 396.17(a),(c)', '(once in the preceding 12 months)', 'secondary']);
  });

  it('is named for days where it is in days, and is not there where the set has none', () => {
    const sheet = sheetOf(ownPlan({ checks: [CHECK], interval: { days: 90, source: SOURCE } }));
    expect(intervalNames(sheet)).toStrictEqual(['limit_interval_days']);
    expect(lineOfName(sheet, 'limit_interval_days')).toStrictEqual(['Inspection due every', 90, 'days', 'a test', 'as printed', 'common practice']);
    const without = sheetOf(ownPlan({ checks: [CHECK] }));
    expect([intervalNames(without), without.lines.some(({ values }) => values.includes('Inspection due every'))]).toStrictEqual([[], false]);
  });
});

describe('the rules of where to look first in the sheet Limits', () => {
  it('are those that can hold, with their pattern in words and their status', () => {
    const { lines } = sheetOf(shippedPlan('us-nevada'));
    const said = likelyPlaces().filter(({ say }) => lines.some(({ values }) => values.includes(say))).map(({ id }) => id);
    expect(said).toStrictEqual(shippedPlan('us-nevada').likelyPlaces.map(({ place }) => place.id));
    const line = lines.find(({ values }) => String(values[7]).startsWith('Applied fails in the primary'))!;
    expect([line.values[0], line.values[1], line.values[10]]).toStrictEqual(['loss', 'Applied loss fails; Released loss passes; Applied loss, secondary is less than (0.25 times Applied loss, primary)', 'common practice']);
  });
});

describe('verifying the sheet Limits', () => {
  async function findingsOf(plan: LimitPlan, workbook: Uint8Array): Promise<unknown> {
    const book = await openXlsx(workbook);
    const found: Line[] = [];
    for await (const row of book.sheets.find(({ name }) => name === LIMITS_SHEET)!.stored().rows) found.push(lineOf(row));
    const tally = new VerifyTally();
    const numbers = await verifyLimits(book, new BookNames(book), plan, sheetOf(plan), found, true, tally);
    return { findings: tally.result(), interval: numbers.get('limit:interval:months') };
  }

  it('finds nothing in one as it was written, and a changed interval', async () => {
    const plan = shippedPlan('us-nevada');
    const workbook = await readingsWorkbook(plan, await evaluateRows(plan, [{}]));
    expect(await findingsOf(plan, workbook)).toStrictEqual({ findings: [], interval: 12 });
    const cell = sheetOf(plan).names.get('limit_interval_months')!.replace(/^Limits!|\$/g, '');
    const changed = await withSheetChanged(workbook, LIMITS_SHEET, (xml) => xml.replace(new RegExp(`(<c r="${cell}"[^>]*>)<v>12</v>`), '$1<v>24</v>'));
    expect(await findingsOf(plan, changed)).toStrictEqual({
      findings: [{ code: 'limit_changed', sheet: 'Limits', cell, column: 'limit_interval_months', found: '24', expected: '12 months', citation: '49 CFR 396.17(a),(c) (secondary)' }],
      interval: 24,
    });
  });
});
