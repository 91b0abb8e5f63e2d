import { beforeAll, describe, expect, it } from 'vitest';
import { evaluateReadings, type EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import { workbookOf } from '../../src/workbook/write-workbook.js';
import { compareWithRecalculation } from '../support/compare-with-recalculation.js';
import { requireOutside } from '../support/recalculate.js';
import { bytesOf } from './bytes-of.js';
import { EVERY_KIND_CSV, ownLimitSet } from './every-kind-of-cell.js';

/** A pound is 0.453 592 37 kg, standard gravity 9.806 65 m/s2 and an inch 0.0254 m, all exact (NIST SP 811, appendix B.8); 1 bar is 100 kPa. */
const KPA_PER_PSI = (0.45359237 * 9.80665) / 0.0254 ** 2 / 1000;

describe('a small fleet with every kind of cell, against limits of a user\'s own', () => {
  let fleet: EvaluatedFleet;
  beforeAll(async () => {
    fleet = await evaluateReadings(Buffer.from(EVERY_KIND_CSV), { limits: ownLimitSet(), name: 'every-kind.csv' });
  });

  // Worked by hand from the readings and limits.
  it.each([
    ['psi/2', 'released_loss', 'pass', 2],
    ['psi/2', 'axle_load', 'pass', 9],
    ['psi/2', 'chocks', 'pass', true],
    ['psi/2', 'governor_span', 'not tested', 22],
    ['psi/2', 'rate', 'fail', 250], // at most 25 s x 100 / 50 = 50 s
    ['psi/2', 'cooling', 'pass', 120], // 2:00 against at most 2 min
    ['kPa/3', 'released_loss', 'fail', 25 / KPA_PER_PSI],
    ['kPa/3', 'warning', 'pass', 480 / KPA_PER_PSI],
    ['kPa/3', 'cut_out', 'pass', 870 / KPA_PER_PSI], // between 7.5 and 9 bar
    ['kPa/3', 'hold', 'pass', 50 / KPA_PER_PSI], // wet: more than 5 psi
    ['kPa/3', 'leak_heard', 'fail', true],
    ['bar/4', 'released_loss', 'recheck', ((0.2 / 47.5) * 60 * 100) / KPA_PER_PSI], // timed for less than a minute
    ['bar/4', 'warning', 'fail', 0], // the buzzer never sounded
    ['bar/4', 'hold', 'pass', (0.7 * 100) / KPA_PER_PSI], // a combination: more than 20 kPa
    ['bar/4', 'rate', 'pass', 202], // at most 4 x 124.7 - 101.5 = 397.4 s
    ['range/5', 'released_loss', 'fail', 5], // 104-108 down to about 101
    ['range/5', 'applied_loss', 'pass', 1.5], // 101 to 98 in 2 min
    ['range/5', 'buildup', 'pass', 252], // 4.2 min
    ['text/6', 'released_loss', 'recheck', null], // an end without a start
    ['text/6', 'buildup', 'not tested', null],
    ['text/6', 'cut_out', 'pass', 122],
    ['unit/7', 'released_loss', 'not tested', null],
    ['unit/7', 'buildup', 'pass', 250],
    ['rise/8', 'released_loss', 'recheck', 1],
    ['rise/8', 'buildup', 'recheck', 250],
    ['rise/8', 'cut_out', 'fail', 100],
    ['high/9', 'released_loss', 'recheck', 15],
    ['early/10', 'released_loss', 'recheck', 4],
    ['early/10', 'warning', 'fail', 0],
    ['noid/13', 'warning', 'pass', 60], // at least 60: 60 is inside
    ['noid/13', 'buildup', 'pass', 300], // at most 5 min: 5:00 is inside
    ['noid/13', 'axle_load', 'fail', 10], // less than 10: 10 is outside
    ['noid/13', 'reserve_left', 'pass', 0.8],
    ['noid/13', 'cut_out', 'fail', 108.7783], // 7.5 bar is 108.7783033 psi
    ['end/15', 'applied_loss', 'recheck', null],
    ['minutes/16', 'released_loss', 'not tested', null], // a bare 1 is no plausible number of seconds
    ['minutes/16', 'buildup', 'not tested', null], // 4.10 may be 4.1 min or 4:10
    ['minutes/16', 'axle_load', 'pass', 9.9995],
  ])('%s, %s: %s', (unit, check, verdict, value) => {
    const result = fleet.evaluations.find((evaluation) => evaluation.unit === unit)!.checks.find((one) => one.check === check)!;
    expect(result.verdict).toBe(verdict);
    if (typeof value === 'number') expect(result.value).toBeCloseTo(value, 6);
    else expect(result.value).toBe(value);
  });

  it('gives a row with an identity alone no verdict, and a blank row no inspection', () => {
    expect(fleet.evaluations.find(({ unit }) => unit === 'blank/11')!.verdict).toBe('not tested');
    expect([fleet.source.rows_read, fleet.source.rows_blank, fleet.source.inspections]).toStrictEqual([15, 1, 14]);
  });

  it('stores what LibreOffice computes, half-width columns and columns of the user\'s own among them', { timeout: 120_000 }, async (context) => {
    requireOutside(context, 'soffice');
    const { compared, differences } = await compareWithRecalculation(await bytesOf(workbookOf(fleet)), await bytesOf(workbookOf(fleet, { withoutResults: true })));
    expect(differences).toStrictEqual([]);
    expect(compared).toBeGreaterThanOrEqual(fleet.evaluations.length * fleet.plan.columns.length);
  });
});
