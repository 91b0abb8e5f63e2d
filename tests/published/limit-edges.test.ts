import { describe, expect, it } from 'vitest';
import { limitSetIds, loadLimitSet } from '../../src/limits/load-limit-set.js';
import { ownPlan, shippedPlan, SOURCE, verdictOf, evaluateRow, type Row } from '../support/evaluate-rows.js';

// Pounds per square inch in kilopascals: NIST SP 811 (2008), Appendix B, to the digits of a double.
const KPA_PER_PSI = 6.894757293168361;
const BAR_PER_PSI = KPA_PER_PSI / 100;

const digits = (value: number): string => value.toFixed(10);

/** A loss per minute in psi, as two readings a minute apart on a gauge marked in the unit given. */
function loss(test: 'released' | 'applied', psi: number, unit: 'psi' | 'kPa' | 'bar', vehicles: number): Row {
  const [start, scale] = unit === 'psi' ? [120, 1] : unit === 'kPa' ? [800, KPA_PER_PSI] : [8, BAR_PER_PSI];
  return { [`${test}_primary_start`]: start, [`${test}_primary_end`]: digits(start - psi * scale), [`${test}_time`]: '60 s', vehicles, pressure_unit: unit };
}

const single = (name: string) => (psi: number, unit: 'psi' | 'kPa' | 'bar'): Row => ({ [name]: digits(psi * (unit === 'psi' ? 1 : unit === 'kPa' ? KPA_PER_PSI : BAR_PER_PSI)), pressure_unit: unit });
const seconds = (name: string, more: Row = {}) => (time: number): Row => ({ [name]: `${time} s`, ...more });

interface Edge {
  readonly set: string;
  readonly check: string;
  /** The source's own words and limit, which decide the verdict at the edge. */
  readonly printed: string;
  readonly citation: string;
  readonly row: (value: number, unit: 'psi' | 'kPa' | 'bar') => Row;
  readonly limit: number;
  /** The smallest step that a reading can be off the limit by. */
  readonly step: number;
  readonly below: 'pass' | 'fail';
  readonly at: 'pass' | 'fail';
  readonly above: 'pass' | 'fail';
  readonly units: readonly ('psi' | 'kPa' | 'bar')[];
}

const PRESSURE = { step: 0.01, units: ['psi', 'kPa', 'bar'] } as const;
const TIME = { step: 1, units: ['psi'] } as const;
/** "or less", "exceeds = reject", "falls more than = fail", "within": the limit itself passes. */
const ceiling = { below: 'pass', at: 'pass', above: 'fail' } as const;
/** "should be less than": the limit itself fails. */
const openCeiling = { below: 'pass', at: 'fail', above: 'fail' } as const;
/** "lower than = reject", "not active at = reject": the limit itself passes. */
const floor = { below: 'fail', at: 'pass', above: 'pass' } as const;

const released = (vehicles: number) => (psi: number, unit: 'psi' | 'kPa' | 'bar') => loss('released', psi, unit, vehicles);
const applied = (vehicles: number) => (psi: number, unit: 'psi' | 'kPa' | 'bar') => loss('applied', psi, unit, vehicles);

const EDGES: readonly Edge[] = [
  // NAC 484D.110(2)(a): "in 5 minutes or less", 50 to 90 psi
  { set: 'us-nevada', check: 'buildup', printed: 'in 5 minutes or less', citation: 'NAC 484D.110(2)(a)', row: seconds('buildup_time', { buildup_from: 50, buildup_to: 90 }), limit: 300, ...TIME, ...ceiling },
  // NAC 484D.110(2)(b): 2 / 3 / 5 pounds "or less" in 60 seconds; one, two, three or more vehicles
  { set: 'us-nevada', check: 'released_loss', printed: '2 or less, single', citation: 'NAC 484D.110(2)(b)', row: released(1), limit: 2, ...PRESSURE, ...ceiling },
  { set: 'us-nevada', check: 'released_loss', printed: '3 or less, two', citation: 'NAC 484D.110(2)(b)', row: released(2), limit: 3, ...PRESSURE, ...ceiling },
  { set: 'us-nevada', check: 'released_loss', printed: '5 or less, three or more', citation: 'NAC 484D.110(2)(b)', row: released(3), limit: 5, ...PRESSURE, ...ceiling },
  // NAC 484D.110(2)(c): 3 / 4 / 6 pounds "or less" in 60 seconds
  { set: 'us-nevada', check: 'applied_loss', printed: '3 or less, single', citation: 'NAC 484D.110(2)(c)', row: applied(1), limit: 3, ...PRESSURE, ...ceiling },
  { set: 'us-nevada', check: 'applied_loss', printed: '4 or less, two', citation: 'NAC 484D.110(2)(c)', row: applied(2), limit: 4, ...PRESSURE, ...ceiling },
  { set: 'us-nevada', check: 'applied_loss', printed: '6 or less, three or more', citation: 'NAC 484D.110(2)(c)', row: applied(3), limit: 6, ...PRESSURE, ...ceiling },
  // N.H. Saf-C 3226.04(b): "higher than" 135 psi = reject
  { set: 'us-new-hampshire', check: 'cut_out', printed: 'higher than 135 = reject', citation: 'N.H. Saf-C 3226.04(b)', row: single('cut_out'), limit: 135, ...PRESSURE, ...ceiling },
  // N.H. Saf-C 3226.04(b)(3): "lower than" 80 psi = reject
  { set: 'us-new-hampshire', check: 'cut_in', printed: 'lower than 80 = reject', citation: 'N.H. Saf-C 3226.04(b)(3)', row: single('cut_in'), limit: 80, ...PRESSURE, ...floor },
  // N.H. Saf-C 3226.04(b)(4): "more than" 30 seconds = reject
  { set: 'us-new-hampshire', check: 'recovery', printed: 'more than 30 s = reject', citation: 'N.H. Saf-C 3226.04(b)(4)', row: seconds('recovery_time'), limit: 30, ...TIME, ...ceiling },
  // N.H. Saf-C 3226.04(b)(6),(7): not active "at half the governor cut out" = reject; cut-out 120 psi here
  {
    set: 'us-new-hampshire', check: 'warning', printed: 'not active at half the cut-out = reject', citation: 'N.H. Saf-C 3226.04(b)(6),(7)', limit: 60, ...PRESSURE, ...floor,
    row: (psi, unit) => ({ ...single('light_on_at')(psi, unit), ...single('cut_out')(120, unit) }),
  },
  // N.H. Saf-C 3226.04(b)(8): "exceeds" 2 / 3 psi in 1 min = reject; single, combination
  { set: 'us-new-hampshire', check: 'released_loss', printed: 'exceeds 2 = reject, single', citation: 'N.H. Saf-C 3226.04(b)(8)', row: released(1), limit: 2, ...PRESSURE, ...ceiling },
  { set: 'us-new-hampshire', check: 'released_loss', printed: 'exceeds 3 = reject, combination', citation: 'N.H. Saf-C 3226.04(b)(8)', row: released(2), limit: 3, ...PRESSURE, ...ceiling },
  // N.H. Saf-C 3226.04(b)(9): "exceeds" 3 / 4 psi in 1 min = reject
  { set: 'us-new-hampshire', check: 'applied_loss', printed: 'exceeds 3 = reject, single', citation: 'N.H. Saf-C 3226.04(b)(9)', row: applied(1), limit: 3, ...PRESSURE, ...ceiling },
  { set: 'us-new-hampshire', check: 'applied_loss', printed: 'exceeds 4 = reject, combination', citation: 'N.H. Saf-C 3226.04(b)(9)', row: applied(3), limit: 4, ...PRESSURE, ...ceiling },
  // Model commercial driver licence manual, Section 5, Step 7: "should be less than" 2 / 3 psi in 1 min
  { set: 'us-driver-licence-manual', check: 'released_loss', printed: 'should be less than 2, single', citation: 'Model commercial driver licence manual, Section 5, Step 7', row: released(1), limit: 2, ...PRESSURE, ...openCeiling },
  { set: 'us-driver-licence-manual', check: 'released_loss', printed: 'should be less than 3, combination', citation: 'Model commercial driver licence manual, Section 5, Step 7', row: released(2), limit: 3, ...PRESSURE, ...openCeiling },
  // the same: "falls more than" 3 / 4 psi in 1 min = fail
  { set: 'us-driver-licence-manual', check: 'applied_loss', printed: 'falls more than 3 = fail, single', citation: 'Model commercial driver licence manual, Section 5, Step 7', row: applied(1), limit: 3, ...PRESSURE, ...ceiling },
  { set: 'us-driver-licence-manual', check: 'applied_loss', printed: 'falls more than 4 = fail, combination', citation: 'Model commercial driver licence manual, Section 5, Step 7', row: applied(2), limit: 4, ...PRESSURE, ...ceiling },
  // the same: before it "drops to less than" 60 psi
  { set: 'us-driver-licence-manual', check: 'warning', printed: 'before it drops to less than 60', citation: 'Model commercial driver licence manual, Section 5, Step 7', row: single('buzzer_on_at'), limit: 60, ...PRESSURE, ...floor },
  // the same: "within" 45 s, 85 to 100 psi
  { set: 'us-driver-licence-manual', check: 'buildup', printed: 'within 45 s', citation: 'Model commercial driver licence manual, Section 5, Step 7', row: seconds('buildup_time', { buildup_from: 85, buildup_to: 100 }), limit: 45, ...TIME, ...ceiling },
  // the same: "usually in a range between" 20 and 45 psi, both ends inside
  { set: 'us-driver-licence-manual', check: 'parking_valve', printed: 'between 20 and 45: lower end', citation: 'Model commercial driver licence manual, Section 5, Step 7', row: single('parking_valve_closes_at'), limit: 20, ...PRESSURE, ...floor },
  { set: 'us-driver-licence-manual', check: 'parking_valve', printed: 'between 20 and 45: upper end', citation: 'Model commercial driver licence manual, Section 5, Step 7', row: single('parking_valve_closes_at'), limit: 45, ...PRESSURE, ...ceiling },
  ...([[20, floor], [45, ceiling]] as const).map(([limit, side]): Edge => ({
    set: 'us-driver-licence-manual', check: 'trailer_valve', printed: `between 20 and 45: end at ${limit}`, citation: 'Model commercial driver licence manual, Section 5, Step 7', limit, ...PRESSURE, ...side,
    row: (psi, unit) => ({ ...single('trailer_valve_closes_at')(psi, unit), vehicles: 2 }),
  })),
  // common practice, no source: exceeds 3 / 4 psi in 1 min = reject; silent at and below 60 psi = reject; exceeds 5 min = reject
  { set: 'common-practice', check: 'released_loss', printed: 'exceeds 3 = reject', citation: 'Medium and heavy truck state-inspection style check; common practice, no source', row: released(1), limit: 3, ...PRESSURE, ...ceiling },
  { set: 'common-practice', check: 'applied_loss', printed: 'exceeds 4 = reject', citation: 'Medium and heavy truck state-inspection style check; common practice, no source', row: applied(1), limit: 4, ...PRESSURE, ...ceiling },
  { set: 'common-practice', check: 'warning', printed: 'not operating at and below 60 = reject', citation: 'Medium and heavy truck state-inspection style check; common practice, no source', row: single('light_on_at'), limit: 60, ...PRESSURE, ...floor },
  { set: 'common-practice', check: 'buildup', printed: 'exceeds 5 min = reject', citation: 'Medium and heavy truck state-inspection style check; common practice, no source', row: seconds('buildup_time', { cut_out: 125, buildup_to: 125 }), limit: 300, ...TIME, ...ceiling },
];

const CASES = EDGES.flatMap((edge) => edge.units.map((unit) => [edge.set, edge.check, edge.printed, unit, edge] as const));

describe('the printed edges of the shipped limit sets', () => {
  it.each(CASES)('%s, %s: %s (%s)', async (set, check, _printed, unit, edge) => {
    const plan = shippedPlan(set);
    const found: Record<string, string | null> = {};
    for (const [where, value] of Object.entries({ below: edge.limit - edge.step, at: edge.limit, above: edge.limit + edge.step })) found[where] = await verdictOf(plan, check, edge.row(value, unit));
    expect(found).toStrictEqual({ below: edge.below, at: edge.at, above: edge.above });
    const result = (await evaluateRow(plan, edge.row(edge.limit, unit))).checks.find((one) => one.check === check)!;
    expect(result.citation).toBe(edge.citation);
    for (const limit of [result.limit].flat()) expect(typeof limit).toBe('number');
    expect([result.limit].flat().some((limit) => Math.abs((limit as number) - edge.limit) < 1e-9)).toBe(true);
  });

  it('are all here: every numeric limit of every shipped set', () => {
    const ofSets = limitSetIds().flatMap((set) => loadLimitSet(set).checks.flatMap((check) => Array(check.between ? 2 : 1).fill(`${set} ${check.check}`) as string[]));
    expect(EDGES.map(({ set, check }) => `${set} ${check}`).sort()).toStrictEqual(ofSets.sort());
  });
});

const NEVADA = 'us-nevada';
const HAMPSHIRE = 'us-new-hampshire';
const MANUAL = 'us-driver-licence-manual';
const PRACTICE = 'common-practice';

describe('readings exactly at an edge on which the sources differ', () => {
  it.each([
    // "or less" and "exceeds = reject" take it; "should be less than" does not
    ['released loss 2.0 psi, single', 'released_loss', released(1)(2, 'psi'), { [NEVADA]: 'pass', [HAMPSHIRE]: 'pass', [MANUAL]: 'fail', [PRACTICE]: 'pass' }],
    ['released loss 3.0 psi, combination', 'released_loss', released(2)(3, 'psi'), { [NEVADA]: 'pass', [HAMPSHIRE]: 'pass', [MANUAL]: 'fail', [PRACTICE]: 'pass' }],
    ['released loss 3.0 psi, single', 'released_loss', released(1)(3, 'psi'), { [NEVADA]: 'fail', [HAMPSHIRE]: 'fail', [MANUAL]: 'fail', [PRACTICE]: 'pass' }],
    ['applied loss 3.0 psi, single', 'applied_loss', applied(1)(3, 'psi'), { [NEVADA]: 'pass', [HAMPSHIRE]: 'pass', [MANUAL]: 'pass', [PRACTICE]: 'pass' }],
    ['applied loss 4.0 psi, combination', 'applied_loss', applied(2)(4, 'psi'), { [NEVADA]: 'pass', [HAMPSHIRE]: 'pass', [MANUAL]: 'pass', [PRACTICE]: 'pass' }],
    ['applied loss 4.0 psi, single', 'applied_loss', applied(1)(4, 'psi'), { [NEVADA]: 'fail', [HAMPSHIRE]: 'fail', [MANUAL]: 'fail', [PRACTICE]: 'pass' }],
    ['warning at 60 psi', 'warning', { light_on_at: 60, cut_out: 120 }, { [HAMPSHIRE]: 'pass', [MANUAL]: 'pass', [PRACTICE]: 'pass' }],
    ['warning silent at 60 psi, on just below', 'warning', { light_on_at: 59.9, cut_out: 110 }, { [HAMPSHIRE]: 'pass', [MANUAL]: 'fail', [PRACTICE]: 'fail' }],
    ['warning at 55 psi', 'warning', { light_on_at: 55, cut_out: 110 }, { [HAMPSHIRE]: 'pass', [MANUAL]: 'fail', [PRACTICE]: 'fail' }],
    // a floor only: no ceiling in these sets
    ['warning at 76 psi', 'warning', { light_on_at: 76, cut_out: 120 }, { [HAMPSHIRE]: 'pass', [MANUAL]: 'pass', [PRACTICE]: 'pass' }],
    ['cut-in 80.0 psi', 'cut_in', { cut_in: 80 }, { [HAMPSHIRE]: 'pass' }],
    ['cut-out 135.0 psi', 'cut_out', { cut_out: 135 }, { [HAMPSHIRE]: 'pass' }],
    ['build-up at 5 min', 'buildup', { buildup_time: '5:00', buildup_from: 50, buildup_to: 90 }, { [NEVADA]: 'pass' }],
    ['build-up at 5 min, to cut-out', 'buildup', { buildup_time: '5:00', buildup_to: 120, cut_out: 120 }, { [PRACTICE]: 'pass' }],
    ['build-up at 45 s', 'buildup', { buildup_time: '0:45', buildup_from: 85, buildup_to: 100 }, { [MANUAL]: 'pass' }],
  ] as const)('%s', async (_reading, check, row, expected) => {
    const found = Object.fromEntries(await Promise.all(Object.keys(expected).map(async (set) => [set, await verdictOf(shippedPlan(set), check, row)] as const)));
    expect(found).toStrictEqual(expected);
  });
});

/** A set whose only check holds one measure against one limit, as printed. */
const printedLimit = (measure: string, comparator: string, limit: number, unit: string) => ownPlan({ checks: [{ check: 'edge', title: 'Edge', measure, [comparator]: limit, unit, source: SOURCE }] });

/** A loss of so many kPa in a minute. */
const kPaLoss = (kPa: number): Row => ({ applied_primary_start: 800, applied_primary_end: digits(800 - kPa), applied_time: '1:00', pressure_unit: 'kPa' });

describe('printed pairs of units that are not equal', () => {
  it.each([
    // the pair as printed, the reading that splits it, and which of the two it meets
    ['21 kPa = 3 psi: loss 20.8 kPa', 'applied_loss', 'at_most', [21, 'kPa/min', 'pass'], [3, 'psi/min', 'fail'], kPaLoss(20.8)],
    ['28 kPa = 4 psi: loss 27.8 kPa', 'applied_loss', 'at_most', [28, 'kPa/min', 'pass'], [4, 'psi/min', 'fail'], kPaLoss(27.8)],
    ['20 kPa = 3 psi: loss 20.5 kPa', 'applied_loss', 'at_most', [20, 'kPa/min', 'fail'], [3, 'psi/min', 'pass'], kPaLoss(20.5)],
    ['379 or 380 kPa = 55 psi: 55.0 psi', 'light_on_at', 'at_least', [379, 'kPa', 'pass'], [380, 'kPa', 'fail'], { light_on_at: 55 }],
    ['414 kPa = 60 psi: 60.0 psi', 'light_on_at', 'at_least', [414, 'kPa', 'fail'], [60, 'psi', 'pass'], { light_on_at: 60 }],
    ['420 kPa = 60 psi: 60.5 psi', 'light_on_at', 'at_least', [420, 'kPa', 'fail'], [60, 'psi', 'pass'], { light_on_at: 60.5 }],
    ['350 kPa = 50 psi: 50.5 psi', 'light_on_at', 'at_least', [350, 'kPa', 'fail'], [50, 'psi', 'pass'], { light_on_at: 50.5 }],
    ['550 or 552 kPa = 80 psi: 80.0 psi', 'cut_in', 'at_least', [550, 'kPa', 'pass'], [552, 'kPa', 'fail'], { cut_in: 80 }],
    ['620 or 621 kPa = 90 psi: 90.0 psi', 'cut_in', 'at_least', [620, 'kPa', 'pass'], [621, 'kPa', 'fail'], { cut_in: 90 }],
    ['690 kPa = 100 psi: 100.0 psi', 'cut_in', 'at_least', [690, 'kPa', 'fail'], [100, 'psi', 'pass'], { cut_in: 100 }],
    ['310 or 311 kPa = 45 psi, upper end: 45.0 psi', 'parking_valve_closes_at', 'at_most', [310, 'kPa', 'fail'], [311, 'kPa', 'pass'], { parking_valve_closes_at: 45 }],
    ['1000 kPa = 145 psi, ceiling: 999.9 kPa', 'cut_out', 'at_most', [1000, 'kPa', 'pass'], [145, 'psi', 'fail'], { cut_out: 999.9, pressure_unit: 'kPa' }],
    ['1120 kPa = 160 psi: 1110 kPa', 'cut_out', 'at_most', [1120, 'kPa', 'pass'], [160, 'psi', 'fail'], { cut_out: 1110, pressure_unit: 'kPa' }],
    ['720 kPa = 100 psi: 700 kPa', 'cut_in', 'at_least', [720, 'kPa', 'fail'], [100, 'psi', 'pass'], { cut_in: 700, pressure_unit: 'kPa' }],
  ] as const)('%s', async (_pair, measure, comparator, one, other, row) => {
    for (const [limit, unit, verdict] of [one, other]) expect(await verdictOf(printedLimit(measure, comparator, limit, unit), 'edge', row), `${limit} ${unit}`).toBe(verdict);
  });

  it('a limit printed in kPa takes a reading of exactly that many kPa, and in bar likewise', async () => {
    expect(await verdictOf(printedLimit('applied_loss', 'at_most', 21, 'kPa/min'), 'edge', kPaLoss(21))).toBe('pass');
    expect(await verdictOf(printedLimit('applied_loss', 'less_than', 21, 'kPa/min'), 'edge', kPaLoss(21))).toBe('fail');
    expect(await verdictOf(printedLimit('cut_in', 'at_least', 5.5, 'bar'), 'edge', { cut_in: 550, pressure_unit: 'kPa' })).toBe('pass');
    expect(await verdictOf(printedLimit('cut_in', 'more_than', 5.5, 'bar'), 'edge', { cut_in: 550, pressure_unit: 'kPa' })).toBe('fail');
    expect(await verdictOf(printedLimit('applied_loss', 'at_most', 0.2, 'bar/min'), 'edge', kPaLoss(20))).toBe('pass');
  });
});

describe('the conditions of the shipped sets', () => {
  it.each(limitSetIds())('%s: a loss timed for less than the printed minute cannot be decided', async (set) => {
    const plan = shippedPlan(set);
    for (const test of ['released', 'applied'] as const) {
      for (const [time, verdict] of [['59 s', 'recheck'], ['60 s', 'pass'], ['1:30', 'pass']] as const) expect(await verdictOf(plan, `${test}_loss`, { ...loss(test, 1, 'psi', 1), [`${test}_time`]: time }), `${test} ${time}`).toBe(verdict);
    }
  });

  // common practice, no source: up to 2 minutes to stabilise, longer with a trailer
  it('common practice gives the needles of a single vehicle 120 s to settle', async () => {
    const settled = (time: string, vehicles: number) => verdictOf(shippedPlan(PRACTICE), 'applied_loss', { ...loss('applied', 1, 'psi', vehicles), applied_settle_time: time });
    expect([await settled('120 s', 1), await settled('121 s', 1), await settled('121 s', 2)]).toStrictEqual(['pass', 'recheck', 'pass']);
  });

  // common practice, no source: to governor cut-out; 5 psi of tolerance for reading the gauge
  it('common practice wants the build-up to reach the cut-out, unless it was too slow already', async () => {
    const run = (buildup_to: number, time: string) => verdictOf(shippedPlan(PRACTICE), 'buildup', { buildup_from: 60, buildup_to, cut_out: 125, buildup_time: time });
    expect([await run(120, '5:00'), await run(119.9, '5:00'), await run(119.9, '5:01'), await run(130, '5:01')]).toStrictEqual(['pass', 'recheck', 'fail', 'fail']);
  });

  const SPANS = [
    // NAC 484D.110(2)(a): the rise from 50 to 90 psi, 5 minutes
    { set: NEVADA, from: 50, to: 90, at: 300 },
    // Model commercial driver licence manual, Section 5, Step 7: the rise from 85 to 100 psi, 45 seconds
    { set: MANUAL, from: 85, to: 100, at: 45 },
  ];
  it.each(SPANS)('$set: a run that covers a part of $from to $to psi proves no pass, and one that covers more proves no fault', async ({ set, from, to, at }) => {
    const run = (buildup_from: number, buildup_to: number, time: number) => verdictOf(shippedPlan(set), 'buildup', { buildup_from, buildup_to, buildup_time: `${time} s` });
    const [quick, slow] = [at, at + 1];
    expect({ quick: await run(from, to, quick), slow: await run(from, to, slow) }).toStrictEqual({ quick: 'pass', slow: 'fail' });
    // a part only
    for (const [start, end] of [[from + 0.1, to], [from, to - 0.1]] as const) expect({ quick: await run(start, end, quick), slow: await run(start, end, slow) }).toStrictEqual({ quick: 'recheck', slow: 'fail' });
    // more than the span
    for (const [start, end] of [[from - 0.1, to], [from, to + 0.1]] as const) expect({ quick: await run(start, end, quick), slow: await run(start, end, slow) }).toStrictEqual({ quick: 'pass', slow: 'recheck' });
    // a part at one end and more at the other proves nothing
    expect({ quick: await run(from + 1, to + 1, quick), slow: await run(from + 1, to + 1, slow) }).toStrictEqual({ quick: 'recheck', slow: 'recheck' });
  });

  it('the span counts in the unit of the row: 50 psi and 90 psi in kPa', async () => {
    const run = (shift: number) => verdictOf(shippedPlan(NEVADA), 'buildup', { buildup_from: digits(50 * KPA_PER_PSI + shift), buildup_to: digits(90 * KPA_PER_PSI), buildup_time: '4:00', pressure_unit: 'kPa' });
    expect([await run(0), await run(0.01)]).toStrictEqual(['pass', 'recheck']);
  });
});
