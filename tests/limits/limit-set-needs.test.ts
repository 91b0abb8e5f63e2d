import { describe, expect, it } from 'vitest';
import { limitSetSchema } from '../../src/limits/limit-set.js';
import { evaluateRow, ownPlan, ownSet, SOURCE, verdictOf, type Row } from '../support/evaluate-rows.js';

// What a limit set must be able to say. The limits here are the tests' own; the shipped sets have tests of their own under tests/published.
type Parts = Record<string, unknown>;
const check = (measure: string, limit: Parts, more: Parts = {}): Parts => ({ check: 'edge', title: more['check'] === undefined ? 'Edge' : `Edge ${String(more['check'])}`, measure, unit: 'psi', source: SOURCE, ...limit, ...more });
const column = (name: string, kind: string, more: Parts = {}): Parts => ({ name, kind, title: name, help: 'Of the test.', ...more });
const measure = (name: string, expression: string, unit = ''): Parts => ({ measure: name, title: name, unit, expression, meaning: 'Of the test.' });
const verdicts = async (parts: Parts, rows: readonly Row[], name = 'edge'): Promise<(string | null)[]> => Promise.all(rows.map((row) => verdictOf(ownPlan(parts), name, row)));
const one = (...checks: Parts[]): Parts => ({ checks });
const loss = (start: number, end: number, time = '1:00'): Row => ({ released_primary_start: start, released_primary_end: end, released_time: time });
const values = (field: string, ...numbers: readonly (number | string)[]): Row[] => numbers.map((number) => ({ [field]: number }));

describe('comparison', () => {
  it.each([
    ['at_most', { at_most: 100 }, ['pass', 'pass', 'fail']],
    ['less_than', { less_than: 100 }, ['pass', 'fail', 'fail']],
    ['at_least', { at_least: 100 }, ['fail', 'pass', 'pass']],
    ['more_than', { more_than: 100 }, ['fail', 'fail', 'pass']],
  ])('%s', async (_name, limit, expected) => {
    expect(await verdicts(one(check('cut_in', limit)), values('cut_in', 99, 100, 101))).toStrictEqual(expected);
  });

  it.each([
    ['closed at both ends', {}, ['fail', 'pass', 'pass', 'pass', 'fail'], 'between 20 and 45 psi is required.'],
    ['open below', { without_ends: 'lower' }, ['fail', 'fail', 'pass', 'pass', 'fail'], 'between 20 and 45 psi is required, the lower end itself not.'],
    ['open above', { without_ends: 'upper' }, ['fail', 'pass', 'pass', 'fail', 'fail'], 'between 20 and 45 psi is required, the upper end itself not.'],
    ['open at both ends', { without_ends: 'both' }, ['fail', 'fail', 'pass', 'fail', 'fail'], 'between 20 and 45 psi is required, the ends themselves not.'],
  ])('a band, %s', async (_name, ends, expected, words) => {
    const parts = one(check('cut_in', { between: [20, 45], ...ends }));
    expect(await verdicts(parts, values('cut_in', 19.9, 20, 30, 45, 45.1))).toStrictEqual(expected);
    expect((await evaluateRow(ownPlan(parts), { cut_in: 30 })).checks[0]!.reason).toContain(words);
  });

  it('refuses without_ends without a band', () => {
    const result = limitSetSchema.safeParse(JSON.parse(ownSet(one(check('cut_in', { at_most: 1, without_ends: 'both' })))));
    expect(result.error?.issues.map(({ message }) => message)).toStrictEqual(['without_ends is for between']);
  });

  it('"approximately" and "usually" as advice: recheck outside, never a failure', async () => {
    const parts = one(check('cut_in', { between: [90, 110] }, { severity: 'advisory' }));
    expect(await verdicts(parts, values('cut_in', 89, 90, 110, 111))).toStrictEqual(['recheck', 'pass', 'pass', 'recheck']);
    const { verdict, checks } = await evaluateRow(ownPlan(parts), { cut_in: 89 });
    expect([verdict, checks[0]!.severity, checks[0]!.reason]).toStrictEqual(['recheck', 'advisory', 'Edge: the governor cut in at 89 psi; between 90 and 110 psi is required. It is outside what the source calls usual: look up the maker\'s value.']);
  });
});

describe('limit value', () => {
  it('a constant and so much per trailer', async () => {
    expect(await verdicts(one(check('released_loss', { at_most: '15 + 5 * (vehicles - 1)' }, { unit: 'psi/min' })), [{ ...loss(100, 80), vehicles: 1 }, { ...loss(100, 80), vehicles: 2 }])).toStrictEqual(['fail', 'pass']);
  });

  it('a table by the number of vehicles', async () => {
    const rows = [1, 2, 3, 4].map((vehicles): Row => ({ ...loss(100, 96), vehicles }));
    const by = [['vehicles <= 1', 2], ['vehicles == 2', 3], ['vehicles >= 3', 5]] as const;
    expect(await verdicts(one(...by.map(([when, at_most]) => check('released_loss', { when, at_most }, { unit: 'psi/min' }))), rows)).toStrictEqual(['fail', 'fail', 'pass', 'pass']);
  });

  it('a part of another reading: of the cut-out, of the start, of the maximum seen', async () => {
    expect(await verdicts(one(check('warning_on_at', { at_least: '0.5 * cut_out' })), [{ light_on_at: 60, cut_out: 120 }, { light_on_at: 60, cut_out: 121 }, { light_on_at: 60 }])).toStrictEqual(['pass', 'fail', 'not tested']);
    expect(await verdicts(one(check('reserve_share', { at_least: 0.7 }, { unit: 'share' })), [{ reserve_before: 120, reserve_after: 84 }, { reserve_before: 120, reserve_after: 83 }])).toStrictEqual(['pass', 'fail']);
    const mostSeen = { measure: 'most_seen', title: 'Most seen', unit: 'psi', highest_of: ['cut_out', 'at_start'], meaning: 'Of the test.' };
    const seen = { measures: [measure('at_start', 'released_primary_start', 'psi'), mostSeen], checks: [check('pressure_after_applications', { at_least: '0.5 * most_seen' })] };
    expect(await verdicts(seen, [{ pressure_after_applications: 62, cut_out: 120, released_primary_start: 124 }, { pressure_after_applications: 61, cut_out: 120, released_primary_start: 124 }])).toStrictEqual(['pass', 'fail']);
  });

  it('min and max of several', async () => {
    expect(await verdicts(one(check('warning_on_at', { at_least: 'min(55, 0.5 * cut_out)' })), [{ light_on_at: 50, cut_out: 100 }, { light_on_at: 50, cut_out: 130 }, { light_on_at: 55, cut_out: 130 }])).toStrictEqual(['pass', 'fail', 'pass']);
    expect(await verdicts(one(check('recovery_time', { at_most: 'max(30, maker_buildup_time)' }, { unit: 's' })), [{ recovery_time: '40 s', maker_buildup_time: '45 s' }, { recovery_time: '46 s', maker_buildup_time: '45 s' }])).toStrictEqual(['pass', 'fail']);
  });

  it('25 s times the actual by the required reservoir volume', async () => {
    const volumes = { reservoir_volume: 8352, required_reservoir_volume: 5568 };
    expect(await verdicts(one(check('buildup_time', { at_most: '25 * reservoir_volume / required_reservoir_volume' }, { unit: 's' })), [{ buildup_time: '37.5 s', ...volumes }, { buildup_time: '38 s', ...volumes }])).toStrictEqual(['pass', 'fail']);
  });

  it('the maker\'s value, with a fallback', async () => {
    expect(await verdicts(one(check('warning_on_at', { at_least: 'given(maker_warning_at) ? maker_warning_at : 55' })), [{ light_on_at: 50, maker_warning_at: 48 }, { light_on_at: 50 }, { light_on_at: 55 }])).toStrictEqual(['pass', 'fail', 'pass']);
    const inKilopascals = one(check('warning_on_at', { when: 'given(maker_warning_at)', at_least: 'maker_warning_at' }), check('warning_on_at', { at_least: 420 }, { unit: 'kPa' }));
    expect(await verdicts(inKilopascals, [{ light_on_at: 400, maker_warning_at: 390, pressure_unit: 'kPa' }, { light_on_at: 400, pressure_unit: 'kPa' }])).toStrictEqual(['pass', 'fail']);
  });

  it('a correction for the error of the instrument', async () => {
    const parts = { columns: [column('gauge_error', 'quantity')], checks: [check('released_loss', { at_most: '3 * (1 + gauge_error / 100)' }, { unit: 'psi/min' })] };
    expect(await verdicts(parts, [{ ...loss(100, 96.9), gauge_error: 5 }, { ...loss(100, 96.9), gauge_error: 0 }])).toStrictEqual(['pass', 'fail']);
  });
});

describe('time between points', () => {
  it('from a pressure to a pressure', async () => {
    const parts = { checks: [check('buildup_time', { at_most: 1 }, { unit: 'min' })], conditions: [{ checks: ['edge'], recheck_when: '(buildup_from > 60 or buildup_to < 90) and buildup_time <= 60', say: 'a part only', source: SOURCE }] };
    expect(await verdicts(parts, [{ buildup_from: 60, buildup_to: 90, buildup_time: '60 s' }, { buildup_from: 61, buildup_to: 90, buildup_time: '60 s' }])).toStrictEqual(['pass', 'recheck']);
  });

  it('to a pressure relative to another', async () => {
    const parts = { checks: [check('buildup_time', { at_most: 5 }, { unit: 'min' })], conditions: [{ checks: ['edge'], recheck_when: 'buildup_to < 0.8 * cut_out', say: 'stopped at {entered buildup_to} {pressure_unit}', source: SOURCE }] };
    expect(await verdicts(parts, [{ buildup_to: 96, cut_out: 120, buildup_time: '4:00' }, { buildup_to: 95, cut_out: 120, buildup_time: '4:00' }])).toStrictEqual(['pass', 'recheck']);
  });

  it.each([
    ['buildup_empty_to_warning', 'empty to warning off'],
    ['buildup_after_warning', 'warning off to cut-out'],
    ['buildup_to_full', 'empty to cut-out'],
    ['buildup_to_65', 'empty to 65 %'],
    ['buildup_after_applications', 'after five applications'],
  ])('%s: from or to an event', async (name, buildup_run) => {
    const parts = one(check(name, { at_most: 3 }, { unit: 'min' }));
    expect(await verdicts(parts, [{ buildup_run, buildup_time: '3:00' }, { buildup_run, buildup_time: '3:01' }, { buildup_run: 'between pressures', buildup_time: '9:00' }, { buildup_time: '9:00' }])).toStrictEqual(['pass', 'fail', 'not tested', 'not tested']);
  });
});

describe('loss over a window', () => {
  it('per minute, or in all over several minutes', async () => {
    expect(await verdicts(one(check('released_loss', { at_most: 3 }, { unit: 'psi/min' })), [loss(100, 94, '2:00'), loss(100, 93, '2:00')])).toStrictEqual(['pass', 'fail']);
    const suspension = (end: number): Row => ({ suspension_start: 100, suspension_end: end, suspension_time: '5:00' });
    expect(await verdicts(one(check('suspension_loss', { at_most: 3 }, { unit: 'psi in 5 min' })), [suspension(97), suspension(96.9)])).toStrictEqual(['pass', 'fail']);
    const bars = (end: string): Row => ({ released_primary_start: '6 bar', released_primary_end: end, released_time: '15:00' });
    expect(await verdicts(one(check('released_loss', { at_most: 0.05 }, { unit: 'MPa in 15 min' })), [bars('5.5 bar'), bars('5.49 bar')])).toStrictEqual(['pass', 'fail']);
    expect(await verdicts(one(check('released_loss', { at_most: 0.1 }, { unit: 'MPa in 30 min' })), [bars('5.5 bar'), bars('5.49 bar')])).toStrictEqual(['pass', 'fail']);
  });

  it('with a rule of settling, of the start pressure, and a reference other than the start', async () => {
    const applied = { applied_primary_start: 100, applied_primary_end: 99, applied_time: '1:00' };
    const settled = { checks: [check('applied_loss', { at_most: 3 }, { unit: 'psi/min' })], conditions: [{ checks: ['edge'], recheck_when: 'applied_settle_time > 120 + 60 * (vehicles - 1)', say: 'settled too long', source: SOURCE }, { checks: ['edge'], recheck_when: 'applied_primary_start < 90', say: 'began too low', source: SOURCE }] };
    expect(await verdicts(settled, [{ ...applied, applied_settle_time: '2:00' }, { ...applied, applied_settle_time: '2:01' }, { ...applied, applied_settle_time: '2:01', vehicles: 2 }, { ...applied, applied_primary_start: 89, applied_primary_end: 88 }])).toStrictEqual(['pass', 'recheck', 'pass', 'recheck']);
    const below = { measures: [measure('below', '60 * (min(released_primary_start, cut_in) - released_primary_end) / released_time', 'psi/min')], checks: [check('below', { at_most: 2 }, { unit: 'psi/min' })] };
    expect(await verdicts(below, [{ ...loss(110, 98), cut_in: 100 }, { ...loss(110, 97), cut_in: 100 }])).toStrictEqual(['pass', 'fail']);
  });
});

describe('pressure at an event', () => {
  it('on the lower, the higher or one gauge, with a floor, a ceiling or a band', async () => {
    const first = { measures: [{ measure: 'first', title: 'First', unit: 'psi', highest_of: ['light_on_at', 'buzzer_on_at'], meaning: 'Of the test.' }], checks: [check('first', { at_least: 60 })] };
    const row = { light_on_at: 50, buzzer_on_at: 65 };
    expect([...(await verdicts(first, [row])), ...(await verdicts(one(check('warning_on_at', { at_least: 60 })), [row])), ...(await verdicts(one(check('buzzer_on_at', { between: [55, 75] })), [row])), ...(await verdicts(one(check('relief_valve_opens_at', { at_most: 150 })), values('relief_valve_opens_at', 150, 151)))]).toStrictEqual(['pass', 'fail', 'pass', 'pass', 'fail']);
  });

  it('falling and rising as readings of their own', async () => {
    const parts = { columns: [column('warning_off_at', 'pressure')], measures: [measure('off', 'warning_off_at', 'psi')], checks: [check('off', { at_most: 75 })] };
    expect(await verdicts(parts, values('warning_off_at', 75, 76))).toStrictEqual(['pass', 'fail']);
  });
});

describe('counts, order, hold', () => {
  it('a count of applications', async () => {
    expect(await verdicts(one(check('applications_after_warning', { at_least: 4 }, { unit: '' })), values('applications_after_warning', 4, 3))).toStrictEqual(['pass', 'fail']);
  });

  it('one event not before another', async () => {
    expect(await verdicts(one(check('warning_before_springs', { must_be: 'yes' }, { unit: '' })), [{ light_on_at: 40, parking_valve_closes_at: 40 }, { light_on_at: 39, parking_valve_closes_at: 40 }])).toStrictEqual(['pass', 'fail']);
  });

  it('a pressure held, and how long a brake held', async () => {
    expect(await verdicts(one(check('pressure_held', { at_least: 620 }, { unit: 'kPa' })), [{ pressure_held: 620, pressure_unit: 'kPa' }, { pressure_held: 619, pressure_unit: 'kPa' }])).toStrictEqual(['pass', 'fail']);
    expect(await verdicts(one(check('breakaway_hold', { at_least: 15 }, { unit: 'min' })), [{ breakaway_hold: '15:00' }, { breakaway_hold: '14:59' }])).toStrictEqual(['pass', 'fail']);
  });
});

describe('after several applications', () => {
  it('so many of them, compared with another reading or with a value of the type approval', async () => {
    const parts = { columns: [column('approved_pressure', 'pressure')], checks: [check('pressure_after_applications', { at_least: 'approved_pressure' })], conditions: [{ checks: ['edge'], recheck_when: 'applications_made < 8', say: 'only {applications_made} were made', source: SOURCE }] };
    expect(await verdicts(parts, [{ applications_made: 8, pressure_after_applications: 60, approved_pressure: 60 }, { applications_made: 8, pressure_after_applications: 59, approved_pressure: 60 }, { applications_made: 7, pressure_after_applications: 60, approved_pressure: 60 }])).toStrictEqual(['pass', 'fail', 'recheck']);
  });
});

describe('aggregates', () => {
  // Whole and half counts: 10 brakes, 2 past by 1/4 in reach 20 %; 1 by 1/4 and 1 by 1/8 in do not (CVSA, from memory)
  it('a share of chambers past the limit, counted whole and half', async () => {
    const parts = { columns: [column('chambers', 'count'), column('past_by_a_quarter', 'count'), column('past_by_less', 'count')], measures: [measure('defective', '(past_by_a_quarter + 0.5 * past_by_less) / chambers', 'share')], checks: [check('defective', { less_than: 20 }, { unit: '%', severity: 'out of service' })] };
    expect(await verdicts(parts, [{ chambers: 10, past_by_a_quarter: 2, past_by_less: 0 }, { chambers: 10, past_by_a_quarter: 1, past_by_less: 1 }])).toStrictEqual(['fail', 'pass']);
  });
});

describe('yes or no', () => {
  it('a leak heard, a signal shown, which device', async () => {
    expect(await verdicts(one(check('no_audible_leak', { must_be: 'yes' }, { unit: '' })), values('audible_leak', 'no', 'yes'))).toStrictEqual(['pass', 'fail']);
    expect(await verdicts(one(check('warning_shown', { must_be: 'yes' }, { unit: '' })), values('light_on_at', 5, 'never'))).toStrictEqual(['pass', 'fail']);
    const device = { columns: [column('device', 'choice', { choices: ['light', 'buzzer', 'both'] })], measures: [measure('seen', 'device == "light" or device == "both"')], checks: [check('seen', { must_be: 'yes' }, { unit: '' })] };
    expect(await verdicts(device, values('device', 'both', 'buzzer'))).toStrictEqual(['pass', 'fail']);
  });
});

describe('vehicle selectors', () => {
  it.each<[string, string, Row, Row]>([
    ['kind', 'vehicle_kind == "bus"', { vehicle_kind: 'bus' }, { vehicle_kind: 'truck' }],
    ['vehicles towed', 'vehicles >= 2', { vehicles: 2 }, {}],
    ['towing authorised', 'tows_air_braked', { tows_air_braked: 'yes' }, { tows_air_braked: 'no' }],
    ['built under the standard', 'built_under_standard', { built_under_standard: 'yes' }, {}],
    ['year of building', 'built_in >= 1975', { built_in: 1975 }, { built_in: 1974 }],
    ['brake system', 'brake_system == "air over hydraulic"', { brake_system: 'air over hydraulic' }, { brake_system: 'air' }],
    ['lines and circuits', 'dual_circuit', { dual_circuit: 'yes' }, { dual_circuit: 'no' }],
    ['licence class', 'licence_class == "A"', { licence_class: 'A' }, { licence_class: 'D' }],
    ['share of auxiliary reservoirs', 'auxiliary_volume / reservoir_volume > 0.2', { auxiliary_volume: 21, reservoir_volume: 100 }, { auxiliary_volume: 20, reservoir_volume: 100 }],
  ])('%s', async (_name, when, chosen, other) => {
    const columns = [column('built_in', 'quantity'), column('brake_system', 'text'), column('dual_circuit', 'yes_no'), column('licence_class', 'text'), column('auxiliary_volume', 'quantity')];
    expect(await verdicts({ columns, checks: [check('cut_in', { when, at_least: 85 })] }, [{ ...chosen, cut_in: 85 }, { ...other, cut_in: 85 }])).toStrictEqual(['pass', null]);
  });
});

describe('preconditions', () => {
  it.each<[string, string, Row, Row]>([
    ['start pressure', 'released_primary_start < 90', {}, { released_primary_start: 89.9, released_primary_end: 89 }],
    ['engine speed', 'engine_rpm > 1200', { engine_rpm: 1200 }, { engine_rpm: 1201 }],
    ['engine off', 'engine_running', { engine_running: 'no' }, { engine_running: 'yes' }],
    ['supply valve, lines, chocks', 'not chocked', { chocked: 'yes' }, { chocked: 'no' }],
    ['resolution of the gauge', 'gauge_step > 5', { gauge_step: 5 }, { gauge_step: 25 }],
    ['error of the gauge', 'gauge_error > 10', { gauge_error: 10 }, { gauge_error: 11 }],
  ])('%s', async (_name, recheck_when, met, unmet) => {
    const columns = [column('engine_running', 'yes_no'), column('chocked', 'yes_no'), column('gauge_error', 'quantity')];
    const parts = { columns, checks: [check('released_loss', { at_most: 3 }, { unit: 'psi/min' })], conditions: [{ checks: ['edge'], recheck_when, say: 'outside the conditions', source: SOURCE }] };
    expect(await verdicts(parts, [{ ...loss(100, 99), ...met }, { ...loss(100, 99), ...unmet }])).toStrictEqual(['pass', 'recheck']);
  });
});

describe('circuits', () => {
  it('each read, rejected if either fails, and their agreement', async () => {
    const row = { ...loss(100, 99), released_secondary_start: 100, released_secondary_end: 95 };
    expect(await verdicts(one(check('released_loss', { at_most: 3 }, { unit: 'psi/min' })), [row, { ...row, released_secondary_end: 98 }])).toStrictEqual(['fail', 'pass']);
    expect(await verdicts(one(check('circuit_difference', { at_most: 5 })), [{ released_primary_start: 100, released_secondary_start: 95 }, { released_primary_start: 100, released_secondary_start: 94 }])).toStrictEqual(['pass', 'fail']);
  });
});

describe('outcome', () => {
  it('several thresholds on one reading, each with its severity; the gravest opens the reason', async () => {
    const at = (name: string, at_most: number, severity: string): Parts => check('released_loss', { at_most }, { check: name, title: name, unit: 'psi/min', severity });
    const plan = ownPlan(one(at('one', 2, 'minor'), at('two', 4, 'major'), at('three', 6, 'dangerous'), at('four', 8, 'out of service')));
    const result = async (end: number): Promise<[string, string[]]> => {
      const { reason, checks } = await evaluateRow(plan, loss(100, end));
      return [reason.slice(0, reason.indexOf('.')), checks.filter(({ verdict }) => verdict === 'fail').map(({ severity }) => severity!)];
    };
    expect(await result(98)).toStrictEqual(['Passes', []]);
    expect(await result(97)).toStrictEqual(['Fails (minor defect)', ['minor']]);
    expect(await result(95)).toStrictEqual(['Fails (major defect)', ['minor', 'major']]);
    expect(await result(93)).toStrictEqual(['Fails (dangerous defect)', ['minor', 'major', 'dangerous']]);
    expect(await result(91)).toStrictEqual(['Fails (out of service)', ['minor', 'major', 'dangerous', 'out of service']]);
    const words = (await evaluateRow(plan, loss(100, 97))).checks.map(({ reason }) => / Fails \((.*?)\)\./.exec(reason)?.[1] ?? null);
    expect(words).toStrictEqual(['minor defect', null, null, null]);
  });

  it('alternatives of one check may differ in severity', async () => {
    const plan = ownPlan(one(check('cut_in', { when: 'vehicle_kind == "bus"', at_least: 85 }, { severity: 'major' }), check('cut_in', { at_least: 100 }, { severity: 'advisory' })));
    const results = await Promise.all(([{ vehicle_kind: 'bus', cut_in: 84 }, { cut_in: 84 }] as Row[]).map(async (row) => (await evaluateRow(plan, row)).checks[0]!));
    expect(results.map(({ verdict, severity }) => [verdict, severity])).toStrictEqual([['fail', 'major'], ['recheck', 'advisory']]);
  });

  it('any of several routes is enough', async () => {
    const routes = one(check('buildup_after_warning', { at_most: 3 }, { check: 'a', title: 'A', unit: 'min', either_of: 'build_up' }), check('buildup_time', { at_most: 90 }, { check: 'b', title: 'B', unit: 's', either_of: 'build_up', when: 'given(engine_rpm)' }), check('cut_in', { at_least: 85 }, { check: 'c', title: 'C' }));
    const plan = ownPlan(routes);
    const result = async (row: Row): Promise<(string | null)[]> => {
      const { verdict, checks } = await evaluateRow(plan, { cut_in: 85, buildup_from: 50, ...row });
      return [...['a', 'b'].map((name) => checks.find((one) => one.check === name)?.verdict ?? null), verdict];
    };
    const [slow, quick, other] = [{ buildup_run: 'warning off to cut-out', buildup_time: '3:01' }, { buildup_run: 'warning off to cut-out', buildup_time: '1:30' }, { buildup_time: '1:30' }];
    // one fails and the other does not apply
    expect(await result(slow)).toStrictEqual(['fail', null, 'fail']);
    // both pass; one passes and the other was not tested; all fail; one fails and the other was not tested
    expect(await result({ ...quick, engine_rpm: 1000 })).toStrictEqual(['pass', 'pass', 'pass']);
    expect(await result({ ...other, engine_rpm: 1000 })).toStrictEqual(['not tested', 'pass', 'pass']);
    expect(await result({ ...slow, engine_rpm: 1000 })).toStrictEqual(['fail', 'fail', 'fail']);
    expect(await result({ buildup_time: '1:31', engine_rpm: 1000 })).toStrictEqual(['not tested', 'recheck', 'recheck']);
    // one passes though the other fails
    expect(await result({ buildup_run: 'warning off to cut-out', buildup_time: '2:00', engine_rpm: 1000 })).toStrictEqual(['pass', 'not tested', 'pass']);
    // neither was tested
    expect(await result({ engine_rpm: 1000 })).toStrictEqual(['not tested', 'not tested', 'not tested']);
    const { checks, reason } = await evaluateRow(plan, { cut_in: 85, buildup_from: 50, buildup_run: 'warning off to cut-out', buildup_time: '2:00', engine_rpm: 1000 });
    expect(checks.find((one) => one.check === 'b')!.reason).toBe('B: not needed: it passes by another route.');
    expect(reason).toBe('Passes.');
    const open = await evaluateRow(plan, { cut_in: 85, buildup_from: 50, buildup_time: '1:31', engine_rpm: 1000 });
    expect(open.checks.find((one) => one.check === 'b')!.reason).toContain('at most 90 s is allowed. It fails by this route; the rule lets it pass by another: test that one.');
  });

  it('a route alone is refused', () => {
    expect(() => ownPlan(one(check('cut_in', { at_least: 85 }, { either_of: 'lonely' })))).toThrow('check edge, either_of: no other check is a route of lonely; give another check the same either_of, or leave it out');
  });

  it('all of several are needed', async () => {
    const plan = ownPlan(one(check('cut_in', { at_least: 85 }, { check: 'a' }), check('cut_out', { at_most: 135 }, { check: 'b' })));
    expect(await Promise.all(([{ cut_in: 85, cut_out: 135 }, { cut_in: 85, cut_out: 136 }, { cut_in: 85 }] as Row[]).map(async (row) => (await evaluateRow(plan, row)).verdict))).toStrictEqual(['pass', 'fail', 'not tested']);
  });

  it('no number in the law, a number that is not known, and one that was not measured are told apart', async () => {
    const reason = async (limit: Parts): Promise<string> => (await evaluateRow(ownPlan(one(check('cut_in', limit))), { cut_out: 120 })).checks[0]!.reason;
    expect(await reason({ no_number: true })).toBe('Edge: this authority sets no number.');
    expect(await reason({ no_number: 'not known' })).toBe('Edge: the number of this authority is not known here.');
    expect(await reason({ at_least: 85 })).toBe('Edge: not tested; blank or not understood: [Cut-in].');
  });
});

describe('rounding and units', () => {
  it('a rule of rounding of its own, and the printed unit decides', async () => {
    const whole = { measures: [measure('whole', 'round(cut_out)', 'psi')], checks: [check('whole', { at_most: 135 })] };
    expect(await verdicts(whole, values('cut_out', 135.4, 135.5))).toStrictEqual(['pass', 'fail']);
    // 55.0 psi is 379.21 kPa
    expect(await verdicts(one(check('warning_on_at', { at_least: 379 }, { unit: 'kPa' })), values('light_on_at', 55))).toStrictEqual(['pass']);
    expect(await verdicts(one(check('warning_on_at', { at_least: 380 }, { unit: 'kPa' })), values('light_on_at', 55))).toStrictEqual(['fail']);
    // 0.65 MPa is 6.5 bar
    expect(await verdicts(one(check('cut_in', { at_least: 0.65 }, { unit: 'MPa' })), [{ cut_in: 6.5, pressure_unit: 'bar' }, { cut_in: 6.49, pressure_unit: 'bar' }])).toStrictEqual(['pass', 'fail']);
  });
});

describe('provenance', () => {
  it('instrument, section, the printed words with value and unit, and the status stand beside every limit', async () => {
    const source = { citation: 'WAC 204-76-050(1)(c), 1988', printed: 'must not exceed (3 psi in 1 min)', status: 'read', note: 'law' };
    const [result] = (await evaluateRow(ownPlan(one(check('cut_in', { at_least: 85 }, { source }))), { cut_in: 85 })).checks;
    expect([result!.citation, result!.status]).toStrictEqual([source.citation, source.status]);
  });
});
