import type { TestContext } from 'vitest';
import { evaluateReadings, type EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import { computedAfterTyping, type TypedTable } from './type-into-blank.js';

type Cells = Readonly<Record<string, string>>;

/** A test of the loss with the brakes released: so many psi in a minute; the set `common-practice` allows 3. */
const lost = (psi: number): Cells => ({ released_primary_start: '104', released_primary_end: String(104 - psi), released_time: '1:00' });
/** A test of the loss that cannot be decided: half a minute is too short. */
const tooShort: Cells = { released_primary_start: '104', released_primary_end: '103', released_time: '0:30' };
/** The low-air warning came on at so many psi; the set asks for 60 or more. */
const warned = (psi: number): Cells => ({ light_on_at: String(psi), buzzer_on_at: String(psi) });
const row = (inspected_on: string, unit: string, ...cells: readonly Cells[]): Cells => Object.assign({ inspected_on, unit, site: 'Quay', vehicle_kind: 'truck' }, ...cells) as Cells;

/** A made-up fleet in which every rule of the follow-up decides something. Its latest day is 2026-03-20. */
export const FOLLOW_UP_ROWS: readonly Cells[] = [
  // Repaired and passed again on one day: closed.
  row('2026-03-01', 'A-1', lost(6), { inspection_id: 'a1', repaired_on: '2026-03-01' }),
  row('2026-03-01', 'A-1', lost(2), { inspection_id: 'a2', retest_of: 'a1' }),
  // A failure without a date, or with one that cannot be read, opens nothing.
  row('', 'A-2', lost(6)),
  row('yesterday', 'A-2', lost(6), { repaired_on: 'soon' }),
  row('2026-03-02', 'A-2', lost(3)),
  // One unit in two spellings: failed, passed, failed.
  row('2026-02-01', 'B-3', lost(6)),
  row('2026-02-05', 'b-3', lost(1)),
  row('2026-03-10', 'b-3', lost(4), { leak_place: 'glad hand', site: 'Mill' }),
  // Two checks open, the second found while the first was not tested.
  row('2026-01-10', 'C-4', lost(5), { leak_place: 'dash valve' }),
  row('2026-01-20', 'C-4', warned(50)),
  // What cannot be decided closes nothing, and is no failure of its own.
  row('2026-02-02', 'D-5', lost(4)),
  row('2026-02-10', 'D-5', tooShort),
  // Failed twice and repaired since; a repair after the day counted to does not count yet.
  row('2026-01-05', 'E-6', lost(9), { inspection_id: 'e1' }),
  row('2026-02-05', 'E-6', lost(5), { repaired_on: '2026-02-07', leak_place: 'tank drain' }),
  row('2026-01-06', 'F-7', lost(2), { repaired_on: '2027-01-01' }),
  // In the table the pass stands above the failure that it closes.
  row('2026-03-15', 'G-8', lost(1)),
  row('2026-03-01', 'G-8', lost(8), { repaired_on: '2026-03-14' }),
  // Due a year after the latest; the last of February is clipped.
  row('2025-01-31', 'H-9', lost(1)),
  row('2024-02-29', 'H-10', lost(1)),
  // The retest on the day of the repair failed: it awaits a repair, not a retest.
  row('2026-02-01', 'I-11', lost(6), { inspection_id: 'i1', repaired_on: '2026-02-03' }),
  row('2026-02-03', 'I-11', lost(4.5), { retest_of: 'i1' }),
  // Names that spreadsheet programs take for patterns or for one number.
  row('2026-03-19', '<5', lost(9), { repaired_on: '2026-03-19' }),
  row('2026-03-19', 'K*', lost(6)),
  row('2026-03-18', 'K9', lost(2)),
  row('2026-03-17', '007', lost(6)),
  row('2026-03-18', '007', lost(1)),
  row('2026-03-18', '7', lost(2)),
  row('2026-03-18', 'Unit', lost(1), { vehicle_kind: 'lorry' }),
  // The loss was not tested on the latest day: its share is of the day before.
  row('2026-03-19', 'L-12', lost(2.4)),
  row('2026-03-20', 'L-12', warned(70)),
];

/** What is to be found of a unit, by the rules of the follow-up, worked out by hand. Shares in parts of the limit. */
export interface FollowUp {
  readonly to_do: string;
  readonly open_since?: string;
  readonly days_open?: number;
  readonly checks?: string;
  readonly next_due: string;
  readonly overdue?: number;
  readonly share_now: number;
  readonly share_on?: string;
  readonly repaired?: string;
  readonly before?: number;
  readonly after?: number;
}

const RELEASED = 'Loss, brakes released';

/** By unit; the days open are counted to 2026-03-20. */
export const FOLLOW_UP: Readonly<Record<string, FollowUp>> = {
  'A-1': { to_do: '', next_due: '2027-03-01', share_now: 2 / 3, repaired: '2026-03-01', before: 2, after: 2 / 3 },
  'A-2': { to_do: '', next_due: '2027-03-02', share_now: 1 },
  'B-3': { to_do: 'open failure, 10 days', open_since: '2026-03-10', days_open: 10, checks: RELEASED, next_due: '2027-03-10', share_now: 4 / 3 },
  'C-4': { to_do: 'open failure, 69 days', open_since: '2026-01-10', days_open: 69, checks: `${RELEASED}; Low-air warning`, next_due: '2027-01-20', share_now: 5 / 3, share_on: '2026-01-10' },
  'D-5': { to_do: 'open failure, 46 days', open_since: '2026-02-02', days_open: 46, checks: RELEASED, next_due: '2027-02-10', share_now: 4 / 3, share_on: '2026-02-02' },
  'E-6': { to_do: 'open failure, 74 days; repaired, retest it', open_since: '2026-01-05', days_open: 74, checks: RELEASED, next_due: '2027-02-05', share_now: 5 / 3, repaired: '2026-02-07', before: 5 / 3 },
  'F-7': { to_do: '', next_due: '2027-01-06', share_now: 2 / 3 },
  'G-8': { to_do: '', next_due: '2027-03-15', share_now: 1 / 3, repaired: '2026-03-14', before: 8 / 3, after: 1 / 3 },
  'H-9': { to_do: 'overdue 48 days', next_due: '2026-01-31', overdue: 48, share_now: 1 / 3 },
  'H-10': { to_do: 'overdue 385 days', next_due: '2025-02-28', overdue: 385, share_now: 1 / 3 },
  'I-11': { to_do: 'open failure, 47 days', open_since: '2026-02-01', days_open: 47, checks: RELEASED, next_due: '2027-02-03', share_now: 1.5, repaired: '2026-02-03', before: 2, after: 1.5 },
  '<5': { to_do: 'open failure, 1 day; repaired, retest it', open_since: '2026-03-19', days_open: 1, checks: RELEASED, next_due: '2027-03-19', share_now: 3, repaired: '2026-03-19', before: 3 },
  'K*': { to_do: 'open failure, 1 day', open_since: '2026-03-19', days_open: 1, checks: RELEASED, next_due: '2027-03-19', share_now: 2 },
  K9: { to_do: '', next_due: '2027-03-18', share_now: 2 / 3 },
  '007': { to_do: '', next_due: '2027-03-18', share_now: 1 / 3 },
  '7': { to_do: '', next_due: '2027-03-18', share_now: 2 / 3 },
  Unit: { to_do: '', next_due: '2027-03-18', share_now: 1 / 3 },
  'L-12': { to_do: '', next_due: '2027-03-20', share_now: 0.8, share_on: '2026-03-19' },
};

/** What Open work lists, the longest open first; of those open since one day the unit that stands first on Units. */
export const OPEN_ROWS: readonly { readonly unit: string; readonly site: string; readonly last_failed: string; readonly leak_place: string | null; readonly repaired: string | null }[] = [
  { unit: 'E-6', site: 'Quay', last_failed: '2026-02-05', leak_place: 'tank drain', repaired: '2026-02-07: awaits its retest' },
  { unit: 'C-4', site: 'Quay', last_failed: '2026-01-20', leak_place: null, repaired: null },
  { unit: 'I-11', site: 'Quay', last_failed: '2026-02-03', leak_place: null, repaired: null },
  { unit: 'D-5', site: 'Quay', last_failed: '2026-02-02', leak_place: null, repaired: null },
  { unit: 'B-3', site: 'Mill', last_failed: '2026-03-10', leak_place: 'glad hand', repaired: null },
  { unit: '<5', site: 'Quay', last_failed: '2026-03-19', leak_place: null, repaired: '2026-03-19: awaits its retest' },
  { unit: 'K*', site: 'Quay', last_failed: '2026-03-19', leak_place: null, repaired: null },
];

/** The fleet, evaluated against the set `common-practice`. */
export function followUpFleet(rows: readonly Cells[] = FOLLOW_UP_ROWS): Promise<EvaluatedFleet> {
  const header = [...new Set(rows.flatMap((cells) => Object.keys(cells)))];
  const csv = [header, ...rows.map((cells) => header.map((name) => cells[name] ?? ''))].map((cells) => cells.join(',')).join('\n');
  return evaluateReadings(Buffer.from(csv), { limits: 'common-practice' });
}

/** A blank workbook into which the fleet was typed, as LibreOffice saved it after computing. */
export function typedFollowUp(context: TestContext, rows: readonly Cells[] = FOLLOW_UP_ROWS): Promise<Uint8Array> {
  const { limits, rows: typed } = followUpTable(rows);
  return computedAfterTyping(context, limits, typed);
}

/** The fleet as it is typed into a blank workbook. */
export function followUpTable(rows: readonly Cells[]): TypedTable {
  const isPressure = (name: string): boolean => /(_start|_end|_on_at)$/.test(name);
  return { limits: 'common-practice', rows: rows.map((cells) => Object.fromEntries(Object.entries(cells).map(([name, text]) => [name, isPressure(name) && text !== '' ? Number(text) : text]))) };
}
