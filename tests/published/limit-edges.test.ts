import { describe, expect, it } from 'vitest';
import { limitSetIds, loadLimitSet } from '../../src/limits/load-limit-set.js';
import { evaluateRow, ownPlan, shippedPlan, SOURCE, verdictOf, type Row } from '../support/evaluate-rows.js';
import { digits, KPA_PER_PSI, loss } from '../support/limit-edges.js';
import { CANADA_ANSWERS, CANADA_CONDITIONS, CANADA_EDGES } from './edges-canada.js';
import { ELSEWHERE_ANSWERS, ELSEWHERE_CONDITIONS, ELSEWHERE_EDGES } from './edges-elsewhere.js';
import { USA_ANSWERS, USA_CONDITIONS, USA_EDGES } from './edges-usa.js';

describe('every limit of every shipped set has a test', () => {
  const SETS = limitSetIds().map((id) => loadLimitSet(id));

  it('at its edge: one for each alternative, two for a band', () => {
    const numeric = SETS.flatMap(({ id, checks }) => checks.filter((check) => !check.must_be && !check.no_number).flatMap((check) => Array(check.between ? 2 : 1).fill(`${id} ${check.check}`) as string[]));
    expect([...USA_EDGES, ...CANADA_EDGES, ...ELSEWHERE_EDGES].map(({ set, check }) => `${set} ${check}`).sort()).toStrictEqual(numeric.sort());
  });

  it('of its answer, where it is a yes or no or no number', () => {
    const others = SETS.flatMap(({ id, checks }) => checks.filter((check) => check.must_be || check.no_number).map((check) => `${id} ${check.check}`));
    expect([...USA_ANSWERS, ...CANADA_ANSWERS, ...ELSEWHERE_ANSWERS].map(({ set, check }) => `${set} ${check}`).sort()).toStrictEqual(others.sort());
  });

  it('of its conditions, by the words of the source', () => {
    const conditions = new Set(SETS.flatMap(({ id, conditions: all }) => all.flatMap(({ checks, source }) => checks.map((check) => `${id} ${check} ${source.printed}`))));
    expect([...new Set([...USA_CONDITIONS, ...CANADA_CONDITIONS, ...ELSEWHERE_CONDITIONS].map(({ set, check, printed }) => `${set} ${check} ${printed}`))].sort()).toStrictEqual([...conditions].sort());
  });

  it('none of which rests on memory alone unless it is optional', () => {
    for (const { id, checks } of SETS) for (const { check, optional, no_number: none, source } of checks) if (source.status === 'memory' && !none) expect([id, check, optional]).toStrictEqual([id, check, true]);
  });
});

const released = (vehicles: number) => loss('released', vehicles);
const applied = (vehicles: number) => loss('applied', vehicles);

const [NEVADA, HAMPSHIRE, MANUAL, PRACTICE] = ['us-nevada', 'us-new-hampshire', 'us-driver-licence-manual', 'common-practice'];
const [SKILLS, OLDER, CALIFORNIA, NEW_VEHICLE, IN_SERVICE] = ['us-driver-licence-skills-test', 'us-driver-licence-older-edition', 'us-california', 'us-federal-new-vehicle', 'us-federal-in-service'];
const [ONTARIO, QUEBEC, ALBERTA, BC, SASKATCHEWAN, NEWFOUNDLAND] = ['ca-ontario', 'ca-quebec', 'ca-alberta', 'ca-british-columbia', 'ca-saskatchewan', 'ca-newfoundland-and-labrador'];
const AUSTRALIA = 'au-heavy-vehicle-manual';
const pass = (...sets: string[]): Record<string, string> => Object.fromEntries(sets.map((set) => [set, 'pass']));
const fail = (...sets: string[]): Record<string, string> => Object.fromEntries(sets.map((set) => [set, 'fail']));
const kPaApplied = (kPa: number, vehicles: number): Row => loss('applied', vehicles)(kPa / KPA_PER_PSI, 'kPa');

// The words that decide each of these stand in the edges of the sets: "or less", "exceeds", "should be less than", "less than", "prior to reaching" and so on.
describe('readings exactly at an edge on which the sources differ', () => {
  it.each<readonly [string, string, Row, Record<string, string>]>([
    ['released loss 2.0 psi, single', 'released_loss', released(1)(2, 'psi'), { ...pass(NEVADA, HAMPSHIRE, OLDER, CALIFORNIA, PRACTICE), ...fail(MANUAL) }],
    ['released loss 3.0 psi, combination', 'released_loss', released(2)(3, 'psi'), { ...pass(NEVADA, HAMPSHIRE, OLDER, CALIFORNIA, PRACTICE), ...fail(MANUAL) }],
    ['released loss 3.0 psi, single', 'released_loss', released(1)(3, 'psi'), { ...pass(PRACTICE), ...fail(NEVADA, HAMPSHIRE, MANUAL, OLDER, CALIFORNIA) }],
    ['applied loss 3.0 psi, single', 'applied_loss', applied(1)(3, 'psi'), pass(NEVADA, HAMPSHIRE, MANUAL, SKILLS, OLDER, CALIFORNIA, PRACTICE, ONTARIO, NEWFOUNDLAND)],
    ['applied loss 4.0 psi, combination', 'applied_loss', applied(2)(4, 'psi'), { ...pass(NEVADA, HAMPSHIRE, MANUAL, SKILLS, OLDER, CALIFORNIA, PRACTICE, ONTARIO, SASKATCHEWAN), ...fail(NEWFOUNDLAND) }],
    ['applied loss 4.0 psi, single', 'applied_loss', applied(1)(4, 'psi'), { ...pass(PRACTICE), ...fail(NEVADA, HAMPSHIRE, MANUAL, SKILLS, CALIFORNIA, ONTARIO, NEWFOUNDLAND) }],
    ['applied loss 40 kPa, single', 'applied_loss', kPaApplied(40, 1), { ...pass(QUEBEC), ...fail(ONTARIO, AUSTRALIA) }],
    ['applied loss 48 kPa, two vehicles', 'applied_loss', kPaApplied(48, 2), { ...pass(QUEBEC), ...fail(ONTARIO, AUSTRALIA) }],
    ['applied loss 62 kPa, three vehicles', 'applied_loss', kPaApplied(62, 3), { ...pass(QUEBEC), ...fail(AUSTRALIA) }],
    ['warning at 60 psi', 'warning', { light_on_at: 60, cut_out: 120 }, pass(HAMPSHIRE, MANUAL, PRACTICE, NEW_VEHICLE, ALBERTA, BC)],
    ['warning silent at 60 psi, on just below', 'warning', { light_on_at: 59.9, cut_out: 110 }, { ...pass(HAMPSHIRE), ...fail(MANUAL, PRACTICE, ALBERTA, BC) }],
    ['warning at 55 psi', 'warning', { light_on_at: 55, cut_out: 110 }, { ...pass(HAMPSHIRE, SKILLS, CALIFORNIA, IN_SERVICE), ...fail(MANUAL, PRACTICE, NEW_VEHICLE, ALBERTA, BC) }],
    ['warning at 76 psi', 'warning', { light_on_at: 76, cut_out: 120 }, { ...pass(HAMPSHIRE, MANUAL, PRACTICE, NEW_VEHICLE), ...fail(CALIFORNIA) }],
    ['cut-in 80.0 psi', 'cut_in', { cut_in: 80, vehicles: 2, vehicle_kind: 'bus' }, { ...pass(HAMPSHIRE, BC), ...fail(SASKATCHEWAN, NEW_VEHICLE, CALIFORNIA) }],
    ['cut-in 550 kPa', 'cut_in', { cut_in: 550, pressure_unit: 'kPa' }, { ...pass(AUSTRALIA), ...fail(QUEBEC) }],
    ['cut-out 135.0 psi', 'cut_out', { cut_out: 135, vehicles: 2 }, { ...pass(HAMPSHIRE, ONTARIO, SASKATCHEWAN, BC, QUEBEC), ...fail(CALIFORNIA, NEWFOUNDLAND) }],
    ['cut-out 140 psi', 'cut_out', { cut_out: 140, vehicles: 2 }, { ...pass(ONTARIO, SASKATCHEWAN, AUSTRALIA), ...fail(HAMPSHIRE, CALIFORNIA, NEWFOUNDLAND, BC, QUEBEC) }],
    ['build-up at 5 min', 'buildup', { buildup_time: '5:00', buildup_from: 50, buildup_to: 90 }, pass(NEVADA, NEWFOUNDLAND)],
    ['build-up at 5 min, to cut-out', 'buildup', { buildup_time: '5:00', buildup_to: 120, cut_out: 120 }, pass(PRACTICE)],
    ['build-up at 45 s', 'buildup', { buildup_time: '0:45', buildup_from: 85, buildup_to: 100 }, pass(MANUAL)],
    ['build-up at 3 min, 350 to 620 kPa', 'buildup', { buildup_time: '3:00', buildup_from: 350, buildup_to: 620, pressure_unit: 'kPa' }, fail(QUEBEC)],
    ['70 % of the start left', 'reserve_left', { reserve_before: 120, reserve_after: 84 }, { ...pass(IN_SERVICE), ...fail('us-maryland') }],
    ['80 % of the start left', 'reserve_left', { reserve_before: 120, reserve_after: 96 }, pass(IN_SERVICE, 'us-maryland')],
  ])('%s', async (_reading, check, row, expected) => {
    const found = Object.fromEntries(await Promise.all(Object.keys(expected).map(async (set) => [set, await verdictOf(shippedPlan(set), check, row)] as const)));
    expect(found).toStrictEqual(expected);
  });

  // Directive 2014/45/EU Annex I 1.1.3(a), DVSA 1.1.3(a): 4 passes; 3, 2 = major; 1, 0 = dangerous
  it.each(['eu-roadworthiness', 'uk-light-vehicle'])('%s: 4, 3, 2, 1, 0 applications after the warning', async (set) => {
    const reasons = await Promise.all([4, 3, 2, 1, 0].map(async (applications_after_warning) => (await evaluateRow(shippedPlan(set), { applications_after_warning })).reason.split('.')[0]));
    expect(reasons).toStrictEqual(['Not complete', 'Fails (major defect)', 'Fails (major defect)', 'Fails (dangerous defect)', 'Fails (dangerous defect)']);
  });

  // GOST R 51709-2001 "not more than" 0.05 MPa in 15 min; Decree 1090 "0.05 MPa and more"
  it('ru-gost: 0.05 MPa in 15 min passes one rule and is prohibited by the other', async () => {
    const row = loss('applied', 1, 900, 90)(50 / KPA_PER_PSI, 'kPa');
    expect([await verdictOf(shippedPlan('ru-gost'), 'applied_loss', row), await verdictOf(shippedPlan('ru-gost'), 'applied_loss_prohibited', row)]).toStrictEqual(['pass', 'fail']);
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
  it('the span counts in the unit of the row: 50 psi and 90 psi in kPa', async () => {
    const run = (shift: number) => verdictOf(shippedPlan(NEVADA), 'buildup', { buildup_from: digits(50 * KPA_PER_PSI + shift), buildup_to: digits(90 * KPA_PER_PSI), buildup_time: '4:00', pressure_unit: 'kPa' });
    expect([await run(0), await run(0.01)]).toStrictEqual(['pass', 'recheck']);
  });

  // MTO Air Brake Handbook 10-3: 587-690 kPa (85-100 psi); 85 psi is 586.05 kPa and 100 psi is 689.48 kPa
  it('Ontario times from 587 to 690 kPa: a run from 85 psi covers more, one to 100 psi covers less', async () => {
    const run = (buildup_from: string, buildup_to: string, time: number) => verdictOf(shippedPlan(ONTARIO), 'buildup', { buildup_from, buildup_to, buildup_time: `${time} s` });
    expect([await run('85 psi', '690 kPa', 120), await run('85 psi', '690 kPa', 121), await run('587 kPa', '100 psi', 120), await run('587 kPa', '100 psi', 121), await run('587 kPa', '690 kPa', 120)]).toStrictEqual(['pass', 'recheck', 'recheck', 'fail', 'pass']);
  });
});
