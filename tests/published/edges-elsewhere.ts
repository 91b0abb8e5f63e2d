import { buildup, ceiling, count, floor, KPA_PER_PSI, loss, minuteOf, openCeiling, reading, seconds, type Answer, type ConditionCase, type Edge, type Gauge } from '../support/limit-edges.js';
import type { Row } from '../support/evaluate-rows.js';

const WA = 'Road Traffic (Vehicles) Regulations 2014 (WA) r. 334';
const MANUAL = 'Heavy vehicle inspection manual, air brake system integrity (Tasmania, v6, Nov 2010, s. 2.7), ';
const NZ = 'NZ VIRM, Heavy Vehicle Specialist Certification 5-2';
const R13 = 'R13 Annex 7 A 2.2-2.4';
const EU = 'Directive 2014/45/EU Annex I ';
const MOT = 'DVSA MOT inspection manual ';
const GOST = 'GOST R 51709-2001';
const DECREE = 'Government Decree 1090 (1993), list item 1.3';
const [AU_MANUAL, AU_WEST] = ['au-heavy-vehicle-manual', 'au-western-australia'];

const run = (buildup_run: string, more: Row = {}) => seconds('buildup_time', { buildup_run, ...more });
/** After so many applications so much is left, of a cut-out of 120 psi. */
const left = (applications_made: number) => (psi: number, gauge: Gauge): Row => reading('pressure_after_applications', { cut_out: 120 }, { applications_made })(psi, gauge);
/** Either loss over so many minutes, from below the lower governor limit. */
const gostLoss = (test: 'released' | 'applied', minutes: number) => loss(test, 1, 60 * minutes, 90);

export const ELSEWHERE_EDGES: readonly Edge[] = [
  // Road Traffic (Vehicles) Regulations 2014 (WA) r. 334(1): (a) not over 5 min to 80 % of cut-out from a fully used reserve; (b) not below half of cut-out after 5 applications
  { set: AU_WEST, check: 'buildup', printed: 'not over 5 min', citation: `${WA}(1)(a)`, limit: 5, unit: 'min', sides: ceiling, row: buildup(0, 96, { cut_out: 120 }) },
  { set: AU_WEST, check: 'reserve_left', printed: 'not below half of cut-out', citation: `${WA}(1)(b)`, limit: 60, unit: 'psi', sides: floor, row: left(5) },

  // Heavy vehicle inspection manual, air brake system integrity: step 1, no warning when lowered to less than 420 kPa (ADR 35) or 350 kPa (before) = reject, unless the maker says otherwise
  { set: AU_MANUAL, check: 'warning', printed: 'the maker\'s 300 kPa', citation: `${MANUAL}step 1`, limit: 300, unit: 'kPa', sides: floor, row: reading('light_on_at', { maker_warning_at: 300 / KPA_PER_PSI }) },
  { set: AU_MANUAL, check: 'warning', printed: 'less than 350 kPa = reject, before ADR 35', citation: `${MANUAL}step 1`, limit: 350, unit: 'kPa', sides: floor, row: reading('light_on_at', {}, { built_under_standard: 'no' }) },
  { set: AU_MANUAL, check: 'warning', printed: 'less than 420 kPa = reject', citation: `${MANUAL}step 1`, limit: 420, unit: 'kPa', sides: floor, row: reading('light_on_at', {}, { built_under_standard: 'yes' }) },
  // step 2: more than 1120 kPa, less than 720 kPa = reject; step 3: less than 550 kPa = reject; unless the maker says otherwise
  { set: AU_MANUAL, check: 'cut_out', printed: 'the maker\'s 1200 kPa', citation: `${MANUAL}step 2`, limit: 1200, unit: 'kPa', sides: ceiling, row: reading('cut_out', { maker_cut_out: 1200 / KPA_PER_PSI }) },
  { set: AU_MANUAL, check: 'cut_out', printed: 'no lower end where the maker says otherwise', citation: `${MANUAL}step 2`, limit: 0, unit: 'kPa', sides: ['not tested', 'pass', 'pass'], row: reading('cut_out', { maker_cut_out: 1200 / KPA_PER_PSI }) },
  { set: AU_MANUAL, check: 'cut_out', printed: 'less than 720 kPa = reject', citation: `${MANUAL}step 2`, limit: 720, unit: 'kPa', sides: floor, row: reading('cut_out') },
  { set: AU_MANUAL, check: 'cut_out', printed: 'more than 1120 kPa = reject', citation: `${MANUAL}step 2`, limit: 1120, unit: 'kPa', sides: ceiling, row: reading('cut_out') },
  { set: AU_MANUAL, check: 'cut_in', printed: 'the maker\'s 500 kPa', citation: `${MANUAL}step 3`, limit: 500, unit: 'kPa', sides: floor, row: reading('cut_in', { maker_cut_in: 500 / KPA_PER_PSI }) },
  { set: AU_MANUAL, check: 'cut_in', printed: 'less than 550 kPa = reject', citation: `${MANUAL}step 3`, limit: 550, unit: 'kPa', sides: floor, row: reading('cut_in') },
  // step 4: more than 20 kPa + 5 kPa per trailer per min = reject; step 5: 15 + 5; two vehicles are one trailer
  { set: AU_MANUAL, check: 'applied_loss', printed: 'more than 20 + 5 kPa = reject, one trailer', citation: `${MANUAL}step 4`, limit: 25, unit: 'kPa', sides: ceiling, row: loss('applied', 2) },
  { set: AU_MANUAL, check: 'released_loss', printed: 'more than 15 + 10 kPa = reject, two trailers', citation: `${MANUAL}step 5`, limit: 25, unit: 'kPa', sides: ceiling, row: loss('released', 3) },
  // step 6: less than 50 % of the maximum seen = reject, after four more; later step, from memory: not over 5 min to 80 % of the maximum
  { set: AU_MANUAL, check: 'reserve_left', printed: 'less than 50 % of the maximum = reject', citation: `${MANUAL}step 6`, limit: 60, unit: 'psi', sides: floor, row: left(4) },
  { set: AU_MANUAL, check: 'buildup', printed: 'not over 5 min', citation: `${MANUAL}later step`, limit: 5, unit: 'min', sides: ceiling, row: buildup(0, 96, { cut_out: 120 }) },

  // NZ VIRM 5-2: item 4(a) not more than 3 min, warning off to maximum; items 2, 3 (bus) and 4(b) not more than 90 s after five applications; the other route failed here
  { set: 'nz-heavy-vehicle', check: 'buildup_applications', printed: 'not more than 90 s, bus', citation: `${NZ} items 2, 3`, limit: 90, unit: 's', sides: ceiling, row: run('after five applications', { vehicle_kind: 'bus' }) },
  { set: 'nz-heavy-vehicle', check: 'buildup_applications', printed: 'not more than 90 s, route (b), the other untested', citation: `${NZ} item 4(b)`, limit: 90, unit: 's', sides: ['pass', 'pass', 'recheck'], row: run('after five applications', { vehicle_kind: 'truck' }) },
  { set: 'nz-heavy-vehicle', check: 'buildup', printed: 'not more than 3 min, route (a), the other untested', citation: `${NZ} item 4(a)`, limit: 3, unit: 'min', sides: ['pass', 'pass', 'recheck'], row: run('warning off to cut-out', { vehicle_kind: 'truck' }) },

  // UN R13 Annex 7 A 2.2-2.4, from memory: 0 to 65 % in 3 min, 6 with a trailer authorised; 0 to the maker's value in 6 and 9 min
  { set: 'un-r13', check: 'buildup_65', printed: 'not exceed 6 min, trailer authorised', citation: R13, limit: 6, unit: 'min', sides: ceiling, row: run('empty to 65 %', { tows_air_braked: 'yes' }) },
  { set: 'un-r13', check: 'buildup_65', printed: 'not exceed 3 min', citation: R13, limit: 3, unit: 'min', sides: ceiling, row: run('empty to 65 %', { tows_air_braked: 'no' }) },
  { set: 'un-r13', check: 'buildup_full', printed: 'not exceed 9 min, trailer authorised', citation: R13, limit: 9, unit: 'min', sides: ceiling, row: run('empty to cut-out', { tows_air_braked: 'yes' }) },
  { set: 'un-r13', check: 'buildup_full', printed: 'not exceed 6 min', citation: R13, limit: 6, unit: 'min', sides: ceiling, row: run('empty to cut-out', { tows_air_braked: 'no' }) },
  // 71/320/EEC Annex II App. 3.1.2.2: at least 7 bar; R13 Annex 8 2.4, from memory: not more than 80 % of minimum normal operating pressure (100 psi here)
  { set: 'un-r13', check: 'cut_in', printed: 'at least 7 bar', citation: '71/320/EEC Annex II App. 3.1.2.2', limit: 7, unit: 'bar', sides: floor, row: reading('cut_in', {}, { tows_air_braked: 'yes' }) },
  { set: 'un-r13', check: 'spring_brakes', printed: 'not more than 80 % of 100 psi', citation: 'R13 Annex 8 2.4', limit: 80, unit: 'psi', sides: ceiling, row: reading('parking_valve_closes_at', { cut_in: 100 }) },

  // Directive 2014/45/EU Annex I 1.1.3(a): fewer than 4 = major, fewer than 2 = dangerous
  { set: 'eu-roadworthiness', check: 'applications', printed: 'fewer than 4 = major', citation: `${EU}1.1.3(a)`, limit: 4, unit: 'count', sides: floor, row: count('applications_after_warning') },
  { set: 'eu-roadworthiness', check: 'applications_dangerous', printed: 'fewer than 2 = dangerous', citation: `${EU}1.1.3(a)`, limit: 2, unit: 'count', sides: floor, row: count('applications_after_warning') },
  // DVSA MOT inspection manual 1.1.3(b): within 3 min; (a)(i), (ii): fewer than 4 = major, fewer than 2 = dangerous
  { set: 'uk-light-vehicle', check: 'buildup', printed: 'within 3 min', citation: `${MOT}1.1.3(b)`, limit: 3, unit: 'min', sides: ceiling, row: run('empty to warning off') },
  { set: 'uk-light-vehicle', check: 'applications', printed: 'fewer than 4 = major', citation: `${MOT}1.1.3(a)(i)`, limit: 4, unit: 'count', sides: floor, row: count('applications_after_warning') },
  { set: 'uk-light-vehicle', check: 'applications_dangerous', printed: 'fewer than 2 = dangerous', citation: `${MOT}1.1.3(a)(ii)`, limit: 2, unit: 'count', sides: floor, row: count('applications_after_warning') },

  // GOST R 51709-2001: not more than 0.05 MPa in 30 min released, in 15 min applied; between 0.65 and 0.85 MPa. Decree 1090: 0.05 MPa and more in 15 min = prohibited
  { set: 'ru-gost', check: 'released_loss', printed: 'not more than 0.05 MPa in 30 min', citation: GOST, limit: 0.05, unit: 'MPa', sides: ceiling, row: gostLoss('released', 30) },
  { set: 'ru-gost', check: 'applied_loss', printed: 'not more than 0.05 MPa in 15 min', citation: GOST, limit: 0.05, unit: 'MPa', sides: ceiling, row: gostLoss('applied', 15) },
  { set: 'ru-gost', check: 'applied_loss_prohibited', printed: '0.05 MPa and more in 15 min = prohibited', citation: DECREE, limit: 0.05, unit: 'MPa', sides: openCeiling, row: gostLoss('applied', 15) },
  { set: 'ru-gost', check: 'cut_in', printed: 'between 0.65 and 0.85 MPa: lower end', citation: GOST, limit: 0.65, unit: 'MPa', sides: floor, row: reading('cut_in') },
  { set: 'ru-gost', check: 'cut_out', printed: 'between 0.65 and 0.85 MPa: upper end', citation: GOST, limit: 0.85, unit: 'MPa', sides: ceiling, row: reading('cut_out') },
];

const READ = { ...loss('released')(1, 'psi'), ...loss('applied')(1, 'psi'), light_on_at: 60, buildup_time: '40 s' };
const noNumber = (set: string, check: string, citation: string): Answer => ({ set, check, citation, rows: [[READ, 'not tested']] });
const heard = (set: string, citation: string): Answer => ({ set, check: 'audible', citation, rows: [[{ audible_leak: 'no' }, 'pass'], [{ audible_leak: 'yes' }, 'fail']] });
const shown = (set: string, citation: string): Answer => ({ set, check: 'warning', citation, rows: [[{ light_on_at: 5 }, 'pass'], [{ light_on_at: 'never' }, 'fail'], [{}, 'not tested']] });
const springs = (set: string, citation: string): Answer => ({
  set, check: 'order', citation,
  rows: [[{ light_on_at: 40, parking_valve_closes_at: 40 }, 'pass'], [{ light_on_at: 39.9, parking_valve_closes_at: 40 }, 'fail'], [{ light_on_at: 60, buzzer_on_at: 39, parking_valve_closes_at: 40 }, 'fail'], [{ light_on_at: 60 }, 'not tested']],
});

export const ELSEWHERE_ANSWERS: readonly Answer[] = [
  // r. 334(1)(d): the spring brakes not before the warning; R13 Annex 8 2.5, from memory
  springs(AU_WEST, `${WA}(1)(d)`),
  springs('un-r13', 'R13 Annex 8 2.5'),
  heard(AU_MANUAL, `${MANUAL}step 4`),
  // 2014/45/EU Annex I 1.1.3(d), 1.1.4; DVSA 1.1.3(d), 1.1.4: audible = major; not shown = major
  heard('eu-roadworthiness', `${EU}1.1.3(d)`),
  heard('uk-light-vehicle', `${MOT}1.1.3(d)`),
  shown('eu-roadworthiness', `${EU}1.1.4`),
  shown('uk-light-vehicle', `${MOT}1.1.4`),
  // 2014/45/EU 1.1.3(b), (d): no number; 71/320/EEC Annex I 2.2.1.13: no fixed number; R13: no loss per minute, from memory
  noNumber('eu-roadworthiness', 'buildup', `${EU}1.1.3(b)`),
  noNumber('eu-roadworthiness', 'released_loss', `${EU}1.1.3(d)`),
  noNumber('eu-roadworthiness', 'applied_loss', `${EU}1.1.3(d)`),
  noNumber('un-r13', 'warning', '71/320/EEC Annex I 2.2.1.13; R13 5.2.1.13'),
  noNumber('un-r13', 'released_loss', 'UN Regulation No. 13'),
  noNumber('un-r13', 'applied_loss', 'UN Regulation No. 13'),
];

/** To 80 % of a cut-out of 120 psi, that is 96 psi, from empty; within 7 psi of empty is common practice, no source. */
const toEighty = (set: string, printed: string): ConditionCase => ({
  set, check: 'buildup', printed,
  rows: ([[0, 96, 300, 'pass'], [0, 95.9, 300, 'recheck'], [0, 95.9, 301, 'fail'], [7, 96, 300, 'pass'], [7.1, 96, 300, 'recheck'], [7.1, 96, 301, 'fail'], [0, 96.1, 300, 'pass'], [0, 96.1, 301, 'recheck']] as const).map(([from, to, time, verdict]) => [buildup(from, to, { cut_out: 120 })(time), verdict]),
});
const applications = (set: string, least: number, printed: string): ConditionCase => ({ set, check: 'reserve_left', printed, rows: [[left(least - 1)(80, 'psi'), 'recheck'], [left(least)(80, 'psi'), 'pass'], [left(least + 1)(80, 'psi'), 'pass']] });
const towing = (check: string, buildup_run: string, short: number, long: number): ConditionCase => ({
  set: 'un-r13', check, printed: `(${short / 60} min, or ${long / 60} min with a trailer authorised)`,
  rows: [[run(buildup_run)(short), 'pass'], [run(buildup_run)(short + 1), 'recheck'], [run(buildup_run)(long), 'recheck'], [run(buildup_run)(long + 1), 'fail']],
});

export const ELSEWHERE_CONDITIONS: readonly ConditionCase[] = [
  toEighty(AU_WEST, '(to 80 % of cut-out)'),
  toEighty(AU_WEST, '(from fully used reserve)'),
  toEighty(AU_MANUAL, '(0 to 80 % of maximum)'),
  applications(AU_WEST, 5, '(after 5)'),
  applications(AU_MANUAL, 4, '(after 4 more)'),
  minuteOf(AU_MANUAL, 'applied_loss', 'applied', 1, '(per min)'),
  minuteOf(AU_MANUAL, 'released_loss', 'released', 1, '(per min)'),
  // R13 Annex 7 A 2.2-2.4, from memory: 3 or 6 min, 6 or 9 min
  towing('buildup_65', 'empty to 65 %', 180, 360),
  towing('buildup_full', 'empty to cut-out', 360, 540),
  // GOST R 51709-2001: 30 min and 15 min
  ...([['released_loss', 'released', 30], ['applied_loss', 'applied', 15], ['applied_loss_prohibited', 'applied', 15]] as const).map(([check, test, minutes]): ConditionCase => ({
    set: 'ru-gost', check, printed: `(in ${minutes} min)`, rows: [[loss(test, 1, 60 * minutes - 1, 90)(1, 'psi'), 'recheck'], [loss(test, 1, 60 * minutes, 90)(1, 'psi'), 'pass']],
  })),
];
