import { quantile } from '../statistics/quantile.js';
import { LowerCaseKeys } from '../util/lower-case-keys.js';
import type { Evaluation } from './evaluation.js';
import { FailRateCounter, type FailRateCounts } from './fail-rate-counter.js';
import type { PeriodSummary } from './period-summary.js';

/** The measures whose median and 90th percentile a period tells. */
const MEASURED = ['released_loss', 'applied_loss', 'buildup_time'] as const;

type Measured = (typeof MEASURED)[number];

/** What a tally has gathered. */
export interface DayTallyState {
  readonly inspections: number;
  readonly rate: FailRateCounts;
  readonly units: ReadonlySet<string>;
  readonly values: Readonly<Record<Measured, readonly number[]>>;
}

/** Gathers the inspections of one day; tallies of days are merged into those of longer periods. */
export class DayTally {
  private inspections = 0;
  private readonly rate = new FailRateCounter();
  private readonly units = new Set<string>();
  private readonly values: Readonly<Record<Measured, number[]>> = { released_loss: [], applied_loss: [], buildup_time: [] };

  /** @param keys shared by the tallies of many days, so that each name of a unit is kept once */
  constructor(private readonly keys = new LowerCaseKeys()) {}

  add({ unit, verdict, measures }: Evaluation): void {
    this.inspections += 1;
    this.rate.add(verdict);
    if (unit !== null) this.units.add(this.keys.of(unit));
    for (const measure of MEASURED) {
      const value = measures[measure];
      if (typeof value === 'number') this.values[measure].push(value);
    }
  }

  /** What was gathered so far, for another tally to merge; it is not copied. */
  state(): DayTallyState {
    return { inspections: this.inspections, rate: this.rate.counts(), units: this.units, values: this.values };
  }

  /** Adds what another one gathered. */
  merge(other: DayTallyState): void {
    this.inspections += other.inspections;
    this.rate.merge(other.rate);
    for (const unit of other.units) this.units.add(this.keys.of(unit));
    for (const measure of MEASURED) for (const value of other.values[measure]) this.values[measure].push(value);
  }

  result(): Omit<PeriodSummary, 'period' | 'from' | 'to'> {
    const { released_loss, applied_loss, buildup_time } = this.values;
    return {
      inspections: this.inspections,
      units: this.units.size,
      ...this.rate.result(),
      released_loss_median: quantile(released_loss, 0.5),
      released_loss_p90: quantile(released_loss, 0.9),
      applied_loss_median: quantile(applied_loss, 0.5),
      applied_loss_p90: quantile(applied_loss, 0.9),
      buildup_time_median: quantile(buildup_time, 0.5),
      buildup_time_p90: quantile(buildup_time, 0.9),
    };
  }
}
