import { roundHalfAway } from '../util/round-half-away.js';
import type { StrokeNumbers } from './stroke-numbers.js';
import type { StrokeResult } from './stroke-result.js';
import type { StrokeEntries, StrokeEntry } from './stroke.js';
import { VEHICLE_WORDS as SAY } from './stroke-words.js';

/** The brakes of one vehicle in one inspection. */
export interface VehicleStrokes {
  readonly unit: StrokeEntry;
  readonly inspected_on: StrokeEntry;
  readonly inspection_id: StrokeEntry;
  /** Brakes with a verdict on their stroke. */
  readonly measured: number;
  /** Past the limit by 1/4 in or more: one defective brake each. */
  readonly past_whole: number;
  /** Past it by less: half a defective brake each. */
  readonly past_half: number;
  readonly recheck: number;
  readonly not_tested: number;
  readonly defective: number;
  /** Of the brakes measured; null when none was. */
  readonly defective_share: number | null;
  readonly words: string;
}

/** Counts the brakes of each vehicle and inspection, in order of first appearance. */
export function vehicleStrokes(all: readonly StrokeEntries[], chambers: readonly StrokeResult[], numbers: StrokeNumbers): VehicleStrokes[] {
  const found = new Map<string, number[]>();
  for (const [index, { vehicle, verdict }] of chambers.entries()) {
    if (vehicle === '' || verdict === null) continue;
    const key = vehicle.toLowerCase();
    found.set(key, [...(found.get(key) ?? []), index]);
  }
  return [...found.values()].map((rows) => {
    const { unit, inspected_on, inspection_id } = all[rows[0]!]!;
    const count = (test: (chamber: StrokeResult) => boolean): number => rows.filter((row) => test(chambers[row]!)).length;
    const [past_whole, past_half] = [count(({ defective }) => defective === 1), count(({ defective }) => defective === 0.5)];
    const [recheck, not_tested] = [count(({ verdict }) => verdict === 'recheck'), count(({ verdict }) => verdict === 'not tested')];
    const measured = rows.length - not_tested;
    const defective = past_whole + past_half / 2;
    const share = measured === 0 ? null : defective / measured;
    const words = wordsOf(share, defective, recheck + not_tested, numbers.rules.out_of_service_share.value);
    return { unit, inspected_on, inspection_id, measured, past_whole, past_half, recheck, not_tested, defective, defective_share: share, words };
  });
}

function wordsOf(share: number | null, defective: number, undecided: number, outOfService: number | null): string {
  if (share === null) return SAY.none;
  const reached = outOfService !== null && outOfService > 0 && roundHalfAway(share, 6) >= outOfService;
  const said = reached ? SAY.outOfService : defective > 0 ? SAY.past : SAY.within;
  return undecided === 0 ? said : `${said}; ${undecided}${SAY.undecided}`;
}
