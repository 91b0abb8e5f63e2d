import { beforeEach, describe, expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { plainValue } from '../../src/util/raw-table.js';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import { evaluationJson } from '../../src/workbook/evaluation-json.js';
import { evaluatedCsv } from '../../src/workbook/evaluated-csv.js';
import { bordersTitleRow } from '../../src/workbook/sheets/borders-sheet.js';
import { verifyWorkbook } from '../../src/workbook/verify-workbook.js';
import { withSheetChanged } from './workbook-parts.js';
import { blankWorkbook, workbookOf } from '../../src/workbook/write-workbook.js';
import { compareWith } from '../support/compare-with-recalculation.js';
import { once } from '../support/once.js';
import { requireOutside } from '../support/recalculate.js';
import { savedByLibreOffice } from '../support/run-libreoffice.js';
import { bytesOf } from './bytes-of.js';

const LIMITS = ['us-nevada', 'us-new-hampshire', 'ca-ontario'];
const FLEET = [
  'inspection_id,inspected_on,unit,vehicles,released_primary_start,released_primary_end,released_time,applied_primary_start,applied_primary_end,applied_time,cut_in,cut_out,light_on_at,buildup_from,buildup_to,buildup_time',
  // 4 psi in a minute, three vehicles: within Nevada's 5 (NAC 484D.110(2)(b)), beyond New Hampshire's 3 (Saf-C 3226.04(b)(8))
  'A-1,2026-03-14,K-1,3,110,106,1:00,110,108,1:00,100,120,70,50,90,4:00',
  'A-2,2026-03-15,K-2,1,110,109,1:00,110,109,1:00,100,120,70,50,90,4:00',
  // an older inspection below a newer one; the newer one counts
  'A-3,2026-03-01,K-1,1,110,109,1:00,110,109,1:00,100,120,70,50,90,4:00',
  'A-4,2026-03-16,k-2,1,110,109,1:00,110,109,1:00,100,140,70,50,90,4:00',
  'A-5,,=SUM(A1),1,110,109,1:00,,,,,,,,,',
].join('\n');
const fleet = () => evaluateReadings(Buffer.from(FLEET), { limits: LIMITS });

async function rowsOf(bytes: Uint8Array, name: string): Promise<(string | number | boolean | null)[][]> {
  const rows: (string | number | boolean | null)[][] = [];
  for await (const row of (await openXlsx(bytes)).sheets.find((sheet) => sheet.name === name)!.table().rows) rows[row.number] = row.cells.map((cell) => plainValue(cell));
  return rows;
}

describe('the sheet Borders', () => {
  it('has one row per unit: the verdict of its latest inspection under each authority, and where they disagree', async () => {
    const rows = await rowsOf(await bytesOf(workbookOf(await fleet())), 'Borders');
    const head = rows.findIndex((row) => row?.[0] === 'Unit');
    expect(rows[head]!.slice(0, 7)).toStrictEqual(['Unit', 'Latest inspection', 'Whole verdict', 'Nevada', 'New Hampshire', 'Ontario', 'Where the sets disagree']);
    const units = new Map(rows.slice(head + 1, head + 4).map((row) => [row[0], row.slice(2, 7)]));
    expect(units.get('K-1')).toStrictEqual(['fail', 'pass', 'fail', 'recheck', 'Passes in Nevada, fails in New Hampshire, no limit in Ontario: released loss 4 psi/min.']);
    expect(units.get('K-2')).toStrictEqual(['fail', 'pass', 'fail', 'recheck', 'No limit in Nevada, fails in New Hampshire, passes in Ontario: governor cut-out 140 psi.']);
    expect(units.get('=SUM(A1)')!.map((cell) => cell ?? '')).toStrictEqual(['', '', '', '', '']);
  });

  it('counts the units, and sets the limits side by side with their citations', async () => {
    const rows = await rowsOf(await bytesOf(workbookOf(await fleet())), 'Borders');
    expect(rows[4]!.slice(0, 5)).toStrictEqual(['Authority', 'Units: pass', 'Units: fail', 'Units: recheck', 'Units: not tested']);
    expect(rows.slice(5, 8).map((row) => row.slice(0, 5))).toStrictEqual([['Nevada', 2, 0, 0, 0], ['New Hampshire', 0, 2, 0, 0], ['Ontario', 0, 0, 2, 0]]);
    const line = (measure: string): unknown[] => rows.find((row) => row?.[0] === measure)!.slice(1, 6);
    expect(line('Released loss')).toStrictEqual([
      'differ; no limit in Ontario',
      null,
      'at most 2 psi/min, if Vehicles in combination is at most 1 [NAC 484D.110(2)(b); secondary]; at most 3 psi/min, if Vehicles in combination equals 2 [NAC 484D.110(2)(b); secondary]; at most 5 psi/min, if Vehicles in combination is at least 3 [NAC 484D.110(2)(b); secondary]',
      'at most 2 psi/min, if Vehicles in combination is at most 1 [N.H. Saf-C 3226.04(b)(8); secondary]; at most 3 psi/min, if Vehicles in combination is at least 2 [N.H. Saf-C 3226.04(b)(8); secondary]',
      'no limit',
    ]);
    expect(line('Governor cut-out')).toStrictEqual(['differ; no limit in Nevada', null, 'no limit', 'at most 135 psi [N.H. Saf-C 3226.04(b); secondary]', 'at most 1000 kPa [MTO Air Brake Handbook; secondary]']);
  });

  it('tells limits that are the same from those that differ, and follows a changed limit', async () => {
    const difference = async (limits: string, measure: string): Promise<unknown> => {
      const rows = await rowsOf(await bytesOf(workbookOf(await evaluateReadings(Buffer.from(FLEET), { limits }))), 'Borders');
      return rows.find((row) => row?.[0] === measure)![1];
    };
    // "more than = fail" 2 / 3 psi in both (model manual, Section 11, older edition; Saf-C 3226.04(b)(8)); "less than" in Section 5
    expect(await difference('us-driver-licence-older-edition,us-new-hampshire', 'Released loss')).toBe('the same');
    expect(await difference('us-driver-licence-manual,us-new-hampshire', 'Released loss')).toBe('differ');
    // 3 min and 5 min from 50 to 90 psi
    expect(await difference('ca-alberta,ca-newfoundland-and-labrador', 'Build-up time')).toBe('differ');
    expect(await difference('ca-alberta,ca-british-columbia', 'Build-up time')).toBe('the same');
    expect(await difference('us-nevada,us-new-hampshire', 'Governor cut-in')).toBe('one alone; no limit in Nevada');
  });

  it('is there only with several sets', async () => {
    const names = async (limits: string): Promise<string[]> => (await openXlsx(await bytesOf(workbookOf(await evaluateReadings(Buffer.from(FLEET), { limits }))))).sheets.map(({ name }) => name);
    expect(await names('us-nevada')).not.toContain('Borders');
    expect(await names('us-nevada,ca-ontario')).toContain('Borders');
    expect((await rowsOf(await bytesOf(workbookOf(await evaluateReadings(Buffer.from(FLEET)))), 'Start here')).flat()).not.toContain('Borders');
  });

  it('goes back to the same evaluation, and verify understands it', async () => {
    const first = await fleet();
    const bytes = await bytesOf(workbookOf(first));
    const again = await evaluateReadings(bytes, { limits: LIMITS });
    expect(again.evaluations.map(({ borders, checks }) => [borders, checks])).toStrictEqual(first.evaluations.map(({ borders, checks }) => [borders, checks]));
    const { findings, limit_set: set } = await verifyWorkbook(bytes);
    expect(set.id).toBe('us-nevada,us-new-hampshire,ca-ontario');
    expect(findings).toStrictEqual([]);
  });

  it('verify names a verdict that was typed over a formula, a count that was changed, and a unit that was renamed', async () => {
    const bytes = await bytesOf(workbookOf(await fleet()));
    const titleRow = bordersTitleRow((await fleet()).plan);
    const told = async (change: (xml: string) => string): Promise<string[]> => (await verifyWorkbook(await withSheetChanged(bytes, 'Borders', change))).findings.map(({ code, sheet, cell }) => `${code} ${sheet}!${cell}`);
    const typed = (cell: string, value: string) => (xml: string): string => xml.replace(new RegExp(`<c r="${cell}"([^>]*?)( t="[a-zA-Z]+")?>.*?</c>`), `<c r="${cell}"$1 t="inlineStr"><is><t>${value}</t></is></c>`);
    expect(await told(typed(`D${titleRow + 1}`, 'passed'))).toStrictEqual([`formula_replaced Borders!D${titleRow + 1}`]);
    expect(await told((xml) => xml.replace(/(<c r="B5"[^>]*><f>.*?<\/f><v>)[^<]*/, '$177'))).toStrictEqual(['stored_value_differs Borders!B5']);
    expect(await told(typed(`A${titleRow + 1}`, 'None such'))).toContain(`stored_value_differs Borders!A${titleRow + 1}`);
  });

  it('a table has the columns too', async () => {
    const { plan, columns, evaluations } = await fleet();
    let text = '';
    for await (const line of evaluatedCsv(plan, columns, evaluations)) text += line;
    expect(text.split('\r\n')[0]).toContain('computed.us_new_hampshire_verdict');
    expect(text).toContain('"Passes in Nevada, fails in New Hampshire, no limit in Ontario: released loss 4 psi/min."');
  });

  it('JSON names the main set, all sets, the set of each check, and the verdict under each', async () => {
    const json = JSON.parse([...evaluationJson(await fleet())].join('')) as { limit_set: { id: string }; limit_sets: { id: string }[]; inspections: { borders: unknown; checks: { limit_set: string }[] }[] };
    expect(json.limit_set.id).toBe('us-nevada');
    expect(json.limit_sets.map(({ id }) => id)).toStrictEqual(LIMITS);
    expect(json.inspections[0]!.borders).toStrictEqual({ verdicts: { 'us-nevada': 'pass', 'us-new-hampshire': 'fail', 'ca-ontario': 'recheck' }, disagreement: 'Passes in Nevada, fails in New Hampshire, no limit in Ontario: released loss 4 psi/min.' });
    expect(new Set(json.inspections[0]!.checks.map((check) => check.limit_set))).toStrictEqual(new Set(LIMITS));
    const alone = JSON.parse([...evaluationJson(await evaluateReadings(Buffer.from(FLEET), { limits: 'us-nevada' }))].join('')) as typeof json;
    expect([alone.limit_sets.length, alone.inspections[0]!.borders]).toStrictEqual([1, undefined]);
  });
});

// The outside source of every expected value here is LibreOffice: it computes a twin of the workbook that holds no results.
describe('the sheet Borders, as LibreOffice computes it', { timeout: 180_000 }, () => {
  beforeEach((context) => requireOutside(context, 'soffice'));
  const BLANK = { limits: LIMITS, rows: 5 };
  /** Two fleets, and what LibreOffice saved of their workbooks and of a blank one. */
  const computed = once(async () => {
    const fleets = [await fleet(), await evaluateReadings('samples/invented-fleet.csv', { limits: LIMITS })];
    const twins = await Promise.all([...fleets.map((one) => workbookOf(one, { withoutResults: true })), blankWorkbook({ ...BLANK, withoutResults: true })].map(bytesOf));
    return { fleets, saved: await savedByLibreOffice(twins) };
  });
  const ours = ({ cell }: { readonly cell: string }): boolean => /^(Readings|Limits|Borders)!/.test(cell);

  it.each([['a small fleet', 0], ['the invented fleet', 1]])('%s', async (_name, index) => {
    const { fleets, saved } = await computed();
    const evaluated = fleets[index]!;
    const { compared, differences } = await compareWith(await bytesOf(workbookOf(evaluated)), saved[index]);
    expect(differences.filter(ours)).toStrictEqual([]);
    expect(compared).toBeGreaterThan(evaluated.evaluations.length * evaluated.plan.columns.length);
  });

  it('a blank workbook', async () => {
    const { differences } = await compareWith(await bytesOf(blankWorkbook(BLANK)), (await computed()).saved[2]);
    expect(differences.filter(ours)).toStrictEqual([]);
  });
});
