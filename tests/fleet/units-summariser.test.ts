import { describe, expect, it } from 'vitest';
import { ordinalDate, ordinalDay } from '../../src/fleet/ordinal-day.js';
import type { UnitSummary } from '../../src/fleet/unit-summary.js';
import { UnitsSummariser, type CountedDays, type UnitsSummary } from '../../src/fleet/units-summariser.js';
import type { LimitPlan } from '../../src/limits/compile-limit-set.js';
import { evaluateRows, ownPlan, shippedPlan, SOURCE, type Row } from '../support/evaluate-rows.js';

/** Released loss at most 3 psi/min, applied at most 4, warning at 60 psi or above, build-up at most 5 min; due in 12 months. */
const PLAN = shippedPlan('common-practice');

async function summarise(rows: readonly Row[], { plan = PLAN, from = null, countedTo }: Partial<CountedDays> & { plan?: LimitPlan } = {}): Promise<UnitsSummary> {
  const summariser = new UnitsSummariser(plan);
  const evaluations = await evaluateRows(plan, rows);
  for (const evaluation of evaluations) summariser.add(evaluation);
  const latest = evaluations.reduce<string | null>((last, { inspected_on: on }) => (on !== null && (last === null || on > last) ? on : last), null);
  return summariser.result({ from, countedTo: countedTo === undefined ? latest : countedTo });
}

const loss = (test: 'released' | 'applied', psi: number, circuit = 'primary'): Row => ({ [`${test}_${circuit}_start`]: 150, [`${test}_${circuit}_end`]: 150 - psi, [`${test}_time`]: '1:00' });
const released = (inspected_on: string, psi: number, more: Row = {}): Row => ({ unit: 'T1', inspected_on, ...loss('released', psi), ...more });
const only = async (...args: Parameters<typeof summarise>): Promise<UnitSummary> => {
  const { units } = await summarise(...args);
  expect(units.length).toBe(1);
  return units[0]!;
};
/** Everything a complete inspection needs beside its released loss. */
const REST: Row = { ...loss('applied', 1), light_on_at: 70, buildup_from: 60, buildup_to: 120, buildup_time: '4:00' };
const day = (number: number): string => ordinalDate(ordinalDay('2026-01-01') + number);

describe('the units of a fleet', () => {
  it('show the latest and the worst of each', async () => {
    const found = await only([
      released('2026-02-01', 6, { site: 'North', vehicle_kind: 'truck', ...loss('applied', 1) }),
      released('2026-03-01', 1.5, { site: 'South', vehicle_kind: 'truck' }),
      released('2026-01-01', 2, { site: 'West' }),
    ]);
    const { trends, ...figures } = found;
    expect(figures).toStrictEqual({
      unit: 'T1', vehicle_kind: 'truck', site: 'South', inspections: 3, failed: 1,
      latest_on: '2026-03-01', latest_verdict: 'not tested', latest_released_loss: 1.5, latest_applied_loss: null, share_now: 0.5, share_now_on: '2026-03-01',
      worst_released_loss: 6, worst_applied_loss: 1, worst_share: 2, trend_of: 'released_loss',
      open_checks: [], open_since: null, days_open: null,
      last_repair_on: null, share_before_repair: null, share_after_repair: null, next_due: '2027-03-01', overdue_days: null, buildup_explained: null,
    });
    expect(trends.map(({ measure, unit, dates, losses, limit, since_repair, direction, crossing, control }) => [measure, unit, dates, losses, limit, since_repair, direction, crossing, control])).toStrictEqual([
      ['released_loss', 'psi/min', ['2026-01-01', '2026-02-01', '2026-03-01'], [2, 6, 1.5], 3, null, 'too few inspections', 'too few inspections', null],
      ['applied_loss', 'psi/min', ['2026-02-01'], [1], 4, null, 'too few inspections', 'too few inspections', null],
    ]);
  });

  it('show the latest loss of both tests', async () => {
    expect(await only([released('2026-03-01', 1, loss('applied', 2))])).toMatchObject({ latest_released_loss: 1, latest_applied_loss: 2 });
  });

  it('lead with the loss that was measured last where no limit is on either', async () => {
    const number = (measure: string): Record<string, unknown> => ({ check: measure, title: measure, measure, no_number: true, unit: 'psi/min', source: SOURCE });
    const plan = ownPlan({ checks: [number('released_loss'), number('applied_loss')] });
    const applied = (inspected_on: string): Row => ({ unit: 'T1', inspected_on, ...loss('applied', 1) });
    expect(await only([released('2026-01-01', 1), applied('2026-02-01')], { plan })).toMatchObject({ share_now: null, trend_of: 'applied_loss' });
    expect(await only([released('2026-02-01', 1), applied('2026-01-01')], { plan })).toMatchObject({ share_now: null, trend_of: 'released_loss' });
  });

  it('follow a loss against no lower limit', async () => {
    const plan = ownPlan({ checks: [{ check: 'a', title: 'A', measure: 'released_loss', at_least: 0.5, unit: 'psi/min', source: SOURCE }] });
    expect((await only([released('2026-01-01', 1)], { plan })).trends.map(({ losses, limit }) => [losses, limit])).toStrictEqual([[[1], null]]);
  });

  it('show of their open failures the latest, whatever the order of the rows', async () => {
    const rows = [released('2026-02-01', 9), { unit: 'T1', inspected_on: '2026-01-01', light_on_at: 40 }];
    for (const [table, row] of [[rows, 2], [rows.toReversed(), 3]] as const) expect((await summarise(table)).open_work).toMatchObject([{ inspected_on: '2026-02-01', row, open_since: '2026-01-01', days_open: 31 }]);
  });

  it('that are not named count as first-time inspections, if these were decided on a day and are no retests', async () => {
    const nameless = (inspected_on: string, psi: number, more: Row = {}): Row => released(inspected_on, psi, { unit: '', ...REST, ...more });
    const rows = [nameless('2026-03-01', 9), nameless('2026-03-02', 1), nameless('2026-03-03', 1, { released_time: '0:30' }), { unit: '', inspected_on: '2026-03-04' }, nameless('2026-03-05', 9, { retest_of: 'A1' }), nameless('', 9)];
    expect((await summarise(rows)).first_time).toMatchObject({ tested: 2, passed: 1 });
    expect((await summarise(rows, { from: '2026-03-01' })).first_time).toMatchObject({ tested: 2, passed: 1 });
    expect((await summarise(rows, { from: '2026-03-02' })).first_time).toMatchObject({ tested: 1, passed: 1 });
  });

  it('take the last in the table of several on one date, and the latest that has a loss for the share now', async () => {
    expect(await only([released('2026-03-01', 1), released('2026-03-01', 2), { unit: 'T1', inspected_on: '2026-03-05', light_on_at: 40 }])).toMatchObject({
      latest_on: '2026-03-05', latest_verdict: 'fail', latest_released_loss: null, share_now: 2 / 3, share_now_on: '2026-03-01', worst_share: 2 / 3, trend_of: 'released_loss',
    });
  });

  it('stand in the order of the share now, then of the worst, then of the name; those without one last', async () => {
    const { units } = await summarise([
      released('2026-03-01', 1.5, { unit: 'B' }),
      released('2026-03-01', 1.5, { unit: 'A' }),
      { unit: 'Z', inspected_on: '2026-03-01', light_on_at: 70 },
      released('2026-02-01', 2.9, { unit: 'C' }), released('2026-03-01', 1.5, { unit: 'C' }),
      released('2026-03-01', 2.4, { unit: 'D' }),
      released('2026-01-01', 9, { unit: 'E' }), released('2026-03-01', 0.3, { unit: 'E' }),
    ]);
    expect(units.map(({ unit }) => unit)).toStrictEqual(['D', 'C', 'A', 'B', 'E', 'Z']);
  });

  it('are the same in small and capital letters, and named as first written', async () => {
    const { units, open_work } = await summarise([released('2026-03-01', 9, { unit: 'T-7' }), released('2026-04-01', 2, { unit: 't-7' }), released('2026-03-01', 1, { unit: '__proto__' }), released('2026-03-01', 1, { unit: 'constructor' })]);
    expect(units.map(({ unit, inspections }) => [unit, inspections]).sort()).toStrictEqual([['T-7', 2], ['__proto__', 1], ['constructor', 1]]);
    expect(open_work).toStrictEqual([]);
  });

  it('take a recheck as no share of a limit, and as no loss of a course', async () => {
    const found = await only([released('2026-03-01', 2, { released_time: '0:30' })]);
    expect(found).toMatchObject({ latest_verdict: 'recheck', share_now: null, share_now_on: null, worst_share: null, latest_released_loss: 4, worst_released_loss: 4, trend_of: null });
    expect(found.trends.map(({ dates }) => dates)).toStrictEqual([[], []]);
  });

  it('rank by all checks where a set has no leak, and follow the losses without a limit', async () => {
    const plan = ownPlan({ checks: [{ check: 'cut_out', title: 'Cut-out', measure: 'cut_out', at_most: 100, unit: 'psi', source: SOURCE }] });
    const { units } = await summarise([{ unit: 'A', cut_out: 50 }, { unit: 'B', cut_out: 80 }], { plan });
    expect(units.map(({ unit, share_now, trend_of, next_due }) => [unit, share_now, trend_of, next_due])).toStrictEqual([['B', 0.8, null, null], ['A', 0.5, null, null]]);
    const rows = [0, 30, 60, 90, 120].map((number) => released(day(number), 1 + number / 100, { cut_out: 50 }));
    expect(await only(rows, { plan })).toMatchObject({ trend_of: 'released_loss', trends: [{ measure: 'released_loss', limit: null, direction: 'rising', crossing: 'no limit' }, { measure: 'applied_loss', dates: [] }] });
  });

  it('count rows without a date in plain counts only', async () => {
    const { units, ...rest } = await summarise([released('', 9, { vehicle_kind: 'bus', inspection_id: 'X' }), released('', 1, { unit: 'T2' }), released('2026-03-01', 1, { unit: 'T2' })]);
    expect(units).toMatchObject([{ unit: 'T2', inspections: 2, latest_on: '2026-03-01' }, { unit: 'T1', inspections: 1, failed: 1, worst_share: 3, latest_on: null, latest_verdict: null, vehicle_kind: null, share_now: null, open_checks: [], open_since: null, next_due: null, trend_of: null }]);
    expect(rest).toMatchObject({ open_work: [], open: 0, overdue: 0, first_time: { tested: 0 }, closed: { failures: 0 } });
    expect(await summarise([released('', 9)])).toMatchObject({ units: [{ days_open: null, overdue_days: null }], open: 0, first_time: { tested: 0, passed: 0, rate: null } });
  });

  it('are none without rows, and none without a name', async () => {
    const nothing = { units: [], open_work: [], open: 0, overdue: 0, first_time: { tested: 0, passed: 0, rate: null, low: null, high: null }, closed: { failures: 0, days_median: null, days_p90: null } };
    expect(new UnitsSummariser(PLAN).result({ from: null, countedTo: null })).toStrictEqual(nothing);
    expect(await summarise([released('2026-03-01', 1, { unit: '' }), released('2026-03-01', 2, { unit: '  ' })])).toStrictEqual(nothing);
  });
});

describe('the open work of a fleet', () => {
  it('shows the latest inspection at which a check that is open failed', async () => {
    const { units, open_work, open } = await summarise(
      [
        released('2026-01-10', 5, { inspection_id: 'A', leak_place: 'hose', light_on_at: 70, site: 'North' }),
        released('2026-02-01', 6, { inspection_id: 'B', leak_place: 'gladhand', light_on_at: 50, site: 'North' }),
        // The leak is decided no more; the warning passes. Applied fails for the first time.
        { unit: 'T1', inspected_on: '2026-02-20', inspection_id: 'C', light_on_at: 70, ...loss('applied', 9), released_primary_start: 150, site: 'South' },
        { unit: 'T1', inspected_on: '2026-02-25', inspection_id: 'D', ...loss('applied', 1) },
      ],
      { countedTo: '2026-03-11' },
    );
    expect(open).toBe(1);
    // Opened on 10 January: 21 days to its end, 28 of February, 11 of March.
    expect(units[0]).toMatchObject({ open_checks: ['Loss, brakes released'], open_since: '2026-01-10', days_open: 60 });
    expect(open_work).toMatchObject([{ unit: 'T1', site: null, open_since: '2026-01-10', days_open: 60, open_checks: ['Loss, brakes released'], inspection_id: 'B', row: 3, inspected_on: '2026-02-01', leak_place: 'gladhand', repaired_on: null }]);
    expect(open_work[0]!.reason).toMatch(/^Fails\. .*6 psi\/min.* came on at 50 psi/);
    expect(typeof open_work[0]!.where_to_look).toBe('string');
  });

  it('names open checks in the order of the plan', async () => {
    const { open_work } = await summarise([{ unit: 'T1', inspected_on: '2026-01-01', light_on_at: 50 }, released('2026-02-01', 9)]);
    expect(open_work).toMatchObject([{ open_checks: ['Loss, brakes released', 'Low-air warning'], open_since: '2026-01-01', row: 3 }]);
  });

  it('is closed by a pass of the unit and check, also without a word of a retest, and by nothing else', async () => {
    const failed = released('2026-01-01', 9, { inspection_id: 'A' });
    const isOpen = async (...rows: readonly Row[]): Promise<boolean> => (await summarise([failed, ...rows])).units.find(({ unit }) => unit === 'T1')!.open_checks.length > 0;
    expect(await isOpen(released('2026-01-02', 1))).toBe(false);
    expect(await isOpen(released('2026-01-01', 1, { retest_of: 'A' }))).toBe(false);
    // Of another unit, of another check, of a test that was cut short, before the failure.
    expect(await isOpen(released('2026-01-02', 1, { unit: 'T2', retest_of: 'A' }))).toBe(true);
    expect(await isOpen({ inspected_on: '2026-01-02', retest_of: 'A', ...loss('applied', 1) })).toBe(true);
    expect(await isOpen(released('2026-01-02', 1, { released_time: '0:30', retest_of: 'A' }))).toBe(true);
    expect(await isOpen(released('2025-12-31', 1))).toBe(true);
    expect(await isOpen(released('', 1, { retest_of: 'A' }))).toBe(true);
    // A recheck between the failure and the pass.
    expect(await isOpen(released('2026-01-02', 1, { released_time: '0:30' }), released('2026-01-03', 1))).toBe(false);
    // A pass that names another unit's inspection still is a pass of this unit.
    expect(await isOpen(released('2026-01-02', 1, { retest_of: 'Z' }))).toBe(false);
  });

  it('goes by date, whatever the order of the table', async () => {
    const rows = [released('2026-03-05', 1), released('2026-03-01', 9), released('2026-02-01', 9), released('2026-02-10', 2)];
    expect(await summarise(rows)).toMatchObject({ open: 0, closed: { failures: 2 } });
    expect((await summarise([rows[1]!, rows[3]!, rows[2]!])).open_work).toMatchObject([{ open_since: '2026-03-01', row: 2 }]);
  });

  it('keeps checks apart that apply to some rows only', async () => {
    const plan = ownPlan({
      checks: [
        { check: 'single', title: 'Single', measure: 'released_loss', when: 'vehicles <= 1', at_most: 2, unit: 'psi/min', source: SOURCE },
        { check: 'coupled', title: 'Coupled', measure: 'applied_loss', when: 'vehicles >= 2', at_most: 4, unit: 'psi/min', source: SOURCE },
        { check: 'shown', title: 'Shown', measure: 'cut_out', no_number: true, unit: 'psi', source: SOURCE },
      ],
    });
    const rows = [{ ...loss('released', 3), cut_out: 999 }, { vehicles: 2, ...loss('released', 1), ...loss('applied', 1) }, { vehicles: 2, ...loss('applied', 5) }, { ...loss('applied', 1) }];
    const { units } = await summarise(rows.map((row, index) => ({ inspected_on: day(index), ...row })), { plan });
    expect(units[0]).toMatchObject({ open_checks: ['Single', 'Coupled'], open_since: day(0), trends: [{ measure: 'applied_loss', dates: [day(1), day(2)], losses: [1, 5] }, { measure: 'released_loss', dates: [day(0)], losses: [3], limit: 2 }] });
  });

  it('stands with the longest open first, then in the order of the units, and tells a repair that awaits its retest', async () => {
    const { open_work } = await summarise([
      released('2026-02-01', 4, { unit: 'A', repaired_on: '2026-02-03' }),
      released('2026-01-01', 4, { unit: 'B' }),
      released('2026-02-01', 8, { unit: 'C', repaired_on: '2026-01-31' }),
      released('2026-02-01', 7, { unit: 'D', repaired_on: '2026-02-01' }),
      released('2026-01-31', 6, { unit: 'E', repaired_on: '2026-02-01' }), released('2026-02-01', 6, { unit: 'E', retest_of: 'x' }),
    ]);
    expect(open_work.map(({ unit, days_open, repaired_on }) => [unit, days_open, repaired_on])).toStrictEqual([['B', 31, null], ['E', 1, null], ['C', 0, null], ['D', 0, '2026-02-01'], ['A', 0, null]]);
    const later = await summarise([released('2026-02-01', 4, { repaired_on: '2026-02-03' })], { countedTo: '2026-02-03' });
    expect(later.open_work).toMatchObject([{ days_open: 2, repaired_on: '2026-02-03' }]);
  });
});

describe('repairs of a unit', () => {
  it('show the share before and after the last of them', async () => {
    const rows = [released('2026-01-01', 3), released('2026-02-01', 6, { repaired_on: '2026-02-10' }), released('2026-02-10', 1.5, { retest_of: 'x' }), released('2026-03-01', 3)];
    expect(await only(rows)).toMatchObject({ last_repair_on: '2026-02-10', share_before_repair: 2, share_after_repair: 0.5 });
    expect(await only([...rows, released('2026-04-01', 1, { repaired_on: '2025-12-01' })])).toMatchObject({ last_repair_on: '2026-02-10' });
    // Before the first inspection; after the last; after the day that is counted to.
    expect(await only([released('2026-01-01', 3, { repaired_on: '2025-12-24' })])).toMatchObject({ last_repair_on: '2025-12-24', share_before_repair: null, share_after_repair: 1 });
    expect(await only([released('2026-01-01', 3, { repaired_on: '2026-01-05' })], { countedTo: '2026-01-05' })).toMatchObject({ last_repair_on: '2026-01-05', share_before_repair: 1, share_after_repair: null });
    expect(await only([released('2026-01-01', 3, { repaired_on: '2026-01-05' })])).toMatchObject({ last_repair_on: null, share_before_repair: null });
  });

  it('may be noted on any row of the unit, also on one without a date of inspection', async () => {
    const noted = { unit: 't1', inspected_on: '', repaired_on: '2026-02-10' };
    expect(await only([released('2026-02-01', 6), noted, released('2026-02-11', 3)])).toMatchObject({ last_repair_on: '2026-02-10', share_before_repair: 2, share_after_repair: 1 });
    expect((await summarise([released('2026-02-01', 6), noted], { countedTo: '2026-02-10' })).open_work).toMatchObject([{ inspected_on: '2026-02-01', repaired_on: '2026-02-10' }]);
    expect(await only([noted])).toMatchObject({ last_repair_on: null, inspections: 1 });
  });

  it('begin the course anew where they took effect', async () => {
    // One mark of 1 psi on the gauge explains 1.645/sqrt(3) = 0.95 psi/min of a difference over a minute (JCGM 100:2008, F.2.2.1).
    const rows = [2, 2.5, 3, 3.5].map((psi, index) => released(day(30 * index), psi, { readable_to: 1 }));
    const after = (psi: number): Row[] => [...rows, released(day(100), 3.5, { readable_to: 1, repaired_on: day(101) }), released(day(102), psi, { readable_to: 1 })];
    expect((await only(after(2.5))).trends[0]).toMatchObject({ since_repair: day(101), dates: [day(102)], losses: [2.5] });
    expect((await only(after(2.6))).trends[0]).toMatchObject({ since_repair: null, losses: [2, 2.5, 3, 3.5, 3.5, 2.6] });
    // The other loss has its own: nothing was lowered there.
    expect((await only(after(2.5).map((row) => ({ ...row, ...loss('applied', 2) })))).trends.find(({ measure }) => measure === 'applied_loss')).toMatchObject({ since_repair: null, losses: [2, 2, 2, 2, 2, 2] });
  });
});

describe('the trends of a unit', () => {
  const course = (losses: readonly (readonly [number, number])[], more: Row = {}): Row[] => losses.map(([number, psi]) => released(day(number), psi, more));

  it('are those of published data', async () => {
    // Sen, J. American Statistical Association 63 (1968) 1379-1389: slope 4 a day; exact two-sided p of S = 21 of 7 values 2/5040.
    const found = await only(course([[1, 9], [2, 15], [3, 19], [4, 20], [10, 45], [12, 55], [18, 78]]));
    expect(found.trends[0]).toMatchObject({ direction: 'rising', crossing: 'already reached', crosses_on: null });
    expect(found.trends[0]!.slope_per_90_days).toBeCloseTo(360, 8);
    expect(found.trends[0]!.p).toBeCloseTo(0.000396825, 9);
    expect(found).toMatchObject({ failed: 7, open_since: day(1), days_open: 17 });
  });

  it('have the control chart of published data', async () => {
    // NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2: mean 50.81, limits 55.8041 and 45.8159.
    const { control } = (await only(course([49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1].map((psi, index) => [index, psi] as const)))).trends[0]!;
    expect(control!.centre).toBeCloseTo(50.81, 8);
    expect(control!.upper).toBeCloseTo(55.8041, 4);
    expect(control!.lower).toBeCloseTo(45.8159, 4);
  });

  it('tell the day on which a loss reaches its limit', async () => {
    // By hand: on a line from 1 psi/min, 0.1 more every 30 days, the limit of 3 is reached after 600 days.
    const rows = course([1, 1.1, 1.2, 1.3, 1.4, 1.5].map((psi, index) => [30 * index, psi] as const));
    expect((await only(rows)).trends[0]).toMatchObject({ limit: 3, direction: 'rising', crossing: 'on the day shown', crosses_on: day(600) });
    expect((await only(rows.toReversed())).trends[0]).toMatchObject({ crosses_on: day(600) });
  });

  it('take the limit in the unit of the loss', async () => {
    const plan = ownPlan({ checks: [{ check: 'leaking', title: 'Leak', measure: 'released_loss', at_most: 20, unit: 'kPa/min', source: SOURCE }] });
    // 20 kPa are 2.9007547546 psi (NIST SP 811); on the line of the last test, one psi/min in 300 days: after 570.2 days.
    const found = (await only(course([1, 1.1, 1.2, 1.3, 1.4, 1.5].map((psi, index) => [30 * index, psi] as const)), { plan })).trends[0]!;
    expect(found.limit).toBeCloseTo(2.9007547546, 9);
    expect(found.crosses_on).toBe(day(570));
  });

  it('are led by the loss that uses most of its limit now', async () => {
    // Released 2 of 3 against applied 3 of 4; then 2.5 of 3.
    const first = released('2026-01-01', 2, loss('applied', 3));
    expect((await only([first])).trends.map(({ measure }) => measure)).toStrictEqual(['applied_loss', 'released_loss']);
    expect(await only([first, released('2026-01-02', 2.5, loss('applied', 3))])).toMatchObject({ trend_of: 'released_loss', trends: [{ measure: 'released_loss' }, { measure: 'applied_loss' }] });
    expect(await only([first, { unit: 'T1', inspected_on: '2026-01-03', light_on_at: 70 }])).toMatchObject({ trend_of: 'applied_loss' });
  });

  it('see a loss that never moved, whatever the pressure that it was read at', async () => {
    // 7.9 - 7.8 and 8.2 - 8.1 bar differ in floating point, and so do their losses in psi.
    const rows = [7.9, 8.2, 8, 8.1, 7.7, 8.4].map((bar, index) => ({ unit: 'T1', inspected_on: day(30 * index), pressure_unit: 'bar', released_primary_start: bar, released_primary_end: Number((bar - 0.1).toFixed(1)), released_time: '1:00' }));
    const { trends } = await only(rows);
    expect(new Set(trends[0]!.losses).size).toBe(1);
    expect(trends[0]).toMatchObject({ slope_per_90_days: 0, p: 1, direction: 'steady', control: { signals: ['never moved'], upper: null } });
  });
});

describe('the next inspection', () => {
  it('is due an interval after the latest, and overdue from the day after', async () => {
    const rows = [released('2024-02-29', 1), released('2025-06-01', 1, { unit: 'T2' })];
    const overdue = async (countedTo: string): Promise<unknown> => {
      const { units, overdue: count } = await summarise(rows, { countedTo });
      return [count, units.map(({ next_due, overdue_days }) => [next_due, overdue_days])];
    };
    expect(await overdue('2025-02-28')).toStrictEqual([0, [['2025-02-28', null], ['2026-06-01', null]]]);
    expect(await overdue('2025-06-01')).toStrictEqual([1, [['2025-02-28', 93], ['2026-06-01', null]]]);
  });

  it('may be due in days', async () => {
    const plan = ownPlan({ interval: { days: 90, source: SOURCE }, checks: [{ check: 'warning', title: 'Warning', measure: 'warning_on_at', at_least: 60, unit: 'psi', source: SOURCE }] });
    expect(await only([released('2026-01-31', 1)], { plan, countedTo: '2026-05-04' })).toMatchObject({ next_due: '2026-05-01', overdue_days: 3, share_now: null });
  });
});

describe('the follow-up of a fleet', () => {
  const rows = [
    released('2026-01-05', 1, REST),
    released('2026-02-01', 9, REST), released('2026-02-04', 9, REST), released('2026-02-11', 1, REST),
    released('2026-02-01', 9, { ...REST, unit: 'T2', inspection_id: 'B' }), released('2026-02-01', 1, { ...REST, unit: 'T2', retest_of: 'B' }),
    released('2026-02-20', 9, { ...REST, unit: 'T3' }), released('2026-03-02', 1, { ...REST, unit: 'T3' }),
    released('2026-03-01', 1, { ...REST, unit: '' }), released('2026-03-01', 1, { ...REST, unit: '', retest_of: 'B' }),
  ];

  it('counts who passed the first time', async () => {
    // First tests: T1 on 5 January (pass) and 1 February (fail), T2 on 1 February (fail), T3 on 20 February (fail), the one without a name (pass).
    expect((await summarise(rows)).first_time).toMatchObject({ tested: 5, passed: 2, rate: 0.4 });
    // Newcombe RG, Statistics in Medicine 17 (1998) 857-872 by his formula: 1 of 1 has 0.2065493144 to 1.
    expect((await summarise(rows, { from: '2026-02-21' })).first_time).toStrictEqual({ tested: 1, passed: 1, rate: 1, low: expect.closeTo(0.2065493144, 9) as number, high: 1 });
    expect((await summarise(rows, { from: '2026-02-04', countedTo: '2026-02-20' })).first_time).toMatchObject({ tested: 1, passed: 0 });
  });

  it('counts the days to close of what was closed in the period', async () => {
    // T1 10 days, T2 none, T3 10 days (eight to the end of February, two of March): median 10, 90th percentile 10; of 0 and 10 the 90th is 9.
    expect((await summarise(rows)).closed).toStrictEqual({ failures: 3, days_median: 10, days_p90: 10 });
    expect((await summarise(rows, { countedTo: '2026-02-28' })).closed).toStrictEqual({ failures: 2, days_median: 5, days_p90: 9 });
    expect((await summarise(rows, { from: '2026-03-01' })).closed).toStrictEqual({ failures: 1, days_median: 10, days_p90: 10 });
    expect((await summarise(rows, { from: '2026-03-03' })).closed).toStrictEqual({ failures: 0, days_median: null, days_p90: null });
  });
});
