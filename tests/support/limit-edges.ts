import { expect, it } from 'vitest';
import { evaluateRow, shippedPlan, verdictOf, type Row } from './evaluate-rows.js';

// Pounds per square inch in kilopascals: NIST SP 811 (2008), Appendix B, to the digits of a double.
export const KPA_PER_PSI = 6.894757293168361;

/** A unit that a gauge may be marked in. */
export type Gauge = 'psi' | 'kPa' | 'bar';
/** Pressures of one psi on each gauge. */
export const PER_PSI: Readonly<Record<Gauge, number>> = { psi: 1, kPa: KPA_PER_PSI, bar: KPA_PER_PSI / 100 };
/** psi, or seconds, in one of the units that limits are printed in. */
const IN_BASE = { psi: 1, kPa: 1 / KPA_PER_PSI, bar: 100 / KPA_PER_PSI, MPa: 1000 / KPA_PER_PSI, s: 1, min: 60, share: 1, count: 1 } as const;
/** A unit that a limit is printed in. */
export type PrintedUnit = keyof typeof IN_BASE;

type Verdict = 'pass' | 'fail' | 'recheck' | 'not tested';

/** A printed limit, and what a reading just below, at and just above it means. */
export interface Edge {
  readonly set: string;
  readonly check: string;
  /** The words of the source, which decide the verdict at the edge. */
  readonly printed: string;
  readonly citation: string;
  readonly limit: number;
  readonly unit: PrintedUnit;
  /** Below, at, above. */
  readonly sides: readonly [Verdict, Verdict, Verdict];
  /** A row of readings whose measure is so many psi (lost over the window of the rule), seconds or whatever the unit is. */
  readonly row: (value: number, gauge: Gauge) => Row;
}

/** "or less", "exceeds = reject", "falls more than = fail", "within": the limit itself passes. */
export const ceiling = ['pass', 'pass', 'fail'] as const;
/** "less than", "prior to reaching": the limit itself fails. */
export const openCeiling = ['pass', 'fail', 'fail'] as const;
/** "lower than = reject", "at least", "not below": the limit itself passes. */
export const floor = ['fail', 'pass', 'pass'] as const;
/** "before falling to": the limit itself fails. */
export const openFloor = ['fail', 'fail', 'pass'] as const;
/** "usually", "about", "approximately": advice, never a failure. */
export const usualFloor = ['recheck', 'pass', 'pass'] as const;
export const usualCeiling = ['pass', 'pass', 'recheck'] as const;

export const digits = (value: number): string => value.toFixed(10);

/** One pressure reading, with the rest of the row in the same unit. */
export const reading = (name: string, more: Readonly<Record<string, number>> = {}, others: Row = {}) => (psi: number, gauge: Gauge): Row => ({
  ...Object.fromEntries(Object.entries({ ...more, [name]: psi }).map(([field, value]) => [field, digits(value * PER_PSI[gauge])])),
  ...others,
  pressure_unit: gauge,
});

/** A loss of so many psi over the seconds of the rule. */
export const loss = (test: 'released' | 'applied', vehicles = 1, seconds = 60, start = 110) => (psi: number, gauge: Gauge): Row => ({
  ...reading(`${test}_primary_end`, { [`${test}_primary_start`]: start })(start - psi, gauge),
  [`${test}_time`]: `${seconds} s`,
  vehicles,
});

/** A time. */
export const seconds = (name: string, more: Row = {}) => (time: number): Row => ({ [name]: `${Math.round(time * 100) / 100} s`, ...more });

/** A build-up between two pressures in psi. */
export const buildup = (from: number, to: number, more: Row = {}) => seconds('buildup_time', { buildup_from: digits(from), buildup_to: digits(to), ...more });

/** A count. */
export const count = (name: string) => (value: number): Row => ({ [name]: value });

/** The smallest step that a reading can be off a limit by. */
function stepOf(unit: PrintedUnit): number {
  if (unit === 'count') return 1;
  if (unit === 'min') return 1 / 60;
  return unit === 's' ? 1 : unit === 'MPa' ? 0.0001 : unit === 'share' ? 0.001 : 0.01;
}

/** The gauges that an edge is tried on. */
function gaugesOf(unit: PrintedUnit): readonly Gauge[] {
  return unit === 's' || unit === 'min' || unit === 'count' || unit === 'share' ? ['psi'] : ['psi', 'kPa', 'bar'];
}

/** The rows of an edge: below, at and above it, on every gauge. */
export function rowsOfEdge(edge: Edge): Row[] {
  const values = [-1, 0, 1].map((side) => (edge.limit + side * stepOf(edge.unit)) * IN_BASE[edge.unit]);
  return gaugesOf(edge.unit).flatMap((gauge) => values.map((value) => edge.row(value, gauge)));
}

/** Tests every edge below, at and above it, on gauges of every unit. */
export function testEdges(edges: readonly Edge[]): void {
  const cases = edges.flatMap((edge) => gaugesOf(edge.unit).map((gauge) => [edge.set, edge.check, edge.printed, gauge, edge] as const));
  it.each(cases)('%s, %s: %s (%s)', async (set, check, _printed, gauge, edge) => {
    const plan = shippedPlan(set);
    const base = (value: number): number => value * IN_BASE[edge.unit];
    const step = stepOf(edge.unit);
    const found: (string | null)[] = [];
    for (const value of [edge.limit - step, edge.limit, edge.limit + step]) found.push(await verdictOf(plan, check, edge.row(base(value), gauge)));
    expect(found).toStrictEqual([...edge.sides]);
    const result = (await evaluateRow(plan, edge.row(base(edge.limit), gauge))).checks.find((one) => one.check === check)!;
    expect(result.citation).toBe(edge.citation);
    // The limit that is named is the one printed, in its own unit or in that of the measure.
    const limits = [result.limit].flat().filter((limit) => typeof limit === 'number');
    const perMinute = base(edge.limit) / minutesHeld(edge.row(1, 'psi'));
    expect(limits.some((limit) => Math.abs(limit - edge.limit) < 1e-9 || Math.abs(limit - perMinute) < 1e-9), `limit ${String(result.limit)}`).toBe(true);
  });
}

/** Minutes over which a loss was timed; 1 for what is no loss. */
function minutesHeld(row: Row): number {
  const time = Object.entries(row).find(([name]) => /^(released|applied|suspension)_time$/.test(name))?.[1];
  return time === undefined ? 1 : Number(String(time).replace(' s', '')) / 60;
}

/** A check whose answer must be yes or no, or that has no number, and rows with the verdict of each. */
export interface Answer {
  readonly set: string;
  readonly check: string;
  readonly citation: string;
  readonly rows: readonly (readonly [Row, string])[];
}

/** Tests the checks that have no edge. */
export function testAnswers(answers: readonly Answer[]): void {
  it.each(answers.map((answer) => [answer.set, answer.check, answer] as const))('%s, %s', async (set, check, { rows, citation }) => {
    const plan = shippedPlan(set);
    for (const [row, verdict] of rows) {
      const result = (await evaluateRow(plan, row)).checks.find((one) => one.check === check);
      expect([row, result?.verdict ?? null]).toStrictEqual([row, verdict]);
      expect(result!.citation).toBe(citation);
    }
  });
}

/** A condition of a set: rows outside and inside it, and the verdict of each. */
export interface ConditionCase {
  readonly set: string;
  readonly check: string;
  /** The condition as the source has it. */
  readonly printed: string;
  readonly rows: readonly (readonly [Row, string])[];
}

/** Tests the conditions of tests. */
export function testConditions(conditions: readonly ConditionCase[]): void {
  it.each(conditions.map((condition) => [condition.set, condition.check, condition.printed, condition] as const))('%s, %s: %s', async (set, check, _printed, { rows }) => {
    const plan = shippedPlan(set);
    for (const [row, verdict] of rows) expect([row, await verdictOf(plan, check, row)]).toStrictEqual([row, verdict]);
  });
}

/** A loss timed for less than the minute, and for the whole of it. */
export function minuteOf(set: string, check: string, test: 'released' | 'applied', vehicles = 1, printed = '(in 1 min)'): ConditionCase {
  const at = (time: number): Row => loss(test, vehicles, time)(0.5, 'psi');
  return { set, check, printed, rows: [[at(59), 'recheck'], [at(60), 'pass'], [at(90), 'pass']] };
}

/**
 * The span of a build-up: what covers a part of it proves no pass, what covers more of it proves no fault.
 *
 * @param at the longest time that passes, in seconds
 */
export function spanOf(set: string, check: string, printed: string, from: number, to: number, at: number, more: Row = {}): ConditionCase {
  const run = (start: number, end: number, time: number): Row => buildup(start, end, more)(time);
  return {
    set, check, printed,
    rows: [
      [run(from, to, at), 'pass'], [run(from, to, at + 1), 'fail'],
      [run(from + 0.1, to, at), 'recheck'], [run(from, to - 0.1, at), 'recheck'], [run(from + 0.1, to, at + 1), 'fail'],
      [run(from - 0.1, to, at), 'pass'], [run(from - 0.1, to, at + 1), 'recheck'], [run(from, to + 0.1, at + 1), 'recheck'],
      [run(from + 1, to + 1, at), 'recheck'], [run(from + 1, to + 1, at + 1), 'recheck'],
    ],
  };
}
