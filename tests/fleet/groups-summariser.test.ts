import { describe, expect, it } from 'vitest';
import { GroupsSummariser, type GroupsSummary } from '../../src/fleet/groups-summariser.js';
import type { FailRateGroup, GroupFailRate } from '../../src/fleet/group-fail-rate.js';
import type { PeriodLength } from '../../src/fleet/period-summary.js';
import type { LimitPlan } from '../../src/limits/compile-limit-set.js';
import { evaluateRows, ownPlan, shippedPlan, SOURCE, type Row } from '../support/evaluate-rows.js';

const PLAN = shippedPlan('common-practice');
const WARNING = ownPlan({ checks: [{ check: 'warning', title: 'Warning', measure: 'warning_on_at', at_least: 60, unit: 'psi', source: SOURCE }] });

async function summarise(rows: readonly Row[], plan: LimitPlan = PLAN, by: PeriodLength | null = null): Promise<GroupsSummary> {
  const summariser = new GroupsSummariser(plan);
  for (const evaluation of await evaluateRows(plan, rows)) summariser.add(evaluation);
  return summariser.result(by);
}

const of = ({ fail_rates }: GroupsSummary, group: FailRateGroup): GroupFailRate[] => fail_rates.filter((rate) => rate.group === group);
const counts = (rates: readonly GroupFailRate[]): [string, number, number, number][] => rates.map(({ name, tested, failed, recheck }) => [name, tested, failed, recheck]);
const loss = (test: 'released' | 'applied', primary: number | null, secondary: number | null = null): Row => ({
  ...(primary === null ? {} : { [`${test}_primary_start`]: 110, [`${test}_primary_end`]: 110 - primary }),
  ...(secondary === null ? {} : { [`${test}_secondary_start`]: 110, [`${test}_secondary_end`]: 110 - secondary }),
  [`${test}_time`]: '1:00',
});
/** A group of `tested` rows of which the first `failed` fail. */
const counted = (failed: number, tested: number, row: Row): Row[] => Array.from({ length: tested }, (_, index) => ({ ...row, light_on_at: index < failed ? 50 : 70 }));
const FULL: Row = { ...loss('released', 1), ...loss('applied', 2), light_on_at: 70, buildup_from: 60, buildup_to: 120, buildup_time: '4:00' };

/** At most 3 psi in a minute brakes released, 4 applied, the warning at 60 psi or above. */
const FLEET: readonly Row[] = [
  { unit: 'T1', inspected_on: '2026-01-05', site: 'North', vehicle_kind: 'truck', inspector: 'Ann', leak_place: 'Gladhand', ...loss('released', 9, 1) },
  { unit: 't1', inspected_on: '2026-01-20', site: 'NORTH', vehicle_kind: 'truck', inspector: 'ann', leak_place: 'Rear hose', ...loss('released', 9, 8) },
  { unit: 'T2', inspected_on: '2026-03-01', site: 'South', vehicle_kind: 'bus', inspector: 'Bob', leak_place: 'REAR HOSE', ...loss('applied', 1), light_on_at: 50 },
  { unit: 'T3', inspected_on: '', site: 'south', vehicle_kind: 'bus', leak_place: 'rear hose', ...loss('released', null, 5) },
  { unit: 'T4', inspected_on: '2026-03-31', site: '__proto__', inspector: 'constructor', leak_place: 'Gladhand', ...FULL },
  { unit: 'T5', inspected_on: '2026-03-31', site: '__PROTO__', ...loss('released', 2), released_time: '0:30' },
];

describe('the groups of a fleet', () => {
  it('are counted one by one, in their order', async () => {
    const summary = await summarise(FLEET);
    expect([...new Set(summary.fail_rates.map(({ group }) => group))]).toStrictEqual(['check', 'circuit', 'site', 'vehicle_kind', 'inspector', 'limit_set', 'period']);
    // Of the two that never failed, the one with fewer tests is drawn more towards the rate of all, which is above 0.
    expect(counts(of(summary, 'check'))).toStrictEqual([['Loss, brakes released', 4, 3, 1], ['Low-air warning', 2, 1, 0], ['Build-up', 1, 0, 0], ['Loss, brakes applied', 2, 0, 0]]);
    // Primary: fails twice, passes on the third row and the fifth. Secondary: passes, fails, fails. A recheck of the last row is one of both.
    expect(counts(of(summary, 'circuit'))).toStrictEqual([['Secondary circuit', 3, 2, 1], ['Primary circuit', 4, 2, 1]]);
    expect(counts(of(summary, 'site'))).toStrictEqual([['North', 2, 2, 0], ['South', 2, 2, 0], ['__proto__', 1, 0, 1]]);
    expect(counts(of(summary, 'vehicle_kind'))).toStrictEqual([['bus', 2, 2, 0], ['truck', 2, 2, 0]]);
    expect(counts(of(summary, 'inspector'))).toStrictEqual([['Ann', 2, 2, 0], ['Bob', 1, 1, 0], ['constructor', 1, 0, 0]]);
    expect(counts(of(summary, 'limit_set'))).toStrictEqual([[PLAN.set.title, 5, 4, 1]]);
    expect(summary).toMatchObject({ inspections: 6, units: 5, tested: 5, failed: 4, recheck: 1, rate: 0.8 });
  });

  it('list checks and circuits also without a test, and no others', async () => {
    const summary = await summarise([{ unit: 'T1', site: null }]);
    expect(counts(of(summary, 'check'))).toStrictEqual([['Build-up', 0, 0, 0], ['Loss, brakes applied', 0, 0, 0], ['Loss, brakes released', 0, 0, 0], ['Low-air warning', 0, 0, 0]]);
    expect(counts(of(summary, 'circuit'))).toStrictEqual([['Primary circuit', 0, 0, 0], ['Secondary circuit', 0, 0, 0]]);
    expect([of(summary, 'site'), of(summary, 'vehicle_kind'), of(summary, 'inspector'), summary.priors, summary.reasons, summary.leak_places]).toStrictEqual([[], [], [], [], [], []]);
    expect(of(summary, 'check').map(({ rate, estimate, flag }) => [rate, estimate, flag])).toStrictEqual(Array.from({ length: 4 }, () => [null, null, 'too few to judge']));
    expect(new GroupsSummariser(WARNING).result(null)).toMatchObject({ by: 'month', trend: [], inspections: 0, units: 0, tested: 0, rate: null, fail_rates: [{ group: 'check', tested: 0 }, { group: 'limit_set', tested: 0 }] });
  });

  it('leave out a check that has no number to hold anything against', async () => {
    const plan = ownPlan({ checks: [{ check: 'warning', title: 'Warning', measure: 'warning_on_at', at_least: 60, unit: 'psi', source: SOURCE }, { check: 'cut', title: 'Cut-out', measure: 'cut_out', no_number: true, unit: 'psi', source: SOURCE }] });
    expect(counts(of(await summarise([{ light_on_at: 50, cut_out: 120 }], plan), 'check'))).toStrictEqual([['Warning', 1, 1, 0]]);
  });

  it('have the Wilson interval and flags', async () => {
    // Newcombe RG, Statistics in Medicine 17 (1998) 857-872: 81 of 263, 0 of 20, 1 of 29; ten digits recomputed.
    const summary = await summarise([...counted(81, 263, { site: 'North' }), ...counted(0, 20, { site: 'South' }), ...counted(1, 29, { site: 'West' })], WARNING);
    expect(of(summary, 'site').map(({ name, failed, tested, low, high }) => [name, failed, tested, low, high])).toStrictEqual([
      ['North', 81, 263, expect.closeTo(0.2552885199, 9), expect.closeTo(0.366209577, 9)],
      ['West', 1, 29, expect.closeTo(0.0061132143, 9), expect.closeTo(0.1717552188, 9)],
      ['South', 0, 20, 0, expect.closeTo(0.1611251581, 9)],
    ]);
    // Limits around 82 of 312 by Spiegelhalter's formula, with SciPy's binomial distribution: of 263 from 2.5 % at 54.857 to
    // 97.5 % at 82.839 failures; of 29 0.1 % at 0.573 and 2.5 % at 2.665; of 20 0.1 % at 0 (below it) and 2.5 % at 1.124.
    expect(of(summary, 'site').map(({ flag }) => flag)).toStrictEqual(['as the others', 'lower than the others', 'lower than the others']);
  });

  it('have the estimates of the rat tumours', async () => {
    // Tarone 1982; Gelman et al., Bayesian Data Analysis, 3rd ed., Table 5.1. Maximum likelihood over the 71 groups (SciPy):
    // alpha 2.341614, beta 14.114801; so 4 of 14 become (4 + 2.341614) / (14 + 16.456415) = 0.208220.
    const repeat = (value: number, times: number): number[] => Array.from({ length: times }, () => value);
    const y = [...repeat(0, 14), ...repeat(1, 8), ...repeat(2, 9), 1, 5, 2, 5, 3, 2, 7, 7, 3, 3, 2, 9, 10, ...repeat(4, 7), 10, 4, 4, 4, 5, 11, 12, 5, 5, 6, 5, 6, 6, 6, 6, 16, 15, 15, 9, 4];
    const n = [...repeat(20, 7), ...repeat(19, 4), ...repeat(18, 2), 17, ...repeat(20, 4), ...repeat(19, 2), ...repeat(18, 2), 25, 24, 23, ...repeat(20, 6), 10, 49, 19, 46, 27, 17, 49, 47, 20, 20, 13, 48, 50, ...repeat(20, 7), 48, 19, 19, 19, 22, 46, 49, 20, 20, 23, 19, 22, 20, 20, 20, 52, 46, 47, 24, 14];
    expect([y.length, n.length, y.reduce((a, b) => a + b), n.reduce((a, b) => a + b)]).toStrictEqual([71, 71, 267, 1739]);
    const summary = await summarise(y.flatMap((failed, index) => counted(failed, n[index]!, { site: `group ${index + 1}` })), WARNING);
    const [prior] = summary.priors;
    expect(summary.priors.map(({ group }) => group)).toStrictEqual(['site']);
    expect(prior!.mean).toBeCloseTo(0.142292, 4);
    expect(14 / (14 + prior!.weight!)).toBeCloseTo(14 / 30.456415, 3);
    const last = of(summary, 'site').find(({ name }) => name === 'group 71')!;
    expect(last).toMatchObject({ tested: 14, failed: 4, rate: 4 / 14 });
    expect(last.estimate).toBeCloseTo(0.20822, 3);
    const estimates = of(summary, 'site').map(({ estimate }) => estimate!);
    expect(estimates).toStrictEqual(estimates.toSorted((a, b) => b - a));
  });
});

describe('the periods of a fleet', () => {
  it('have the rates of the trend, also the empty ones, and leave out what has no date', async () => {
    const summary = await summarise(FLEET, PLAN, 'month');
    expect(summary.trend.map(({ period, inspections, units, tested, failed, recheck }) => [period, inspections, units, tested, failed, recheck])).toStrictEqual([['2026-01', 2, 1, 2, 2, 0], ['2026-02', 0, 0, 0, 0, 0], ['2026-03', 3, 3, 2, 1, 1]]);
    expect(of(summary, 'period').map(({ name, tested, failed, recheck, rate, low, high }) => [name, tested, failed, recheck, rate, low, high])).toStrictEqual(summary.trend.map(({ period, tested, failed, recheck, rate, low, high }) => [period, tested, failed, recheck, rate, low, high]));
    expect([summary.by, (await summarise(FLEET)).by, (await summarise(FLEET, PLAN, 'quarter')).trend.map(({ period }) => period)]).toStrictEqual(['month', 'month', ['2026-Q1']]);
  });

  it('show the trend of the fail rate that R shows', async () => {
    // R, help of prop.trend.test: smokers 83, 90, 129, 70 of 86, 93, 136, 82 patients: X-squared = 8.2249, df = 1, p-value = 0.004132.
    const months = [[83, 86], [90, 93], [129, 136], [70, 82]] as const;
    const { trends } = await summarise(months.flatMap(([failed, tested], index) => counted(failed, tested, { inspected_on: `2026-0${index + 1}-15` })), WARNING);
    expect(trends[0]).toMatchObject({ figure: 'fail_rate', periods: 4, p: expect.closeTo(0.004132, 6) as number, direction: 'getting better' });
    expect(trends.slice(1).map(({ figure, direction }) => [figure, direction])).toStrictEqual([['released_loss_median', 'too few periods'], ['applied_loss_median', 'too few periods'], ['buildup_time_median', 'too few periods']]);
  });

  it('give the medians of all inspections, with and without a date', async () => {
    // Released losses 9, 9, 5, 1 and 2 psi in half a minute, 4 a minute; applied 1 and 2; one build-up of 4 min.
    expect(await summarise(FLEET)).toMatchObject({ released_loss_median: 5, applied_loss_median: 1.5, buildup_time_median: 240 });
  });
});

describe('the reasons of failures', () => {
  it('are told by check and circuit, most first, and the places that were heard', async () => {
    const { reasons, leak_places } = await summarise(FLEET);
    expect(reasons).toStrictEqual([
      { reason: 'Loss, brakes released: both circuits', failed: 1, share: 0.25, running_share: 0.25 },
      { reason: 'Loss, brakes released: primary circuit', failed: 1, share: 0.25, running_share: 0.5 },
      { reason: 'Loss, brakes released: secondary circuit', failed: 1, share: 0.25, running_share: 0.75 },
      { reason: 'Low-air warning', failed: 1, share: 0.25, running_share: 1 },
    ]);
    expect(leak_places).toStrictEqual([{ reason: 'Rear hose', failed: 3, share: 0.75, running_share: 0.75 }, { reason: 'Gladhand', failed: 1, share: 0.25, running_share: 1 }]);
  });

  it('count every check that failed on one inspection', async () => {
    const { reasons, failed } = await summarise([{ ...loss('released', 9), ...loss('applied', 9, 9), light_on_at: 20 }, { ...loss('released', 9), light_on_at: 20 }]);
    expect([failed, reasons.map(({ reason, failed: count }) => [reason, count])]).toStrictEqual([2, [['Loss, brakes released: primary circuit', 2], ['Low-air warning', 2], ['Loss, brakes applied: both circuits', 1]]]);
  });
});

it('the order of the rows does not matter', async () => {
  const turned = await summarise(FLEET.toReversed());
  const names = (summary: GroupsSummary): unknown => JSON.parse(JSON.stringify(summary).toLowerCase());
  expect(names(turned)).toStrictEqual(names(await summarise(FLEET)));
});
