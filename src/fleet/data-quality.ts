import type { LimitPlan } from '../limits/compile-limit-set.js';
import { fieldPosition } from '../readings/dictionary.js';
import type { Entry } from '../readings/inspection.js';
import { chiSquaredTest } from '../statistics/chi-squared-test.js';
import { binomialTail } from '../statistics/binomial-tail.js';
import { funnelLimit } from '../statistics/funnel-limit.js';
import { fingerprint } from '../util/fingerprint.js';
import { digitsOf } from './expected-digits.js';
import type { Evaluation } from './evaluation.js';

/** What a question about the data is about. */
export type QuestionKind = 'same readings again' | 'same readings on another unit' | 'last digits' | 'short tests' | 'fail rate';

/** A question for a person about readings that look as if they were not taken. It accuses nobody: it gives the numbers and asks. */
export interface DataQuestion {
  readonly kind: QuestionKind;
  /** The unit or the inspector that it is about. */
  readonly about: string;
  readonly question: string;
  /** The rows of the input that it rests on, the first few. */
  readonly rows: readonly number[];
}

/** Fewest readings that must agree before a repeat is worth a question. */
const LEAST_READINGS = 6;
/** Fewest inspections of an inspector before a rate is worth a question. */
const LEAST_INSPECTIONS = 10;
/** How improbable the digits must be, and how far 0 and 5 beyond their expected share. */
const DIGITS = { p: 0.001, excess: 1.5 } as const;
/** The outer limits of the funnel: 99.8 %. */
const FUNNEL = { low: 0.001, high: 0.999 } as const;
/** The minute that every loss rule times, in seconds. */
const LOSS_MINUTE = 60;
const ROWS_SHOWN = 8;

interface Taken {
  readonly row: number;
  readonly unit: string;
  readonly on: string;
  /** Stands for all its pressures. */
  readonly readings: number;
  readonly count: number;
}

interface InspectorTally {
  readonly name: string;
  tested: number;
  failed: number;
  readonly failedRows: number[];
  readonly short: number[];
  timed: number;
  readonly digits: Map<string, { readonly possible: readonly number[]; readonly counts: Map<number, number>; readonly gauge: string }>;
}

/** Gathers what readings look like, one evaluation after the other, and asks about what is out of the ordinary. */
export class DataQuality {
  private readonly taken: Taken[] = [];
  private readonly inspectors = new Map<string, InspectorTally>();
  private readonly pressures: readonly number[];
  private readonly times: readonly number[];
  private readonly at: (name: string) => number;

  constructor(plan: LimitPlan) {
    const { dictionary } = plan;
    this.at = (name) => fieldPosition(dictionary, name);
    this.pressures = dictionary.fields.flatMap((field, position) => (field.kind === 'pressure' && field.spread ? [position] : []));
    this.times = ['released_time', 'applied_time'].map((name) => this.at(name));
  }

  /** Counts one inspection. */
  add({ inspection, verdict, unit, inspected_on, row }: Evaluation): void {
    const { values } = inspection;
    const readings = this.pressures.map((position) => values[position] ?? null);
    const count = readings.filter((reading) => reading !== null).length;
    if (unit !== null && inspected_on !== null) this.taken.push({ row, unit: unit.toLowerCase(), on: inspected_on, readings: fingerprint(readings), count });
    const name = values[this.at('inspector')];
    if (typeof name !== 'string') return;
    const tally = this.tallyOf(name);
    if (verdict === 'pass' || verdict === 'fail') tally.tested += 1;
    if (verdict === 'fail') {
      tally.failed += 1;
      tally.failedRows.push(row);
    }
    for (const position of this.times) {
      const seconds = values[position];
      if (typeof seconds !== 'number') continue;
      tally.timed += 1;
      if (seconds < LOSS_MINUTE) tally.short.push(row);
    }
    this.countDigits(tally, values, readings);
  }

  /** The questions, the surest kind first. */
  questions(): DataQuestion[] {
    const inspectors = [...this.inspectors.values()].sort((a, b) => (a.name < b.name ? -1 : 1));
    return [...this.repeats(), ...this.twins(), ...inspectors.flatMap((tally) => digitQuestions(tally)), ...inspectors.flatMap((tally) => shortQuestions(tally)), ...this.rateQuestions(inspectors)];
  }

  private tallyOf(name: string): InspectorTally {
    const key = name.toLowerCase();
    let tally = this.inspectors.get(key);
    if (!tally) this.inspectors.set(key, (tally = { name, tested: 0, failed: 0, failedRows: [], short: [], timed: 0, digits: new Map() }));
    return tally;
  }

  private countDigits(tally: InspectorTally, values: readonly Entry[], readings: readonly Entry[]): void {
    const unit = (values[this.at('pressure_unit')] as string | null) ?? 'psi';
    const digits = digitsOf(unit, values[this.at('gauge_step')] ?? null, values[this.at('readable_to')] ?? null);
    if (digits === null) return;
    const key = `${unit} ${digits.possible.join('')}`;
    let entry = tally.digits.get(key);
    if (!entry) tally.digits.set(key, (entry = { possible: digits.possible, counts: new Map(), gauge: digits.gauge }));
    for (const reading of readings) {
      if (typeof reading !== 'number') continue;
      const digit = Math.round(reading / digits.grid) % 10;
      if (Math.abs(reading / digits.grid - Math.round(reading / digits.grid)) < 1e-6 && digits.possible.includes(digit)) entry.counts.set(digit, (entry.counts.get(digit) ?? 0) + 1);
    }
  }

  private repeats(): DataQuestion[] {
    const byUnit = new Map<string, Taken[]>();
    for (const taken of this.taken) {
      const all = byUnit.get(taken.unit);
      if (all) all.push(taken);
      else byUnit.set(taken.unit, [taken]);
    }
    const questions: DataQuestion[] = [];
    for (const [, all] of byUnit) {
      all.sort((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : a.row - b.row));
      for (const [index, taken] of all.slice(1).entries()) {
        const before = all[index]!;
        if (taken.count < LEAST_READINGS || taken.readings !== before.readings || taken.on === before.on) continue;
        questions.push({ kind: 'same readings again', about: taken.unit.toUpperCase(), question: `All ${taken.count} pressures of ${taken.on} are those of ${before.on}. Were they read anew?`, rows: [before.row, taken.row] });
      }
    }
    return questions;
  }

  private twins(): DataQuestion[] {
    const byDay = new Map<string, Taken>();
    const questions: DataQuestion[] = [];
    for (const taken of this.taken) {
      if (taken.count < LEAST_READINGS) continue;
      const key = `${taken.on} ${taken.readings}`;
      const other = byDay.get(key);
      if (!other) byDay.set(key, taken);
      else if (other.unit !== taken.unit) questions.push({ kind: 'same readings on another unit', about: `${other.unit.toUpperCase()}, ${taken.unit.toUpperCase()}`, question: `Both have the same ${taken.count} pressures on ${taken.on}. Were both vehicles read?`, rows: [other.row, taken.row] });
    }
    return questions;
  }

  private rateQuestions(inspectors: readonly InspectorTally[]): DataQuestion[] {
    const tested = inspectors.reduce((sum, tally) => sum + tally.tested, 0);
    const failed = inspectors.reduce((sum, tally) => sum + tally.failed, 0);
    if (inspectors.length < 2 || failed === 0 || failed === tested) return [];
    const target = failed / tested;
    return inspectors.flatMap((tally): DataQuestion[] => {
      if (tally.tested < LEAST_INSPECTIONS) return [];
      const rate = tally.failed / tally.tested;
      const [low, high] = [funnelLimit(target, tally.tested, FUNNEL.low), funnelLimit(target, tally.tested, FUNNEL.high)];
      const { atLeast, atMost } = binomialTail(tally.failed, tally.tested, target);
      if (atLeast >= FUNNEL.low && atMost >= FUNNEL.low) return [];
      const side = atLeast < FUNNEL.low ? 'more' : 'fewer';
      return [
        {
          kind: 'fail rate',
          about: tally.name,
          question: `${tally.failed} of ${tally.tested} inspections failed (${percent(rate)}), ${side} than chance explains around the fleet's ${percent(target)} (funnel limits 99.8 %: ${percent(low)} to ${percent(high)}). Are the vehicles different, or the way of testing?`,
          rows: tally.failedRows.slice(0, ROWS_SHOWN),
        },
      ];
    });
  }
}

function digitQuestions(tally: InspectorTally): DataQuestion[] {
  return [...tally.digits.values()].flatMap(({ possible, counts, gauge }): DataQuestion[] => {
    const seen = possible.map((digit) => counts.get(digit) ?? 0);
    const total = seen.reduce((sum, count) => sum + count, 0);
    const test = chiSquaredTest(seen);
    if (test === null || test.p >= DIGITS.p) return [];
    const round = possible.reduce((sum, digit, index) => sum + (digit % 5 === 0 ? seen[index]! : 0), 0) / total;
    const expected = possible.filter((digit) => digit % 5 === 0).length / possible.length;
    if (round <= DIGITS.excess * expected) return [];
    return [
      {
        kind: 'last digits',
        about: tally.name,
        question: `Of ${total} readings on ${gauge}, ${percent(round)} end in 0 or 5, where about ${percent(expected)} would be expected (chi-squared ${test.statistic.toFixed(1)}, ${possible.length - 1} degrees of freedom, p ${test.p < 0.0001 ? 'below 0.0001' : test.p.toFixed(4)}). Are readings rounded, or estimated?`,
        rows: [],
      },
    ];
  });
}

function shortQuestions(tally: InspectorTally): DataQuestion[] {
  if (tally.short.length === 0) return [];
  return [{ kind: 'short tests', about: tally.name, question: `${tally.short.length} of ${tally.timed} loss tests were timed for less than a minute. Was there a reason to stop early?`, rows: tally.short.slice(0, ROWS_SHOWN) }];
}

function percent(share: number): string {
  return `${(100 * share).toFixed(1)} %`;
}
