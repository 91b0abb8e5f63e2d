import { buildup, ceiling, floor, KPA_PER_PSI, loss, minuteOf, openCeiling, openFloor, reading, spanOf, usualFloor, type Answer, type ConditionCase, type Edge } from '../support/limit-edges.js';
import type { Row } from '../support/evaluate-rows.js';

const ONTARIO = 'ca-ontario';
const QUEBEC = 'ca-quebec';
const CQLR = 'CQLR c. C-24.2, r. 32, ';
const SGI = 'SGI Air Brake Manual, pre-trip, air combination unit';
const NL = 'NL Air Brake Manual, pre-tripping';
const ICBC = 'ICBC, Driving Commercial Vehicles, p. 218';
const ALBERTA = "Alberta Transportation, commercial driver's guide";
const FEDERAL = 'Transport Canada, TSD 121 (MVSR, C.R.C. c. 1038, Sch. IV s. 121)';
const kPa = (value: number): number => value / KPA_PER_PSI;

const both = (set: string, check: string, field: string, [low, high]: readonly [number, number], unit: 'psi' | 'kPa', citation: string, more: Row = {}): Edge[] => [
  { set, check, printed: `between ${low} and ${high} ${unit}: lower end`, citation, limit: low, unit, sides: floor, row: reading(field, {}, more) },
  { set, check, printed: `between ${low} and ${high} ${unit}: upper end`, citation, limit: high, unit, sides: ceiling, row: reading(field, {}, more) },
];

export const CANADA_EDGES: readonly Edge[] = [
  // TSD 121, from memory: as 49 CFR 571.121 (25 s x actual / required; 85 psi bus, 100 psi truck; below 60 psi)
  { set: 'ca-federal-new-vehicle', check: 'buildup', printed: 'within 25 s x 9 / 5', citation: FEDERAL, limit: 45, unit: 's', sides: ceiling, row: buildup(85, 100, { reservoir_volume: 9, required_reservoir_volume: 5 }) },
  { set: 'ca-federal-new-vehicle', check: 'cut_in', printed: '85 psi or greater, bus', citation: FEDERAL, limit: 85, unit: 'psi', sides: floor, row: reading('cut_in', {}, { vehicle_kind: 'bus' }) },
  { set: 'ca-federal-new-vehicle', check: 'cut_in', printed: '100 psi or greater, truck', citation: FEDERAL, limit: 100, unit: 'psi', sides: floor, row: reading('cut_in', {}, { vehicle_kind: 'tractor' }) },
  { set: 'ca-federal-new-vehicle', check: 'warning', printed: 'below 60 psi', citation: FEDERAL, limit: 60, unit: 'psi', sides: floor, row: reading('buzzer_on_at') },

  // MTO Air Brake Handbook 10-3, Truck Handbook 6-1-3: pass at or under 2 min, over = minor, 587-690 kPa
  { set: ONTARIO, check: 'buildup', printed: 'at or under 2 min', citation: 'MTO Air Brake Handbook 10-3; MTO Truck Handbook 6-1-3', limit: 2, unit: 'min', sides: ceiling, row: buildup(kPa(587), kPa(690)) },
  // MTO Truck Handbook 6-1-4: "more than" 21 / 28 kPa in 1 min = major; Air Brake Handbook, from memory: 41 kPa, two or more trailers
  { set: ONTARIO, check: 'applied_loss', printed: 'more than 21 kPa = major, single', citation: 'MTO Truck Handbook 6-1-4', limit: 21, unit: 'kPa', sides: ceiling, row: loss('applied', 1) },
  { set: ONTARIO, check: 'applied_loss', printed: 'more than 28 kPa = major, combination', citation: 'MTO Truck Handbook 6-1-4', limit: 28, unit: 'kPa', sides: ceiling, row: loss('applied', 2) },
  { set: ONTARIO, check: 'applied_loss_long', printed: 'more than 41 kPa = major, two trailers', citation: 'MTO Air Brake Handbook', limit: 41, unit: 'kPa', sides: ceiling, row: loss('applied', 3) },
  // MTO Driver's Handbook: at least 380 kPa; Air Brake Handbook: over 1000 kPa = defective, under 552 kPa = defective
  { set: ONTARIO, check: 'warning', printed: 'at least 380 kPa', citation: "MTO Driver's Handbook, Inspecting air brake system operation", limit: 380, unit: 'kPa', sides: floor, row: reading('light_on_at') },
  { set: ONTARIO, check: 'cut_out', printed: 'over 1000 kPa = defective', citation: 'MTO Air Brake Handbook', limit: 1000, unit: 'kPa', sides: ceiling, row: reading('cut_out') },
  { set: ONTARIO, check: 'cut_in', printed: 'under 552 kPa = defective', citation: 'MTO Air Brake Handbook', limit: 552, unit: 'kPa', sides: floor, row: reading('cut_in') },

  // Quebec, CQLR c. C-24.2, r. 32, s. 38: less than 3 min from 350 to 620 kPa; engaged before falling to 550; between 805 and 945; must operate below 380 kPa; at least 420 kPa kept
  { set: QUEBEC, check: 'buildup', printed: 'less than 3 min', citation: `${CQLR}s. 38 (1)`, limit: 3, unit: 'min', sides: openCeiling, row: buildup(kPa(350), kPa(620)) },
  { set: QUEBEC, check: 'cut_in', printed: 'engaged before falling to 550 kPa', citation: `${CQLR}s. 38 (2)`, limit: 550, unit: 'kPa', sides: openFloor, row: reading('cut_in') },
  ...both(QUEBEC, 'cut_out', 'cut_out', [805, 945], 'kPa', `${CQLR}s. 38 (2)`),
  { set: QUEBEC, check: 'warning', printed: 'must operate below 380 kPa', citation: `${CQLR}s. 38 (3)`, limit: 380, unit: 'kPa', sides: floor, row: reading('light_on_at', { buzzer_on_at: 70 }) },
  { set: QUEBEC, check: 'towing_kept', printed: 'at least 420 kPa', citation: `${CQLR}s. 38 (7)`, limit: 420, unit: 'kPa', sides: floor, row: reading('towing_pressure_kept') },
  // the same, s. 166, major: unable to reach or hold 620 kPa; exceeds 40 / 48 / 62 kPa in 1 min; not held at 138 kPa; no signal works below 380 kPa
  { set: QUEBEC, check: 'pressure_held', printed: 'unable to reach or hold 620 kPa = major', citation: `${CQLR}s. 166 (4)`, limit: 620, unit: 'kPa', sides: floor, row: reading('pressure_held') },
  ...[40, 48, 62].map((limit, index): Edge => ({ set: QUEBEC, check: 'applied_loss', printed: `exceeds ${limit} kPa = major, ${index + 1} vehicles`, citation: `${CQLR}s. 166 (5)`, limit, unit: 'kPa', sides: ceiling, row: loss('applied', index + 1) })),
  { set: QUEBEC, check: 'towing_kept_major', printed: 'not held at 138 kPa = major', citation: `${CQLR}s. 166 (6)`, limit: 138, unit: 'kPa', sides: floor, row: reading('towing_pressure_kept') },
  { set: QUEBEC, check: 'warning_any', printed: 'no signal works below 380 kPa = major', citation: `${CQLR}s. 166 (10)`, limit: 380, unit: 'kPa', sides: floor, row: (psi, gauge) => ({ ...reading('buzzer_on_at')(psi, gauge), light_on_at: 'never' }) },

  // Alberta Transportation, commercial driver's guide: within 3 min; on by 60 psi; pops between 40 and 60 psi or higher; between 20 and 45 psi
  { set: 'ca-alberta', check: 'buildup', printed: 'within 3 min', citation: `${ALBERTA}, trip air brake step 4`, limit: 3, unit: 'min', sides: ceiling, row: buildup(50, 90) },
  { set: 'ca-alberta', check: 'warning', printed: 'on by 60 psi', citation: `${ALBERTA}, step 2`, limit: 60, unit: 'psi', sides: floor, row: reading('light_on_at') },
  { set: 'ca-alberta', check: 'supply_valve', printed: 'between 40 and 60 psi, or higher', citation: `${ALBERTA}, step 2`, limit: 40, unit: 'psi', sides: floor, row: reading('trailer_valve_closes_at', {}, { vehicles: 2 }) },
  ...both('ca-alberta', 'parking_valve', 'parking_valve_closes_at', [20, 45], 'psi', `${ALBERTA}, step 3`),

  // ICBC, Driving Commercial Vehicles p. 218: within 3 min; between 105 and 135 psi; engages before falling below 80 psi; at or above 60 psi; between 20 and 45 psi
  { set: 'ca-british-columbia', check: 'buildup', printed: 'within 3 min', citation: ICBC, limit: 3, unit: 'min', sides: ceiling, row: buildup(50, 90) },
  ...both('ca-british-columbia', 'cut_out', 'cut_out', [105, 135], 'psi', ICBC),
  { set: 'ca-british-columbia', check: 'cut_in', printed: 'engages before falling below 80 psi', citation: ICBC, limit: 80, unit: 'psi', sides: floor, row: reading('cut_in') },
  { set: 'ca-british-columbia', check: 'warning', printed: 'at or above 60 psi', citation: ICBC, limit: 60, unit: 'psi', sides: floor, row: reading('light_on_at') },
  ...both('ca-british-columbia', 'trailer_valve', 'trailer_valve_closes_at', [20, 45], 'psi', ICBC, { vehicles: 2 }),

  // SGI Air Brake Manual, pre-trip, air combination unit: between 120 and 145 psi; at least 100 psi; at least 20 psi; step 13: maximum 4 psi in 1 min
  ...both('ca-saskatchewan', 'cut_out', 'cut_out', [120, 145], 'psi', SGI, { vehicles: 2 }),
  { set: 'ca-saskatchewan', check: 'cut_in', printed: 'at least 100 psi', citation: SGI, limit: 100, unit: 'psi', sides: floor, row: reading('cut_in', {}, { vehicles: 2 }) },
  { set: 'ca-saskatchewan', check: 'shut_off', printed: 'at least 20 psi', citation: SGI, limit: 20, unit: 'psi', sides: floor, row: reading('trailer_valve_closes_at', {}, { vehicles: 2 }) },
  { set: 'ca-saskatchewan', check: 'applied_loss', printed: 'maximum 4 psi in 1 min', citation: `${SGI}, step 13`, limit: 4, unit: 'psi', sides: ceiling, row: loss('applied', 2) },

  // NL Air Brake Manual, pre-tripping: within 5 min; between 105 and 125 psi; check point at 80 psi; less than 4 psi in 1 min; approximately 60 psi; between 45 and 20 psi
  { set: 'ca-newfoundland-and-labrador', check: 'buildup', printed: 'within 5 min', citation: NL, limit: 5, unit: 'min', sides: ceiling, row: buildup(50, 90) },
  ...both('ca-newfoundland-and-labrador', 'cut_out', 'cut_out', [105, 125], 'psi', NL),
  { set: 'ca-newfoundland-and-labrador', check: 'cut_in', printed: 'check point at 80 psi', citation: NL, limit: 80, unit: 'psi', sides: usualFloor, row: reading('cut_in') },
  { set: 'ca-newfoundland-and-labrador', check: 'applied_loss', printed: 'less than 4 psi in 1 min', citation: NL, limit: 4, unit: 'psi', sides: openCeiling, row: loss('applied', 3) },
  { set: 'ca-newfoundland-and-labrador', check: 'warning', printed: 'approximately 60 psi', citation: NL, limit: 60, unit: 'psi', sides: usualFloor, row: reading('light_on_at') },
  ...both('ca-newfoundland-and-labrador', 'parking_valve', 'parking_valve_closes_at', [20, 45], 'psi', NL),
  { set: 'ca-newfoundland-and-labrador', check: 'trailer_valve', printed: 'stops at once, or bleeds to between 45 and 20 psi', citation: NL, limit: 20, unit: 'psi', sides: floor, row: reading('trailer_valve_closes_at', {}, { vehicles: 2 }) },
];

const READ = { ...loss('released')(1, 'psi'), ...loss('applied')(1, 'psi'), cut_out: 120 };

export const CANADA_ANSWERS: readonly Answer[] = [
  // TSD 121, from memory, sets no cut-out and no loss per minute
  ...['cut_out', 'released_loss', 'applied_loss'].map((check): Answer => ({ set: 'ca-federal-new-vehicle', check, citation: FEDERAL, rows: [[READ, 'not tested']] })),
  // Quebec, s. 38 (0.1): no audible leak
  { set: QUEBEC, check: 'audible', citation: `${CQLR}s. 38 (0.1)`, rows: [[{ audible_leak: 'no' }, 'pass'], [{ audible_leak: 'yes' }, 'fail']] },
];

export const CANADA_CONDITIONS: readonly ConditionCase[] = [
  minuteOf(ONTARIO, 'applied_loss', 'applied'),
  minuteOf(ONTARIO, 'applied_loss_long', 'applied', 3),
  minuteOf(QUEBEC, 'applied_loss', 'applied'),
  minuteOf('ca-saskatchewan', 'applied_loss', 'applied', 2),
  minuteOf('ca-newfoundland-and-labrador', 'applied_loss', 'applied'),
  // the spans as printed: 587-690 kPa, 350-620 kPa (less than 3 min: 179 s passes), 50-90 psi
  spanOf(ONTARIO, 'buildup', '(587 to 690 kPa)', kPa(587), kPa(690), 120),
  spanOf(QUEBEC, 'buildup', '(350 to 620 kPa)', kPa(350), kPa(620), 179),
  spanOf('ca-alberta', 'buildup', '(50 to 90 psi)', 50, 90, 180),
  spanOf('ca-british-columbia', 'buildup', '(50 to 90 psi)', 50, 90, 180),
  spanOf('ca-newfoundland-and-labrador', 'buildup', '(50 to 90 psi)', 50, 90, 300),
  spanOf('ca-federal-new-vehicle', 'buildup', '(85 to 100 psi)', 85, 100, 25, { reservoir_volume: 2, required_reservoir_volume: 2 }),
  { set: 'ca-federal-new-vehicle', check: 'cut_in', printed: '(85 psi bus, 100 psi truck)', rows: [[{ cut_in: 84.9 }, 'fail'], [{ cut_in: 85 }, 'recheck'], [{ cut_in: 99.9 }, 'recheck'], [{ cut_in: 100 }, 'pass']] },
  // MTO Air Brake Handbook 10-3: 600-900 rpm
  {
    set: ONTARIO, check: 'buildup', printed: '(600-900 rpm)',
    rows: ([[900, 120, 'pass'], [901, 120, 'recheck'], [901, 121, 'fail'], [600, 121, 'fail'], [599, 121, 'recheck'], [599, 120, 'pass']] as const).map(([engine_rpm, time, verdict]) => [buildup(kPa(587), kPa(690), { engine_rpm })(time), verdict]),
  },
  // MTO Truck Handbook 6-1-4: 80-145 psi, either gauge
  {
    set: ONTARIO, check: 'applied_loss', printed: '(80-145 psi)',
    rows: ([[80, 'pass'], [79.9, 'recheck'], [145, 'pass'], [145.1, 'recheck']] as const).flatMap(([start, verdict]): (readonly [Row, string])[] => [
      [loss('applied', 1, 60, start)(1, 'psi'), verdict],
      [{ ...loss('applied')(1, 'psi'), applied_secondary_start: start, applied_secondary_end: start - 1 }, verdict],
    ]),
  },
  { set: ONTARIO, check: 'applied_loss_long', printed: '(80-145 psi)', rows: [[loss('applied', 3, 60, 79.9)(1, 'psi'), 'recheck'], [loss('applied', 3, 60, 145.1)(1, 'psi'), 'recheck']] },
  // Quebec, s. 38 (1): average not above 1 200 rpm
  { set: QUEBEC, check: 'buildup', printed: '(average not above 1 200 rpm)', rows: [[buildup(kPa(350), kPa(620), { engine_rpm: 1200 })(179), 'pass'], [buildup(kPa(350), kPa(620), { engine_rpm: 1201 })(179), 'recheck'], [buildup(kPa(350), kPa(620), { engine_rpm: 1201 })(180), 'fail']] },
  // SGI Air Brake Manual: air combination unit
  ...([['cut_out', { cut_out: 130 }], ['cut_in', { cut_in: 105 }], ['shut_off', { trailer_valve_closes_at: 30 }], ['applied_loss', loss('applied')(1, 'psi')]] as const).map(([check, row]): ConditionCase => ({
    set: 'ca-saskatchewan', check, printed: '(air combination unit)', rows: [[{ ...row, vehicles: 1 }, 'recheck'], [{ ...row, vehicles: 2 }, 'pass'], [{ vehicles: 1 }, 'not tested']],
  })),
];
