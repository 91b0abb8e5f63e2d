/**
 * Makes the demo fleet: `node samples/make-fleet.mjs [folder]` writes invented-fleet.csv and invented-fleet-messy.csv.
 * The same seed gives the same bytes: no clock, and no arithmetic beyond + - * / and rounding.
 *
 * Invented: the carrier, its sites, people, vehicles, every reading and every fault. No row describes a real test.
 *
 * Shaped by trade facts, all of them common practice, no source: two circuits with two needles; charged reservoirs
 * at 105 to 125 psi; a sound vehicle loses about 0.3 to 1.5 psi/min, and a little more with the brakes held on; rejected
 * over 3 psi/min released, over 4 applied, warning under 60 psi, build-up over 5 minutes; dash dials with a mark every
 * 25 psi, read to about a needle's width; warning switches that close at 62 to 76 psi; governors that work between about
 * 100 and 125 psi; needles left up to 2 minutes to settle, longer with a trailer; a repair and a retest after each failure.
 */
import { writeFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

export const SEED = 20261101;
const FIRST_DAY = dayNumber('2024-11-01');
const LAST_DAY = dayNumber('2026-10-31');
const PSI_PER = { psi: 1, kPa: 0.1450377, bar: 14.50377 };

/** The columns of the clean file: those of the readings table that this fleet uses, and one of the office's own. */
export const COLUMNS = [
  'inspection_id', 'inspected_on', 'unit', 'vehicle_kind', 'vehicles', 'site', 'inspector', 'odometer',
  'pressure_unit', 'gauge_step', 'readable_to',
  'released_primary_start', 'released_primary_end', 'released_secondary_start', 'released_secondary_end', 'released_time',
  'applied_primary_start', 'applied_primary_end', 'applied_secondary_start', 'applied_secondary_end', 'applied_settle_time', 'applied_time',
  'light_on_at', 'buzzer_on_at', 'buildup_from', 'buildup_to', 'buildup_time', 'engine_rpm', 'record_kind', 'cut_in', 'cut_out',
  'parking_valve_closes_at', 'trailer_valve_closes_at', 'reserve_before', 'reserve_after',
  'audible_leak', 'leak_place', 'defects', 'notes', 'repaired_on', 'retest_of',
];

const SITES = {
  K: { site: 'Kestrel Quay', inspectors: ['A. Example-Ward', 'B. Sample-Reed'], wearPerYear: 0.8 },
  M: { site: 'Millrace Yard', inspectors: ['C. Invented-Moss', 'D. Placeholder-Finch'], wearPerYear: 0.8 },
  // The worse site: salt air.
  S: { site: 'Saltpan Depot', inspectors: ['E. Fiction-Hale', 'F. Madeup-Orr'], wearPerYear: 2.8 },
};

/** `mark` is what the gauge is read to, `error` the furthest that one reading may be off, both in the gauge's unit. */
const DIAL = { unit: 'psi', step: 25, mark: 1, error: 1.5 };
const FINE_DIAL = { ...DIAL, readableTo: 2, error: 1 };
const DIGITAL_5 = { unit: 'kPa', step: 5, mark: 5, error: 2 };
const DIGITAL_1 = { unit: 'kPa', step: 1, mark: 1, error: 1.5 };
const BAR = { unit: 'bar', step: 0.1, mark: 0.1, error: 0.02 };

/**
 * The thirty units, and three that came in the place of one. `wear` makes one leak worse by so many psi/min a year;
 * `sudden` opens one at a date; `lowSwitch` and `buzzerDead` spoil the warning; `tired` slows the compressor by so many
 * seconds a year. A failure from `waitsFrom` on is still open at the end. A `successor` is tested from its day on, and the
 * unit itself no more: it is overdue. A trailer is tested coupled, on the gauges of the unit that tows it.
 */
const UNITS = [
  { unit: 'K-101', kind: 'truck', gauge: DIAL },
  { unit: 'K-102', kind: 'truck', gauge: FINE_DIAL, lowSwitch: { on: '2026-10-20', psi: 55 }, waitsFrom: '2026-10-20' },
  { unit: 'K-103', kind: 'tractor', vehicles: 2, gauge: DIAL, sudden: { on: '2025-08-20', part: 'line', circuit: 'primary', rate: 6.4 } },
  { unit: 'K-104', kind: 'tractor', vehicles: 2, gauge: DIGITAL_5 },
  { unit: 'K-105', kind: 'bus', gauge: DIGITAL_5, sudden: { on: '2026-10-01', part: 'chamber', circuit: 'primary', rate: 4.2 }, waitsFrom: '2026-10-01' },
  { unit: 'K-106', kind: 'bus', gauge: DIAL },
  { unit: 'K-107', kind: 'truck', gauge: DIAL, wear: { part: 'line', circuit: 'primary', perYear: 1.9 } },
  { unit: 'K-108', kind: 'tractor', gauge: DIGITAL_5, successor: { unit: 'K-113', from: '2025-11-01', odometer: 61_400 } },
  { unit: 'K-109', kind: 'bus', gauge: DIGITAL_1 },
  { unit: 'K-110', kind: 'trailer', vehicles: 2, towedBy: 'K-104', gauge: DIGITAL_5 },
  { unit: 'K-111', kind: 'trailer', vehicles: 2, towedBy: 'K-103', gauge: DIAL, successor: { unit: 'K-114', from: '2025-11-01' } },
  { unit: 'K-112', kind: 'truck', gauge: BAR },
  { unit: 'M-201', kind: 'truck', gauge: DIAL },
  { unit: 'M-202', kind: 'truck', gauge: DIAL, lowSwitch: { on: '2025-10-01', psi: 57 } },
  { unit: 'M-203', kind: 'tractor', vehicles: 2, gauge: DIAL },
  { unit: 'M-204', kind: 'tractor', vehicles: 2, gauge: DIGITAL_5, wear: { part: 'line', circuit: 'secondary', perYear: 1.6 } },
  { unit: 'M-205', kind: 'bus', gauge: BAR },
  { unit: 'M-206', kind: 'truck', gauge: DIGITAL_5, successor: { unit: 'M-211', from: '2025-11-01', odometer: 38_900 } },
  { unit: 'M-207', kind: 'trailer', vehicles: 2, towedBy: 'M-203', gauge: DIAL, waitsFrom: '2026-09-01' },
  { unit: 'M-208', kind: 'truck', gauge: FINE_DIAL, wear: { part: 'line', circuit: 'secondary', perYear: 0.9 } },
  { unit: 'M-209', kind: 'bus', gauge: DIGITAL_1 },
  { unit: 'M-210', kind: 'tractor', vehicles: 3, gauge: DIAL },
  { unit: 'S-301', kind: 'truck', gauge: DIAL, lowSwitch: { on: '2026-02-15', psi: 58 } },
  { unit: 'S-302', kind: 'truck', gauge: DIAL, wear: { part: 'line', circuit: 'secondary', perYear: 3.8 }, repairsThatDoNotHold: 1, wearStays: true },
  { unit: 'S-303', kind: 'tractor', vehicles: 2, gauge: DIGITAL_5, buzzerDead: '2025-07-01' },
  { unit: 'S-304', kind: 'truck', gauge: DIAL, tired: 70 },
  { unit: 'S-305', kind: 'bus', gauge: DIAL, wear: { part: 'chamber', circuit: 'secondary', perYear: 2.4 }, wearStays: true },
  { unit: 'S-306', kind: 'bus', gauge: DIGITAL_5, sudden: { on: '2026-04-10', part: 'chamber', circuit: 'primary', rate: 8.8 } },
  { unit: 'S-307', kind: 'tractor', vehicles: 3, gauge: DIAL, wear: { part: 'line', circuit: 'primary', perYear: 2 }, wearStays: true, waitsFrom: '2026-10-01' },
  { unit: 'S-308', kind: 'trailer', vehicles: 2, towedBy: 'S-303', gauge: DIGITAL_5 },
];

/** What went oddly in single tests: the unit, which of its routine inspections (from 1), and what. */
const ODDITIES = [
  ['K-105', 3, 'short hold'], ['M-201', 4, 'needle rises'], ['K-101', 6, 'long settle'], ['M-206', 2, 'long settle'], ['K-108', 5, 'long settle'],
  ['K-106', 7, 'build-up stopped early'], ['K-102', 4, 'no applied test'], ['M-205', 3, 'no applied test'], ['M-209', 6, 'no applied test'],
  ['K-109', 2, 'no warning test'], ['M-203', 5, 'no warning test'], ['K-112', 7, 'no build-up'], ['M-210', 2, 'no build-up'], ['S-308', 2, 'no build-up'],
];

/** Where air is lost, and what is wrong there. */
const FAULTS = {
  line: [['park line fitting at relay valve', 'fitting thread corroded'], ['supply hose at frame crossmember', 'hose chafed'], ['air dryer purge valve', 'purge valve does not seat'], ['reservoir drain cock', 'drain cock weeps']],
  coupled: [['gladhand seal', 'seal perished'], ['trailer supply hose at headboard', 'hose cracked at the coupling'], ['park line fitting at relay valve', 'fitting thread corroded']],
  chamber: [['brake chamber diaphragm, left rear', 'diaphragm torn'], ['treadle valve exhaust port', 'treadle valve leaks through when applied'], ['service hose at right rear chamber', 'hose end corroded']],
};

const NOTES = ['tested indoors', 'driver says it "hisses when parked", left side', 'cold start, dryer heater off', 'reservoirs drained before the test, no water', 'wheels chocked, ramp 2', 'oil in the wet tank, a trace'];

/** Pseudo-random numbers from 0 to 1 (the public-domain generator mulberry32), so that a seed gives one fleet only. */
function mulberry32(seed) {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

/** A stream of numbers for each name, so that a change to one unit leaves the others as they are. */
function streamFor(seed, name) {
  let mixed = seed;
  for (const letter of name) mixed = Math.imul(mixed ^ letter.codePointAt(0), 0x01000193);
  return mulberry32(mixed);
}

const between = (random, low, high) => low + (high - low) * random();
const pick = (random, list) => list[Math.floor(random() * list.length)];
const chance = (random, share) => random() < share;

function dayNumber(iso) {
  return Date.parse(`${iso}T00:00:00Z`) / 86_400_000;
}

function isoDate(day) {
  return new Date(day * 86_400_000).toISOString().slice(0, 10);
}

/** The day, or the Monday after it: the yards work Monday to Friday. Day 0 was a Thursday. */
function workday(day) {
  const weekday = (day + 4) % 7;
  return weekday === 6 ? day + 2 : weekday === 0 ? day + 1 : day;
}

function minutesSeconds(seconds) {
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`;
}

/** A true pressure in psi as an inspector reads it off the gauge, in the gauge's unit. */
function readGauge(gauge, psi, random) {
  const seen = psi / PSI_PER[gauge.unit] + gauge.error * (random() - random());
  return Number((Math.round(seen / gauge.mark) * gauge.mark).toFixed(1));
}

/** Start and end of a needle during a loss test. A needle that is not seen to move is written down unmoved, never risen. */
function readLoss(gauge, startPsi, psiPerMinute, seconds, random) {
  const start = readGauge(gauge, startPsi, random);
  const end = readGauge(gauge, startPsi - (psiPerMinute * seconds) / 60, random);
  return [start, Math.min(start, end)];
}

/** A leak that starts at `base` psi/min on day `since` and grows by `perYear`. */
function leakRate(leak, day) {
  return leak.base + (leak.perYear * (day - leak.since)) / 365;
}

const freshLine = (random) => between(random, 0.3, 1.1);
const freshChamber = (random) => between(random, 0.1, 0.6);

const faultsOf = (unit, part) => FAULTS[part === 'line' && unit.vehicles > 1 ? 'coupled' : part];

/** The true condition of a unit on the first day. */
function newCondition(unit, random) {
  const wear = unit.wear ? 0.2 : SITES[unit.unit[0]].wearPerYear;
  const leak = (fresh) => ({ base: fresh(random), perYear: between(random, 0, wear), since: FIRST_DAY - Math.floor(between(random, 0, 300)) });
  const condition = {
    line: { primary: leak(freshLine), secondary: leak(freshLine) },
    chamber: { primary: leak(freshChamber), secondary: leak(freshChamber) },
    buildup: { base: Math.round(between(random, 145, 250)), perYear: 0, since: FIRST_DAY },
    buzzerDead: false,
    broken: new Set(),
    faults: { line: pick(random, faultsOf(unit, 'line')), chamber: pick(random, faultsOf(unit, 'chamber')) },
    repairsThatDoNotHold: unit.repairsThatDoNotHold ?? 0,
  };
  if (unit.wear) condition[unit.wear.part][unit.wear.circuit] = { base: 0.8, perYear: unit.wear.perYear, since: FIRST_DAY };
  if (unit.tired) condition.buildup = { base: 232, perYear: unit.tired, since: FIRST_DAY };
  return condition;
}

/** Governor and warning switch: those of the towing unit where there is one. */
function airSystem(unit, seed) {
  const random = streamFor(seed, `air system of ${unit.towedBy ?? unit.unit}`);
  const cutOut = between(random, 120.5, 129.5);
  return { cutOut, cutIn: Math.min(105, cutOut - between(random, 21, 25)), warningAt: between(random, 64, 75) };
}

/** Faults that come all at once, on the day that the table of units names. */
function breakDown(unit, condition, system, day) {
  const due = (on) => on !== undefined && !condition.broken.has(on) && day >= dayNumber(on);
  if (due(unit.sudden?.on)) {
    const { on, part, circuit, rate } = unit.sudden;
    condition[part][circuit] = { base: rate, perYear: 0, since: day };
    condition.broken.add(on);
  }
  if (due(unit.lowSwitch?.on)) {
    system.warningAt = unit.lowSwitch.psi;
    condition.broken.add(unit.lowSwitch.on);
  }
  if (due(unit.buzzerDead)) {
    condition.buzzerDead = true;
    condition.broken.add(unit.buzzerDead);
  }
}

function holdTime(random) {
  const lot = random();
  return lot < 0.03 ? 180 : lot < 0.11 ? 120 : 60;
}

function settleTime(unit, random) {
  return 5 * Math.round(between(random, 30, unit.vehicles > 1 ? 170 : 115) / 5);
}

/** One test of one unit on one day, with its numbers still as numbers; `null` is a blank cell. */
function inspect({ unit, condition, system, day, random, odd }) {
  const { gauge } = unit;
  const read = (psi) => readGauge(gauge, psi, random);
  const place = SITES[unit.unit[0]];
  const rate = (part, circuit) => leakRate(condition[part][circuit], day);
  const released = odd === 'short hold' ? 45 : holdTime(random);
  const applied = holdTime(random);
  const charged = { primary: between(random, 112, 124), secondary: 0 };
  charged.secondary = charged.primary + between(random, -3, 1);
  const row = {
    day, unit: unit.unit, vehicle_kind: unit.kind, vehicles: unit.vehicles ?? (chance(random, 0.8) ? 1 : null), site: place.site,
    inspector: chance(random, 0.98) ? pick(random, place.inspectors) : null,
    pressure_unit: gauge.unit, gauge_step: chance(random, 0.97) ? gauge.step : null, readable_to: gauge.readableTo ?? null,
    released_time: released, applied_time: applied, applied_settle_time: odd === 'long settle' ? 150 : settleTime(unit, random), record_kind: 'invented',
  };
  for (const circuit of ['primary', 'secondary']) {
    const line = rate('line', circuit);
    const [start, end] = readLoss(gauge, charged[circuit], line, released, random);
    row[`released_${circuit}_start`] = start;
    row[`released_${circuit}_end`] = end;
    const afterTheDrop = charged[circuit] - between(random, 5, 9);
    [row[`applied_${circuit}_start`], row[`applied_${circuit}_end`]] = readLoss(gauge, afterTheDrop, line + rate('chamber', circuit), applied, random);
  }
  if (odd === 'needle rises') row.released_primary_end = row.released_primary_start + 2;
  row.light_on_at = read(system.warningAt);
  row.buzzer_on_at = condition.buzzerDead ? 'never' : Math.min(row.light_on_at, read(system.warningAt - 0.5));
  readBuildup(row, { condition, system, day, random, odd, read });
  readTheRest(row, { unit, system, random, read });
  leaveOut(row, odd);
  describe(row, { unit, condition, random, rate, odd });
  return row;
}

function readBuildup(row, { condition, system, day, random, odd, read }) {
  row.cut_out = read(system.cutOut);
  row.cut_in = read(system.cutIn);
  row.buildup_from = read(60);
  row.buildup_to = odd === 'build-up stopped early' ? read(system.cutOut - 20) : row.cut_out;
  row.buildup_time = Math.round(leakRate(condition.buildup, day) + between(random, -8, 8));
  row.engine_rpm = chance(random, 0.9) ? 50 * Math.round(between(random, 1000, 1400) / 50) : null;
}

/** What is tested in about a third of the inspections only. */
function readTheRest(row, { unit, system, random, read }) {
  if (chance(random, 0.35)) {
    const before = system.cutOut - between(random, 3, 8);
    row.reserve_before = read(before);
    row.reserve_after = read(before * between(random, 0.86, 0.93));
  }
  if (chance(random, 0.35)) {
    row.parking_valve_closes_at = read(between(random, 23, 39));
    if (unit.vehicles > 1) row.trailer_valve_closes_at = read(between(random, 26, 39));
  }
}

const LEFT_OUT = { 'no applied test': [/^applied_/, 'nobody to hold the pedal'], 'no warning test': [/^(light|buzzer)_/, 'no ignition key'], 'no build-up': [/^buildup_|^engine_rpm$/, 'no time for the build-up'] };

function leaveOut(row, odd) {
  const [pattern, reason] = LEFT_OUT[odd] ?? [];
  if (pattern === undefined) return;
  for (const name of Object.keys(row)) if (pattern.test(name)) row[name] = null;
  row.notes = reason;
}

/** What fails by the figures written down: released, applied, warning, build-up. Common practice, no source. */
function failures(row) {
  const loss = (test, circuit) => (60 * (row[`${test}_${circuit}_start`] - row[`${test}_${circuit}_end`]) * PSI_PER[row.pressure_unit]) / row[`${test}_time`];
  const worst = (test) => (row[`${test}_time`] ? Math.max(loss(test, 'primary'), loss(test, 'secondary')) : 0);
  const undecided = row.applied_settle_time > 120 && (row.vehicles ?? 1) === 1;
  const warnings = [row.light_on_at, row.buzzer_on_at].filter((at) => at !== null).map((at) => (at === 'never' ? 0 : at * PSI_PER[row.pressure_unit]));
  return {
    released: row.released_time >= 60 && worst('released') > 3.000001,
    applied: !undecided && worst('applied') > 4.000001,
    warning: warnings.some((at) => at < 60),
    buildup: row.buildup_time > 300,
  };
}

const anyFailure = (row) => Object.values(failures(row)).includes(true);

/** Audible leak, leak place, defects and notes, in the words of a yard. */
function describe(row, { unit, condition, random, rate, odd }) {
  const worst = (part) => Math.max(rate(part, 'primary'), rate(part, 'secondary'));
  const part = 1.6 * worst('chamber') > worst('line') ? 'chamber' : 'line';
  const [place, defect] = condition.faults[part];
  const failed = failures(row);
  const leaks = worst('line') + worst('chamber') > 2.6;
  row.audible_leak = leaks ? 'yes' : 'no';
  const defects = [];
  if (leaks) row.leak_place = place;
  if (failed.released || failed.applied) {
    if (leaks) defects.push(defect);
    else row.leak_place = 'none found with soapy water';
  }
  if (failed.warning) defects.push(condition.buzzerDead ? 'buzzer wire broken' : 'low-pressure switch closes late');
  if (failed.buildup) defects.push('slow build-up: carbon in the discharge line');
  if (defects.length > 0) row.defects = defects.join('; ');
  const remark = odd === 'needle rises' ? 'needle crept up, engine off?' : chance(random, 0.12) ? pick(random, NOTES) : null;
  row.notes ??= unit.towedBy ? `coupled to ${unit.towedBy}` : remark;
}

/** Mends what failed. A repair that does not hold leaves nearly all of the leak. */
function repair(row, { unit, condition, system, day, random }) {
  const failed = failures(row);
  const holds = condition.repairsThatDoNotHold <= 0;
  if (failed.released || failed.applied) {
    for (const [part, fresh] of [['line', freshLine], ['chamber', freshChamber]]) {
      for (const circuit of ['primary', 'secondary']) {
        const leak = condition[part][circuit];
        const rate = leakRate(leak, day);
        if (rate < (part === 'line' ? 1.5 : 1)) continue;
        condition[part][circuit] = { base: holds ? fresh(random) : rate * 0.95, perYear: leak.perYear * (unit.wearStays ? 1 : 0.3), since: day };
      }
      if (holds && !unit.wearStays) condition.faults[part] = pick(random, faultsOf(unit, part));
    }
    condition.repairsThatDoNotHold -= 1;
  }
  if (failed.warning) {
    condition.buzzerDead = false;
    system.warningAt = Math.max(system.warningAt, between(random, 66, 74));
  }
  if (failed.buildup) condition.buildup = { base: 195, perYear: 20, since: day };
}

/** Names the successor in a test from its first day on, with its own odometer. */
function succeed(row, { successor }, perDay) {
  if (successor === undefined || row.day < dayNumber(successor.from)) return;
  row.unit = successor.unit;
  if (row.odometer !== null) row.odometer = Math.round(successor.odometer + perDay * (row.day - dayNumber(successor.from)));
}

/** All inspections of one unit and its successor: about every 90 days, and after each failure a repair and a retest, until it passes. */
function historyOf(unit, seed) {
  const random = streamFor(seed, unit.unit);
  const condition = newCondition(unit, random);
  const system = airSystem(unit, seed);
  const odometer = { at: Math.round(between(random, 60_000, 380_000)), perDay: between(random, 70, 240) };
  const rows = [];
  const test = (day, odd) => {
    breakDown(unit, condition, system, day);
    const row = inspect({ unit, condition, system, day, random, odd });
    row.odometer = unit.kind === 'trailer' || chance(random, 0.04) ? null : Math.round(odometer.at + odometer.perDay * (day - FIRST_DAY));
    succeed(row, unit, odometer.perDay);
    rows.push(row);
    return row;
  };
  const waitsFrom = unit.waitsFrom ? dayNumber(unit.waitsFrom) : Infinity;
  let routine = 0;
  for (let day = FIRST_DAY + Math.floor(between(random, 0, 88)); workday(day) <= LAST_DAY; day += 90 + Math.round(between(random, -11, 11))) {
    routine += 1;
    const odd = ODDITIES.find(([name, nth]) => name === unit.unit && nth === routine)?.[2];
    let row = test(workday(day), odd);
    while (anyFailure(row)) {
      const repairedOn = workday(row.day + 1 + Math.floor(between(random, 0, 8)));
      const retestedOn = workday(repairedOn + Math.floor(between(random, 0, 3)));
      if (retestedOn > LAST_DAY || row.day >= waitsFrom) {
        row.notes = [row.notes, 'parked, part on order'].filter(Boolean).join('; ');
        return rows;
      }
      row.repaired_on = isoDate(repairedOn);
      repair(row, { unit, condition, system, day: repairedOn, random });
      const retest = test(retestedOn);
      retest.retestOf = row;
      row = retest;
    }
  }
  return rows;
}

/**
 * The whole fleet: one record per inspection, by date, each cell as the text that stands in the clean file.
 *
 * @param {number} seed any whole number; the sample files are made from SEED
 * @returns {Record<string, string>[]} records that have every name of COLUMNS
 * @example makeFleet(SEED)[0].inspection_id // 'IN-0001'
 */
export function makeFleet(seed) {
  const rows = UNITS.flatMap((unit) => historyOf(unit, seed));
  rows.sort((a, b) => a.day - b.day || (a.unit < b.unit ? -1 : a.unit > b.unit ? 1 : 0));
  rows.forEach((row, index) => {
    row.inspection_id = `IN-${String(index + 1).padStart(4, '0')}`;
    row.inspected_on = isoDate(row.day);
    row.retest_of = row.retestOf?.inspection_id;
  });
  return rows.map((row) => Object.fromEntries(COLUMNS.map((name) => [name, cellText(name, row[name])])));
}

function cellText(name, value) {
  if (value === null || value === undefined) return '';
  return name.endsWith('_time') ? minutesSeconds(value) : String(value);
}

/** One CSV record as RFC 4180 has it, with its CRLF. */
function csvLine(cells) {
  return `${cells.map((cell) => (/[",\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell)).join(',')}\r\n`;
}

/**
 * The clean file: canonical column names, plain values.
 *
 * @param {Record<string, string>[]} fleet from makeFleet
 * @returns {string} CSV text
 */
export function cleanCsv(fleet) {
  return [COLUMNS, ...fleet.map((row) => COLUMNS.map((name) => row[name]))].map(csvLine).join('');
}

/** The columns of the messy file, each under the header that the office gave it. Two are of the office's own. */
const MESSY_COLUMNS = [
  ['Report no.', 'inspection_id'], ['Test date', 'inspected_on'], ['Truck No', 'unit'], ['Type of vehicle', 'vehicle_kind'], ['Number of vehicles', 'vehicles'],
  ['Yard', 'site'], ['Bay', 'bay'], ['INSPECTED BY', 'inspector'], ['Odo', 'odometer'], ['Unit of pressure', 'pressure_unit'], ['Graduation', 'gauge_step'], ['Readability', 'readable_to'],
  ['Cut-in', 'cut_in'], ['Cut-out', 'cut_out'], ['Build up from', 'buildup_from'], ['Build up to', 'buildup_to'], ['Time to build up', 'buildup_time'], ['RPM', 'engine_rpm'],
  ['Lamp on at', 'light_on_at'], ['Buzzer', 'buzzer_on_at'],
  ['Primary start (released)', 'released_primary_start'], ['Released primary finish', 'released_primary_end'], ['Secondary start released', 'released_secondary_start'], ['Released secondary finish', 'released_secondary_end'], ['Time released', 'released_time'],
  ['Applied primary begin', 'applied_primary_start'], ['applied primary end', 'applied_primary_end'], ['Applied secondary begin', 'applied_secondary_start'], ['applied secondary end', 'applied_secondary_end'], ['Settling time', 'applied_settle_time'], ['Time applied', 'applied_time'],
  ['Leak heard', 'audible_leak'], ['Leak location', 'leak_place'], ['Faults', 'defects'], ['Date repaired', 'repaired_on'], ['Reinspection of', 'retest_of'], ['record_kind', 'record_kind'], ['Remarks', 'notes'], ['Weather', 'weather'],
];

/** The messy file holds the sheets from this one on, so that every retest finds the failure it repeats. */
const FIRST_MESSY = 'IN-0232';
const BLANK_ROW_AFTER = 'IN-0251';
const HARD_SPACE = '\u00a0';

const PRESSURE_COLUMN = /^(gauge_step|readable_to|cut_|buildup_(from|to)$|(light|buzzer)_on_at|(released|applied)_(primary|secondary)_)/;

/** Four hands that typed the sheets: how each writes a date, a pressure, a time, an odometer, and a yes. */
const HANDS = [
  { date: (y, m, d) => `${d}/${m}/${y}`, pressure: (p, unit) => (unit === 'bar' ? p.replace('.', ',') : p), time: (s) => `${s} s`, odometer: (o) => o, yes: 'Y', no: 'N' },
  { date: (y, m, d) => `${Number(d)}/${Number(m)}/${y.slice(2)}`, pressure: (p, unit) => `${p}${HARD_SPACE}${unit}`, time: wholeMinutes, odometer: grouped(','), yes: 'yes', no: 'no', unitInCell: true },
  { date: (y, m, d) => `${d}.${m}.${y}`, pressure: (p, unit, name) => (/_end$/.test(name) ? `~${p}` : p), time: minutesSeconds, odometer: grouped(' '), yes: 'Yes', no: 'No' },
  { date: (y, m, d) => `${Number(d)} ${MONTHS[m - 1]} ${y}`, pressure: (p, unit) => `${p}${unit}`, time: letters, odometer: (o) => o, yes: 'x', no: 'none', unitInCell: true },
];
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sept', 'Oct', 'Nov', 'Dec'];

function wholeMinutes(seconds) {
  return seconds % 60 === 0 ? `${seconds / 60} min` : `${seconds} sec`;
}

function letters(seconds) {
  return seconds < 60 ? String(seconds) : `${Math.floor(seconds / 60)}m ${seconds % 60}s`;
}

function grouped(mark) {
  return (digits) => digits.replace(/(\d)(\d{3})$/, `$1${mark}$2`);
}

/** Single cells that were typed in some way of their own. Those with a problem are named so. */
const SLIPS = [
  ['IN-0234', 'released_primary_start', '?', 'problem: not readable on the paper'],
  ['IN-0237', 'released_secondary_start', '11O', 'problem: the letter O'],
  ['IN-0238', 'applied_primary_end', '1040', 'problem: a digit too many'],
  ['IN-0242', 'released_time', '1', 'problem: a second or a minute?'],
  ['IN-0244', 'inspection_id', 'IN-0238', 'problem: the retest got the number of the failure'],
  ['IN-0246', 'vehicle_kind', 'lorry', 'problem: not one of the kinds'],
  ['IN-0248', 'retest_of', 'IN-0424', 'problem: digits swapped, there is no such sheet'],
  ['IN-0249', 'cut_in', 'n/a', 'not tested'],
  ['IN-0249', 'cut_out', '-', 'not tested'],
  ['IN-0250', 'released_secondary_start', '116-118', 'a needle that trembles'],
  ['IN-0253', 'released_primary_start', '113 to 115', 'the same in words'],
  ['IN-0254', 'notes', '=see sheet of K-103', 'a text that a spreadsheet takes for a formula'],
  ['IN-0255', 'applied_settle_time', 'n/a', 'not tested'],
  ['IN-0256', 'buzzer_on_at', 'Never', 'the buzzer did not sound'],
  ['IN-0257', 'unit', '', 'problem: no unit'],
  ['IN-0258', 'audible_leak', 'ok', 'problem: no leak, or a leak that is small?'],
  ['IN-0259', 'inspected_on', '31 Sept 2026', 'problem: no such day'],
  ['IN-0260', 'released_primary_start', '\uff11\uff12\uff13', 'full-width digits'],
  ['IN-0260', 'released_secondary_start', '\uff11\uff12\uff11', 'full-width digits'],
  ['IN-0262', 'buzzer_on_at', 'none', 'problem: did not sound, or not tested?'],
  ['IN-0263', 'applied_time', 'about 1 min', 'an approximate time'],
  ['IN-0264', 'pressure_unit', 'KPA', 'the unit in capitals'],
  ['IN-0265', 'released_primary_end', 'approx. 110', 'an approximate pressure'],
  ['IN-0266', 'released_secondary_end', '745 / 740', 'problem: two needles in one cell'],
  ['IN-0270', 'buildup_time', '2.59', 'problem: decimals of a minute, or minutes and seconds?'],
];

/** A cell typed to the right of the last column. */
const BEYOND = ['IN-0261', 'hose ordered'];

/**
 * The messy file: the last sheets of the same fleet, as four people in an office typed them.
 *
 * @param {Record<string, string>[]} fleet from makeFleet(SEED)
 * @returns {string} CSV text with a byte order mark
 */
export function messyCsv(fleet) {
  const lines = [['Invented demo data - Nowhere Isle Carriers - brake test sheets as typed, July to October 2026'], [], MESSY_COLUMNS.map(([header]) => header)];
  const sheets = fleet.filter((row) => row.inspection_id >= FIRST_MESSY);
  for (const [index, row] of sheets.entries()) {
    const typed = { ...typeSheet(row, HANDS[index % HANDS.length]), bay: String(1 + (index % 3)), weather: ['dry', 'rain', 'wind, salt spray', ''][index % 4] };
    for (const [id, name, text] of SLIPS) if (id === row.inspection_id) typed[name] = text;
    const cells = MESSY_COLUMNS.map(([, name]) => typed[name]);
    if (row.inspection_id === BEYOND[0]) cells.push(BEYOND[1]);
    lines.push(cells);
    if (row.inspection_id === BLANK_ROW_AFTER) lines.push(MESSY_COLUMNS.map(() => ''));
  }
  return `\ufeff${lines.map(csvLine).join('')}`;
}

function typeSheet(row, hand) {
  const typed = {};
  for (const [name, text] of Object.entries(row)) typed[name] = text === '' ? '' : typeCell(name, text, row.pressure_unit, hand);
  if (hand.unitInCell) typed.pressure_unit = '';
  return typed;
}

function typeCell(name, text, unit, hand) {
  if (PRESSURE_COLUMN.test(name)) return hand.pressure(text, unit, name);
  if (name.endsWith('_on') && /^\d{4}-/.test(text)) return hand.date(...text.split('-'));
  if (name.endsWith('_time')) return hand.time(60 * Number(text.split(':')[0]) + Number(text.split(':')[1]));
  if (name === 'odometer') return hand.odometer(text);
  if (name === 'audible_leak') return hand[text];
  return text;
}

/** Writes both files into a folder. */
function writeFiles(folder) {
  const fleet = makeFleet(SEED);
  writeFileSync(join(folder, 'invented-fleet.csv'), cleanCsv(fleet));
  writeFileSync(join(folder, 'invented-fleet-messy.csv'), messyCsv(fleet));
}

const here = fileURLToPath(import.meta.url);
if (process.argv[1] !== undefined && resolve(process.argv[1]) === here) writeFiles(process.argv[2] ?? dirname(here));
