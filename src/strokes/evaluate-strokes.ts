import { isoDateToSerial } from '../readings/date-serial.js';
import { wilsonInterval } from '../statistics/wilson-interval.js';
import { roundHalfAway } from '../util/round-half-away.js';
import { evaluateChamber } from './evaluate-chamber.js';
import { strokeNumbers, type StrokeNumbers } from './stroke-numbers.js';
import type { StrokeResult } from './stroke-result.js';
import { NO_ENTRIES, type StrokeEntries, type StrokeEntry } from './stroke.js';
import { vehicleStrokes, type VehicleStrokes } from './vehicle-strokes.js';

/** What failed at one position, over all vehicles. */
export interface PositionStrokes {
  readonly position: string;
  /** Passes and fails. */
  readonly tested: number;
  readonly failed: number;
  /** Null when nothing was tested. */
  readonly rate: number | null;
  /** The 95 % Wilson interval of the rate. */
  readonly low: number | null;
  readonly high: number | null;
}

/** A table of strokes, evaluated. */
export interface StrokeEvaluation {
  /** One for each row, in order. */
  readonly chambers: readonly StrokeResult[];
  /** One for each vehicle and inspection, in order of first appearance. */
  readonly vehicles: readonly VehicleStrokes[];
  readonly positions: readonly PositionStrokes[];
}

/**
 * Holds pushrod strokes against their limits: a verdict with its reason for each chamber, the difference across each axle, the
 * share of brakes out of adjustment for each vehicle and inspection, and the fail rate by position.
 *
 * @param rows entries of one chamber each; what is left out is blank. Strokes and rated strokes are numbers in `stroke_unit`
 * @param numbers the limits; those that ship when left out
 * @example
 * evaluateStrokes([{ unit: 'K-101', position: '1L', chamber_size: '20', stroke: 2 }]).chambers[0].reason
 * // '2 in is 0.25 in past the limit of 1.75 in (clamp 20 standard); counts as one defective brake'
 */
export function evaluateStrokes(rows: readonly Partial<StrokeEntries>[], numbers: StrokeNumbers = strokeNumbers()): StrokeEvaluation {
  const all = rows.map((row): StrokeEntries => ({ ...NO_ENTRIES, ...row }));
  const keys = all.map(vehicleKey);
  const places = all.map(({ position }, index) => placeOf(position, keys[index]!));
  const alone = all.map((entries) => evaluateChamber(entries, numbers));
  const strokes = new Map<string, { readonly L: number[]; readonly R: number[] }>();
  const counts = new Map<string, number>();
  for (const [index, { pair, side }] of places.entries()) {
    if (side === '') continue;
    const place = `${pair}|${side}`.toLowerCase();
    counts.set(place, (counts.get(place) ?? 0) + 1);
    const ofPair = strokes.get(pair.toLowerCase()) ?? { L: [], R: [] };
    strokes.set(pair.toLowerCase(), ofPair);
    const stroke = alone[index]!.stroke_in;
    if (stroke !== null) ofPair[side].push(stroke);
  }
  const chambers = all.map((entries, index): StrokeResult => {
    const { pair, side } = places[index]!;
    const twice = side !== '' && counts.get(`${pair}|${side}`.toLowerCase())! > 1;
    const measured = alone[index]!.stroke_in !== null ? strokes.get(pair.toLowerCase()) : undefined;
    const across = measured?.L.length === 1 && measured.R.length === 1 ? roundHalfAway(Math.abs(measured.L[0]! - measured.R[0]!), 6) : null;
    return { ...(twice ? evaluateChamber(entries, numbers, true) : alone[index]!), vehicle: keys[index]!, pair, side, across_axle_in: across, twice };
  });
  return { chambers, vehicles: vehicleStrokes(all, chambers, numbers), positions: positionStrokes(all, chambers) };
}

/** What rows of one vehicle and inspection have in common. A date stands in it as the day's number, as in a sheet. */
function vehicleKey({ unit, inspected_on: on, inspection_id: id }: StrokeEntries): string {
  if (unit === null && on === null && id === null) return '';
  const day = typeof on === 'string' ? (isoDateToSerial(on) ?? on) : on;
  return [unit, day, id].map((part) => part ?? '').join('|');
}

/** Characters of a place behind the side, such as ` inner`, that are compared. */
export const LONGEST_PLACE = 20;

/** The side that a position ends in, before `inner` or `outer`, and what is left of it beside the vehicle. */
function placeOf(position: StrokeEntry, vehicle: string): { readonly pair: string; readonly side: 'L' | 'R' | '' } {
  const text = String(position ?? '').replace(/ +/g, ' ').replace(/^ | $/g, '').toLowerCase();
  const base = text.replaceAll(' inner', '').replaceAll(' outer', '');
  const side = base.slice(-1).toUpperCase();
  if (base.length < 2 || (side !== 'L' && side !== 'R')) return { pair: '', side: '' };
  return { pair: `${vehicle}|${base.slice(0, -1)}|${text.slice(base.length, base.length + LONGEST_PLACE)}`, side };
}

function positionStrokes(all: readonly StrokeEntries[], chambers: readonly StrokeResult[]): PositionStrokes[] {
  const found = new Map<string, { readonly position: string; tested: number; failed: number }>();
  for (const [index, { position }] of all.entries()) {
    if (position === null) continue;
    const key = String(position).toLowerCase();
    const counted = found.get(key) ?? { position: String(position), tested: 0, failed: 0 };
    found.set(key, counted);
    const { verdict } = chambers[index]!;
    if (verdict === 'pass' || verdict === 'fail') counted.tested += 1;
    if (verdict === 'fail') counted.failed += 1;
  }
  return [...found.values()].map(({ position, tested, failed }) => {
    const interval = wilsonInterval(failed, tested);
    return { position, tested, failed, rate: tested === 0 ? null : failed / tested, low: interval?.low ?? null, high: interval?.high ?? null };
  });
}
