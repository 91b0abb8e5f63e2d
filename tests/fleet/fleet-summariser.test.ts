import ExcelJS from 'exceljs';
import { describe, expect, it } from 'vitest';
import { FleetSummariser } from '../../src/fleet/fleet-summariser.js';
import type { FleetSummary } from '../../src/fleet/summary.js';
import type { LimitPlan } from '../../src/limits/compile-limit-set.js';
import { evaluateRows, ownPlan, shippedPlan, SOURCE, type Row } from '../support/evaluate-rows.js';
import { recalculate, requireOutside } from '../support/recalculate.js';

const PLAN = shippedPlan('common-practice');

async function summarise(rows: readonly Row[], plan: LimitPlan = PLAN): Promise<FleetSummary> {
  const summariser = new FleetSummariser(plan);
  for (const evaluation of await evaluateRows(plan, rows)) summariser.add(evaluation);
  return summariser.result();
}

const released = (unit: string, inspected_on: string, loss: number, more: Row = {}): Row => ({ unit, inspected_on, released_primary_start: 110, released_primary_end: 110 - loss, released_time: '1:00', ...more });

describe('the units of a fleet', () => {
  it('show the latest and the worst of each', async () => {
    const { units } = await summarise([
      released('T1', '2026-02-01', 6, { site: 'North', vehicle_kind: 'truck', applied_primary_start: 100, applied_primary_end: 99, applied_time: '1:00' }),
      released('T1', '2026-03-01', 1.5, { site: 'South', vehicle_kind: 'truck' }),
      released('T1', '2026-01-01', 2, { site: 'West' }),
    ]);
    expect(units).toStrictEqual([
      {
        unit: 'T1', vehicle_kind: 'truck', site: 'South', inspections: 3, failed: 1,
        latest_on: '2026-03-01', latest_verdict: 'not tested', latest_released_loss: 1.5, latest_applied_loss: null, share_now: 0.5,
        worst_released_loss: 6, worst_applied_loss: 1, worst_share: 2,
      },
    ]);
  });

  it('take the last in the table of several on one date, and the latest that has a loss for the share now', async () => {
    const { units } = await summarise([
      released('T1', '2026-03-01', 1),
      released('T1', '2026-03-01', 2),
      { unit: 'T1', inspected_on: '2026-03-05', light_on_at: 40 },
    ]);
    expect(units[0]).toMatchObject({ latest_on: '2026-03-05', latest_verdict: 'fail', latest_released_loss: null, share_now: 2 / 3, worst_share: 2 / 3 });
  });

  it('stand in the order of the share now, then of the worst, then of the name; those without one last', async () => {
    const { units } = await summarise([
      released('B', '2026-03-01', 1.5),
      released('A', '2026-03-01', 1.5),
      { unit: 'Z', inspected_on: '2026-03-01', light_on_at: 70 },
      released('C', '2026-02-01', 2.9), released('C', '2026-03-01', 1.5),
      released('D', '2026-03-01', 2.4),
      released('E', '2026-01-01', 9), released('E', '2026-03-01', 0.3),
    ]);
    expect(units.map(({ unit }) => unit)).toStrictEqual(['D', 'C', 'A', 'B', 'E', 'Z']);
  });

  it('are the same in small and capital letters, and named as first written', async () => {
    const { units } = await summarise([released('T-7', '2026-03-01', 1), released('t-7', '2026-04-01', 2), released('__proto__', '2026-03-01', 1), released('constructor', '2026-03-01', 1)]);
    expect(units.map(({ unit, inspections }) => [unit, inspections]).sort()).toStrictEqual([['T-7', 2], ['__proto__', 1], ['constructor', 1]]);
  });

  it('take a recheck as no share of a limit', async () => {
    const { units } = await summarise([released('T1', '2026-03-01', 2, { released_time: '0:30' })]);
    expect(units[0]).toMatchObject({ latest_verdict: 'recheck', share_now: null, worst_share: null, latest_released_loss: 4, worst_released_loss: 4 });
  });

  it('rank by all checks where a set has no leak', async () => {
    const plan = ownPlan({ checks: [{ check: 'cut_out', title: 'Cut-out', measure: 'cut_out', at_most: 100, unit: 'psi', source: SOURCE }] });
    const { units } = await summarise([{ unit: 'A', cut_out: 50 }, { unit: 'B', cut_out: 80 }], plan);
    expect(units.map(({ unit, share_now }) => [unit, share_now])).toStrictEqual([['B', 0.8], ['A', 0.5]]);
  });

  it('leave out rows without a unit or a date where these are needed, and count them elsewhere', async () => {
    const { units, trend, fail_rates } = await summarise([released('', '2026-03-01', 1), released('T1', '', 1)]);
    expect(units.map(({ unit, inspections, latest_on }) => [unit, inspections, latest_on])).toStrictEqual([['T1', 1, null]]);
    expect(trend.map(({ month, inspections }) => [month, inspections])).toStrictEqual([['2026-03', 1]]);
    expect(fail_rates.find(({ name }) => name === 'Loss, brakes released')).toMatchObject({ tested: 2, failed: 0 });
  });
});

describe('fail rates', () => {
  it('have the Wilson interval', async () => {
    // Newcombe RG, Statistics in Medicine 17 (1998) 857-872: 81 of 263, 0 of 20, 1 of 29; ten digits recomputed.
    const site = (name: string, failed: number, tested: number): Row[] => Array.from({ length: tested }, (_, index) => ({ site: name, light_on_at: index < failed ? 50 : 70 }));
    const plan = ownPlan({ checks: [{ check: 'warning', title: 'Warning', measure: 'warning_on_at', at_least: 60, unit: 'psi', source: SOURCE }] });
    const { fail_rates } = await summarise([...site('North', 81, 263), ...site('South', 0, 20), ...site('West', 1, 29)], plan);
    const sites = fail_rates.filter(({ group }) => group === 'site');
    expect(sites.map(({ name, tested, failed, recheck }) => [name, tested, failed, recheck])).toStrictEqual([['North', 263, 81, 0], ['West', 29, 1, 0], ['South', 20, 0, 0]]);
    const close = (name: string, low: number, high: number): void => {
      const found = sites.find((one) => one.name === name)!;
      expect(found.low).toBeCloseTo(low, 10);
      expect(found.high).toBeCloseTo(high, 10);
    };
    close('North', 0.2552885199, 0.366209577);
    close('South', 0, 0.1611251581);
    close('West', 0.0061132143, 0.1717552188);
    expect(fail_rates.find(({ group }) => group === 'check')).toMatchObject({ name: 'Warning', tested: 312, failed: 82, rate: 82 / 312 });
  });

  it('count rechecks apart, and have no rate where nothing was tested', async () => {
    const { fail_rates } = await summarise([
      released('T1', '2026-03-01', 1, { inspector: 'Ann', released_time: '0:30' }),
      released('T2', '2026-03-01', 9, { inspector: 'ann' }),
      { unit: 'T3', inspected_on: '2026-03-01', inspector: 'Bob' },
    ]);
    expect(fail_rates.find(({ name }) => name === 'Loss, brakes released')).toMatchObject({ tested: 1, failed: 1, recheck: 1, rate: 1 });
    expect(fail_rates.filter(({ group }) => group === 'inspector')).toStrictEqual([
      { group: 'inspector', name: 'Ann', tested: 1, failed: 1, recheck: 1, rate: 1, low: expect.closeTo(0.2065493144, 9) as number, high: 1 },
      { group: 'inspector', name: 'Bob', tested: 0, failed: 0, recheck: 0, rate: null, low: null, high: null },
    ]);
  });

  it('stand in groups, worst first', async () => {
    const { fail_rates } = await summarise([released('T1', '2026-03-01', 9, { vehicle_kind: 'bus' }), released('T2', '2026-03-01', 1, { vehicle_kind: 'truck', light_on_at: 20 }), released('T3', '2026-03-01', 1, { vehicle_kind: 'bus', applied_time: '1:00' })]);
    expect(fail_rates.map(({ group }) => group)).toStrictEqual(['check', 'check', 'check', 'check', 'vehicle_kind', 'vehicle_kind']);
    expect(fail_rates.slice(0, 4).map(({ name, rate }) => [name, rate])).toStrictEqual([['Low-air warning', 1], ['Loss, brakes released', 1 / 3], ['Build-up', null], ['Loss, brakes applied', null]]);
  });
});

describe('the trend', () => {
  it('goes by month, in order', async () => {
    const { trend } = await summarise([released('T1', '2026-03-31', 9), released('T1', '2025-12-01', 1), released('T2', '2026-03-01', 1)]);
    expect(trend.map(({ month, inspections, tested, failed }) => [month, inspections, tested, failed])).toStrictEqual([['2025-12', 1, 0, 0], ['2026-03', 2, 1, 1]]);
    expect(trend[0]).toMatchObject({ rate: null, low: null, high: null, applied_loss_median: null, applied_loss_p90: null });
  });

  it('has the median and 90th percentile that a spreadsheet has', { timeout: 120_000 }, async (context) => {
    const losses = [0.4, 2.2, 1.1, 3.7, 0.9, 5.2, 1.3, 2.8, 0.1, 4.4, 1.9];
    const { trend } = await summarise(losses.map((loss, index) => released(`T${index}`, '2026-03-01', loss)));
    // By hand, type 7 of Hyndman and Fan (The American Statistician 50 (1996) 361-365): in order the 6th of 11, and the 10th.
    expect(trend[0]!.released_loss_median).toBeCloseTo(1.9, 9);
    expect(trend[0]!.released_loss_p90).toBeCloseTo(4.4, 9);
    requireOutside(context, 'soffice');
    const fewer = losses.slice(0, 8);
    const found = (await summarise(fewer.map((loss, index) => released(`T${index}`, '2026-03-01', loss)))).trend[0]!;
    const book = new ExcelJS.Workbook();
    const sheet = book.addWorksheet('Losses');
    for (const [index, loss] of fewer.entries()) sheet.getCell(`A${index + 1}`).value = loss;
    sheet.getCell('B1').value = { formula: 'MEDIAN(A1:A8)' };
    sheet.getCell('C1').value = { formula: 'PERCENTILE(A1:A8,0.9)' };
    const [, median, p90] = (await recalculate(new Uint8Array(await book.xlsx.writeBuffer()))).get('Losses')![0]!;
    expect(found.released_loss_median).toBeCloseTo(Number(median), 9);
    expect(found.released_loss_p90).toBeCloseTo(Number(p90), 9);
  });
});
