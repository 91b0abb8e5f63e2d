import { beforeEach, describe, expect, it } from 'vitest';
import { evaluateReadings, type EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import { workbookOf } from '../../src/workbook/write-workbook.js';
import { compareWith } from '../support/compare-with-recalculation.js';
import { once } from '../support/once.js';
import { requireOutside } from '../support/recalculate.js';
import { bytesOf } from './bytes-of.js';
import { recalculatedTwins } from './recalculated-twins.js';
import { withSheetChanged } from './workbook-parts.js';

/** Sets of several kinds; what each of the others computes on Readings is compared in tests/limits/every-set-agrees.test.ts. */
const SETS = ['common-practice', 'us-driver-licence-manual', 'us-nevada', 'us-new-hampshire', 'ca-quebec', 'nz-heavy-vehicle'];
const CASES = ['invented-fleet.csv', 'invented-fleet-messy.csv'].flatMap((file) => SETS.map((limits) => ({ file, limits })));

/** The fleet of each case, and its twin as LibreOffice computed it, which starts once for all of them. */
const computed = once(async () => {
  const fleets: EvaluatedFleet[] = [];
  for (const { file, limits } of CASES) fleets.push(await evaluateReadings(`samples/${file}`, { limits }));
  return { fleets, twins: await recalculatedTwins(fleets) };
});

// The outside source of every expected value here is LibreOffice: it computes a twin of the workbook that holds no results.
describe('the stored values of an evaluated workbook', { timeout: 300_000 }, () => {
  beforeEach((context) => requireOutside(context, 'soffice'));

  it.each(CASES.map(({ file, limits }, index) => ({ file, limits, index })))('are what LibreOffice computes: $file against $limits', async ({ index }) => {
    const { fleets, twins } = await computed();
    const fleet = fleets[index]!;
    const { compared, differences } = await compareWith(await bytesOf(workbookOf(fleet)), twins[index]);
    expect(differences).toStrictEqual([]);
    // Every computed column of every row, 5 formulas at least for every unit, and 8 for every line of the fail rates.
    const { units, fail_rates: rates } = fleet.summary;
    expect(compared).toBeGreaterThanOrEqual(fleet.evaluations.length * fleet.plan.columns.length + units.length * 5 + rates.length * 8);
  });

  it('are told from what LibreOffice computes: one wrong number and one wrong word are found', async () => {
    const rows = 'inspection_id,inspected_on,unit,released_primary_start,released_primary_end,released_time\nA-1,2026-03-14,K-1,104,102,1:00\nA-2,2026-03-15,K-2,104,98,1:00\n';
    const fleet = await evaluateReadings(Buffer.from(rows));
    const workbook = await bytesOf(workbookOf(fleet));
    const [twin] = await recalculatedTwins([fleet]);
    expect((await compareWith(workbook, twin)).differences).toStrictEqual([]);
    const planted = await withSheetChanged(workbook, 'Readings', (xml) => xml.replace(/(<c r="A5"[^>]*>.*?)<v>fail<\/v>/, '$1<v>pass</v>').replace('</f><v>6</v>', '</f><v>6.000001</v>').replace('/><v>6</v>', '/><v>6.000001</v>'));
    const { differences } = await compareWith(planted, twin);
    expect(differences.map(({ stored, computed }) => [stored, computed])).toStrictEqual([['pass', 'fail'], [6.000001, 6]]);
  });
});
