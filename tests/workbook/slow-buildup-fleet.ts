import { evaluateReadings, type EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';

type Cells = Readonly<Record<string, string>>;

/** The loss with the brakes released in a minute, psi; the set `common-practice` allows 3. */
const released = (psi: number): Cells => ({ released_primary_start: '120', released_primary_end: String(120 - psi), released_time: '1:00' });
/** A build-up from 60 to 120 psi; the set allows 5 minutes. On a gauge that tells 1 psi apart. */
const test = (inspected_on: string, unit: string, buildup_time: string, psi: number, more: Cells = {}): Cells => ({ inspected_on, unit, site: 'Quay', vehicle_kind: 'truck', gauge_step: '1', buildup_from: '60', buildup_to: '120', buildup_time, ...released(psi), ...more });

/** 2:00 over 60 psi are 30 psi a minute, and 30 s over 15 psi; 6:00 are 10 psi a minute, and 90 s. So 20 psi a minute were lost. */
const [GOOD, SLOW] = ['2:00', '6:00'];

/** A made-up fleet of units whose build-up became slow, each for another reason. */
export const SLOW_BUILDUP_ROWS: readonly Cells[] = [
  test('2026-01-05', 'WHOLLY', GOOD, 0),
  test('2026-03-14', 'WHOLLY', SLOW, 20),
  test('2026-01-05', 'PARTLY', GOOD, 0),
  test('2026-03-13', 'PARTLY', SLOW, 12, { leak_place: 'glad hand' }),
  test('2026-01-05', 'HARDLY', GOOD, 0),
  test('2026-03-12', 'HARDLY', SLOW, 4),
  test('2026-01-05', 'NOT', GOOD, 1),
  test('2026-03-11', 'NOT', SLOW, 1),
  // 5 psi a minute before the repair and 0 after: it took effect, and what was good before it is no measure for what is slow after.
  test('2026-01-05', 'REPAIRED', GOOD, 5),
  test('2026-03-10', 'REPAIRED', SLOW, 0, { repaired_on: '2026-02-01' }),
  // No earlier test.
  test('2026-03-09', 'NEW', SLOW, 12),
  // Slower than it was, and nothing fails.
  test('2026-01-05', 'WITHIN', GOOD, 0),
  test('2026-03-08', 'WITHIN', '3:00', 2),
];

const facts = (now: string, seconds = 90): string => `Build-up brought to 85 to 100 psi took ${seconds} s on ${now}, and 30 s on 2026-01-05: `;

/** What is to be said of each unit, by conservation of air: what was lost of the rise is delivery lost and leak gained. */
export const SAID: Readonly<Record<string, string | null>> = {
  WHOLLY: `${facts('2026-03-14')}the leak explains all of the slow build-up; mend it first, then time again.`,
  PARTLY: `${facts('2026-03-13')}the leak explains 60 % of the slow build-up; mend it first, then time again.`,
  HARDLY: `${facts('2026-03-12')}the leak explains only 20 % of the slow build-up; look at the compressor, its drive and its intake as well.`,
  NOT: `${facts('2026-03-11')}the leak does not explain the slow build-up; look at the compressor, its drive and its intake.`,
  REPAIRED: null,
  NEW: null,
  WITHIN: `${facts('2026-03-08', 45)}the leak explains only 20 % of the slow build-up; look at the compressor, its drive and its intake as well.`,
};

/** The units with an open failure. */
export const OPEN_UNITS: readonly string[] = ['WHOLLY', 'PARTLY', 'HARDLY', 'NOT', 'REPAIRED', 'NEW'];

/** The fleet, evaluated against the set `common-practice`. */
export function slowBuildupFleet(): Promise<EvaluatedFleet> {
  const header = [...new Set(SLOW_BUILDUP_ROWS.flatMap((cells) => Object.keys(cells)))];
  const csv = [header, ...SLOW_BUILDUP_ROWS.map((cells) => header.map((name) => cells[name] ?? ''))].map((cells) => cells.join(',')).join('\n');
  return evaluateReadings(Buffer.from(csv), { limits: 'common-practice' });
}
