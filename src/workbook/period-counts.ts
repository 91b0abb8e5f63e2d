import type { Evaluation } from '../fleet/evaluation.js';

/** How many inspections lie in a period and how many do not; together they are all. */
export interface PeriodCounts {
  readonly inside: number;
  readonly before: number;
  readonly after: number;
  readonly undated: number;
  /** The first and the last date of all inspections, `yyyy-mm-dd`; null when none has a date. */
  readonly first: string | null;
  readonly last: string | null;
}

/** The ends of a period, `yyyy-mm-dd`, both inclusive; null is open. */
export interface OpenPeriod {
  readonly from: string | null;
  readonly to: string | null;
}

/** Whether trend and rates count an inspection: one without a date only where the period is open at both ends. */
export function isCounted({ inspected_on: on }: Pick<Evaluation, 'inspected_on'>, { from, to }: OpenPeriod): boolean {
  return on === null ? from === null && to === null : (from === null || on >= from) && (to === null || on <= to);
}

/** Counts inspections by where their date lies, one after the other. */
export class PeriodCounter {
  private counts = { inside: 0, before: 0, after: 0, undated: 0 };
  private first: string | null = null;
  private last: string | null = null;

  constructor(private readonly period: OpenPeriod) {}

  add({ inspected_on: on }: Pick<Evaluation, 'inspected_on'>): void {
    const { from, to } = this.period;
    this.counts[on === null ? 'undated' : from !== null && on < from ? 'before' : to !== null && on > to ? 'after' : 'inside'] += 1;
    if (on === null) return;
    if (this.first === null || on < this.first) this.first = on;
    if (this.last === null || on > this.last) this.last = on;
  }

  /** Adds what another one counted of the same period. */
  merge({ first, last, ...counts }: PeriodCounts): void {
    for (const where of ['inside', 'before', 'after', 'undated'] as const) this.counts[where] += counts[where];
    if (first !== null && (this.first === null || first < this.first)) this.first = first;
    if (last !== null && (this.last === null || last > this.last)) this.last = last;
  }

  result(): PeriodCounts {
    return { ...this.counts, first: this.first, last: this.last };
  }
}

/**
 * Counts inspections by where their date lies.
 *
 * @param period `yyyy-mm-dd`, both inclusive; null is open
 */
export function periodCounts(evaluations: Iterable<Pick<Evaluation, 'inspected_on'>>, period: OpenPeriod): PeriodCounts {
  const counter = new PeriodCounter(period);
  for (const evaluation of evaluations) counter.add(evaluation);
  return counter.result();
}
